package identify

import (
	"math"
	"testing"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// A pin of 4 mm, m6 (+12/+4 µm), in a hole H7 (+12/0): from 12 µm driven in to
// 8 µm of play.
func TestPinInItsHole(t *testing.T) {
	a, err := Solve(Query{What: Pin, Diameter: meas.OfU(unit.Millimetres(4.01), unit.Millimetres(0.003))})
	if err != nil {
		t.Fatal(err)
	}
	c := a.Candidates[0]
	for _, f := range c.Fits {
		if f.Hole != "H7" {
			continue
		}
		if c.Gauge.Size != "4" || math.Abs(float64(f.Tightest)+12e-6) > 1e-12 || math.Abs(float64(f.Loosest)-8e-6) > 1e-12 || math.Abs(float64(f.Most)-12e-6) > 1e-12 {
			t.Errorf("%s: %+v", c.Name, f)
		}
		return
	}
	t.Errorf("%s has no hole: %+v", c.Name, c.Fits)
}

// Classes of one grade are as wide as each other in a range of sizes.
func TestGradesAreAsWide(t *testing.T) {
	wide := map[[2]any]float64{}
	for _, x := range tolerances() {
		if !(x.upper > x.lower) {
			t.Errorf("%+v", x)
		}
		key := [2]any{x.class[len(x.class)-1], x.to}
		if w, ok := wide[key]; ok && w != x.upper-x.lower {
			t.Errorf("%s to %g mm is %g µm wide, another %g", x.class, x.to, x.upper-x.lower, w)
		}
		wide[key] = x.upper - x.lower
	}
	if len(wide) < 9 {
		t.Errorf("%d grades and ranges", len(wide))
	}
}
