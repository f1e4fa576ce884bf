package storetest_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store/storetest"
)

func TestInvented(t *testing.T) {
	const n = 3000
	a := storetest.Invented(n, 1)
	if d := cmp.Diff(a, storetest.Invented(n, 1)); d != "" {
		t.Errorf("not the same for the same seed:\n%s", d)
	}
	if cmp.Equal(a[:5], storetest.Invented(5, 2)) {
		t.Error("the same for another seed")
	}
	uids, numbers := map[string]bool{}, map[string]bool{}
	for _, f := range a {
		c := f.Clock
		uids[c.UID], numbers[job.NumberKey(c.Number)] = true, true
		if faults := c.Check(); len(faults) > 0 || !c.Invented || c.Owner.Note != "invented" {
			t.Fatalf("%s: %v; it must say that it is invented", c.Number, faults)
		}
		for key, p := range f.Survey {
			if faults := p.Check(key); len(faults) > 0 {
				t.Fatalf("%s: %v", c.Number, faults)
			}
		}
	}
	if len(uids) != n || len(numbers) != n {
		t.Errorf("%d identifiers and %d numbers for %d clocks", len(uids), len(numbers), n)
	}
}
