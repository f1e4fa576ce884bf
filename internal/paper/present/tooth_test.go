package present

import (
	"math"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

func toCut(t *testing.T, q tooth.Query) doc.Doc {
	t.Helper()
	a, err := tooth.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return Tooth(a)
}

func TestToothGolden(t *testing.T) {
	pair := tooth.Query{Wheel: 60, Leaves: 8, WheelOutside: meas.OfU(unit.Millimetres(50.35), unit.Millimetres(0.05)), Distance: meas.OfU(unit.Millimetres(27.2), unit.Millimetres(0.1))}
	pins := tooth.Query{Wheel: 80, Leaves: 8, Form: tooth.LanternOf, Module: meas.Of(unit.Millimetres(0.6)), Hole: meas.Of(unit.Millimetres(5)), Crossings: 4}
	show := func(q tooth.Query) string {
		d := toCut(t, q)
		d.Sections = d.Sections[:len(d.Sections)-1] // the drawings have tests of their own
		return shownWhole(d)
	}
	check.Golden(t, "tooth.txt", show(pair)+"\n\n"+show(pins))
}

// TestToothDrawingsFit: nothing is drawn outside its picture, each drawing
// begins at true size, and the outline is as wide as the part.
func TestToothDrawingsFit(t *testing.T) {
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs, tooth.LanternOf} {
		for _, leaves := range []train.Teeth{4, 6, 8, 12, 30} {
			q := tooth.Query{Wheel: 72, Leaves: leaves, Form: form, Module: meas.Of(unit.Millimetres(0.7)), Hole: meas.Of(unit.Millimetres(4)), Crossings: 5}
			d := toCut(t, q)
			drawings := d.Drawings()
			if want := 4; form == tooth.LanternOf && len(drawings) != 3 || form != tooth.LanternOf && len(drawings) != want {
				t.Errorf("%s: %d drawings", form, len(drawings))
			}
			for _, w := range drawings {
				if w.Views[0].Scale != 1 {
					t.Errorf("%s begins with %g", w.Name, w.Views[0].Scale)
				}
				for _, v := range w.Views {
					withinView(t, w.Name+" "+v.Name, v.Picture)
				}
			}
			for _, f := range d.Figures() {
				withinView(t, "wide", f.Wide)
				withinView(t, "narrow", f.Narrow)
			}
		}
	}
}

// withinView looks at the ends of all outlines and dimensions.
func withinView(t *testing.T, what string, p pic.Picture) {
	t.Helper()
	var look func([]pic.Item)
	ok := func(x, y float64) bool { return x >= -1e-6 && y >= -1e-6 && x <= p.W+1e-6 && y <= p.H+1e-6 }
	look = func(items []pic.Item) {
		for _, it := range items {
			switch it := it.(type) {
			case pic.Group:
				look(it.Items)
			case pic.Outline:
				for _, path := range it.Paths {
					for _, s := range path.Segs {
						if math.IsNaN(s.To.X+s.Bulge) || !ok(s.To.X, s.To.Y) {
							t.Errorf("%s: %v is outside %g × %g", what, s.To, p.W, p.H)
							return
						}
					}
				}
			case pic.Dim:
				l := it.Lay(25.4 / 96 / 100)
				if !ok(l.At.X, l.At.Y) {
					t.Errorf("%s: the dimension %s at %v is outside %g × %g", what, it.S, l.At, p.W, p.H)
				}
			}
		}
	}
	look(p.Items)
}
