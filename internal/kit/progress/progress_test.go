package progress

import (
	"testing"
)

func TestCounter(t *testing.T) {
	var none *Counter
	none.Expect(3)
	none.Add(1)
	none.Find(1)
	if d, of := none.Sample(); d != 0 || of != 0 || none.Found() != 0 || none.Share() != 0 {
		t.Error("a nil counter keeps something")
	}
	var c Counter
	c.Add(2)
	if c.Share() != 0 {
		t.Errorf("a share of %g of what has no size", c.Share())
	}
	c.Expect(8)
	c.Find(5)
	if c.Share() != 0.25 || c.Found() != 5 {
		t.Errorf("share %g, found %d", c.Share(), c.Found())
	}
}

// Work hands over only when it is asked, and what was handed over stays.
func TestGlimpse(t *testing.T) {
	var none *Glimpse[int]
	none.Give(1)
	if none.Asked() {
		t.Error("a nil glimpse asks")
	}
	var g Glimpse[int]
	if g.Asked() {
		t.Error("it asks though nobody looks")
	}
	if v := g.Look(); v != nil || !g.Asked() {
		t.Errorf("%v was handed over; asked %v", v, g.Asked())
	}
	g.Give(7)
	if g.Asked() {
		t.Error("it asks for what it has")
	}
	if v := g.Look(); v == nil || *v != 7 || !g.Asked() {
		t.Errorf("%v, want 7, and to be asked for the next", v)
	}
}
