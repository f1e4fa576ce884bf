package present

import (
	"fmt"
	"math"
	"testing"

	"seatboard/internal/craft/strikework"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// drawnParts are parts of every sort and size.
func drawnParts(t *testing.T) map[string]doc.Doc {
	t.Helper()
	mm := func(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }
	deg := func(x float64) meas.Reading[unit.Angle] { return meas.Of(unit.Deg(x)) }
	out := map[string]doc.Doc{}
	for _, q := range []ratchet.Query{{Count: 24, Diameter: mm(32), Click: mm(18), Undercut: deg(6)}, {Count: 60, Diameter: mm(20), Click: mm(24)}, {Count: 12, Diameter: mm(90), Click: mm(60), Distance: mm(78)},
		{Count: 16, Diameter: mm(12), Click: mm(5), Hole: mm(0.6), Arm: mm(1)}, {Count: 30, Diameter: mm(40), Click: mm(30), Distance: mm(34.5), Undercut: deg(12)}} {
		a, err := ratchet.Solve(q)
		if err != nil || a.Drawn == nil {
			t.Fatalf("%+v: %v", a.Findings, err)
		}
		out[fmt.Sprintf("ratchet of %d, %s", q.Count, a.Diameter.Text("mm", 0))] = Ratchet(a)
	}
	for _, q := range []escapewheel.Query{{Count: 30, Diameter: mm(60), Reach: mm(90), Drop: deg(1)}, {Count: 12, Diameter: mm(20), Shape: escapewheel.HalfPins}, {Count: 40, Diameter: mm(120), Reach: mm(400)}} {
		q.Kind = escapewheel.PinWheel
		a, err := escapewheel.Solve(q)
		if err != nil || a.Pins == nil {
			t.Fatalf("%+v: %v", a.Findings, err)
		}
		out[fmt.Sprintf("pin wheel of %d", q.Count)] = EscapeWheel(a)
	}
	for _, between := range []float64{30, 100, 170, -40, -110, -170} {
		a, err := strikework.Solve(strikework.Query{Radius: mm(42), Tail: mm(45), Pitch: mm(1.3), Largest: mm(20), Pin: mm(1), Between: deg(between)})
		if err != nil || a.Rack == nil {
			t.Fatalf("%+v: %v", a.Findings, err)
		}
		out[fmt.Sprintf("rack with its tail at %g°", between)] = StrikeWork(a)
	}
	for _, n := range [][2]train.Teeth{{60, 8}, {96, 6}, {36, 12}} {
		a, err := tooth.Solve(tooth.Query{Wheel: n[0], Leaves: n[1], Module: mm(0.7), Form: tooth.Exact, RootRadius: mm(0.12), TipRadius: mm(0.06)})
		if err != nil {
			t.Fatal(err)
		}
		out[fmt.Sprintf("rounded pair of %d and %d", n[0], n[1])] = Tooth(a)
	}
	return out
}

// Nothing of a part that is drawn is cut off: on the page its figures keep
// their words apart, on paper every edge and size is on its view.
func TestPartsAreDrawnWhole(t *testing.T) {
	for name, d := range drawnParts(t) {
		for _, f := range d.Figures() {
			if f.Name == "click-in-place" {
				inside(t, name+", wide", f.Wide)
				inside(t, name+", narrow", f.Narrow)
				rowsFit(t, name, *f.Numbers)
			}
		}
		for _, s := range d.Sections {
			for _, b := range s.Body {
				if w, ok := b.(doc.Drawing); ok {
					for _, v := range w.Views {
						onView(t, name+", "+w.Name+", "+v.Name, v)
					}
				}
			}
		}
	}
}

// onView looks at outlines and dimensions of a view; a sheet lets what is
// written leave it by a little.
func onView(t *testing.T, name string, v doc.View) {
	t.Helper()
	const bleed = 2.5
	p, px := v.Picture, 25.4/96/v.Scale
	at := func(what string, q pic.Pt, by float64) {
		if !(q.X >= -by && q.X <= p.W+by && q.Y >= -by && q.Y <= p.H+by) {
			t.Errorf("%s: %s at %.2f, %.2f leaves the view of %.1f × %.1f mm", name, what, q.X, q.Y, p.W, p.H)
		}
	}
	var look func(items []pic.Item)
	look = func(items []pic.Item) {
		for _, it := range items {
			switch x := it.(type) {
			case pic.Group:
				look(x.Items)
			case pic.Outline:
				for _, path := range x.Paths {
					b := path.Bounds()
					at("an edge", pic.Pt(b.Min), 0.01)
					at("an edge", pic.Pt(b.Max), 0.01)
				}
			case pic.Dim:
				laid := x.Lay(px)
				half := pic.TextWidth(x.S, pic.Plain) * px / 2
				sin, cos := math.Sincos(laid.Turn * math.Pi / 180)
				for _, w := range []float64{-half, half} {
					at("the size "+x.S, pic.Pt{X: laid.At.X + w*cos, Y: laid.At.Y + w*sin}, bleed/v.Scale)
				}
				for _, l := range laid.Lines {
					at("a line of "+x.S, l.A, bleed/v.Scale)
					at("a line of "+x.S, l.B, bleed/v.Scale)
				}
			}
		}
	}
	look(p.Items)
}
