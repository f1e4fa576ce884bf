package dxf_test

import (
	"math"
	"testing"

	"seatboard/internal/craft/strikework"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/dxf"
	"seatboard/internal/paper/present"
)

func mm(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }

// named is a drawing of a document.
func named(t *testing.T, d doc.Doc, name string) doc.Drawing {
	t.Helper()
	for _, s := range d.Sections {
		for _, b := range s.Body {
			if w, ok := b.(doc.Drawing); ok && w.Name == name {
				return w
			}
		}
	}
	t.Fatalf("%s has no drawing %s", d.Title, name)
	return doc.Drawing{}
}

// TestPartsInAnotherReader: click, pin wheel, rounded wheel and rack as ezdxf reads them: no
// fault, and their outlines with the areas that they were reckoned with.
func TestPartsInAnotherReader(t *testing.T) {
	click, err := ratchet.Solve(ratchet.Query{Count: 24, Diameter: mm(32), Click: mm(18), Undercut: meas.Of(unit.Deg(6))})
	if err != nil {
		t.Fatal(err)
	}
	pins, err := escapewheel.Solve(escapewheel.Query{Kind: escapewheel.PinWheel, Count: 30, Diameter: mm(60), Reach: mm(90), Shape: escapewheel.HalfPins, Bore: mm(4)})
	if err != nil {
		t.Fatal(err)
	}
	rack, err := strikework.Solve(strikework.Query{Radius: mm(42), Tail: mm(45), Pitch: mm(1.3), Largest: mm(20), Pin: mm(1)})
	if err != nil {
		t.Fatal(err)
	}
	round, err := tooth.Solve(tooth.Query{Wheel: 60, Leaves: 8, Module: mm(0.8), Form: tooth.Exact, TipRadius: mm(0.1), Bottom: tooth.RoundBottom, Part: tooth.TheWheel})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		d     doc.Drawing
		paths []geom.Path
	}{
		{named(t, present.Ratchet(click), "click"), []geom.Path{click.Drawn.Outline}},
		{named(t, present.EscapeWheel(pins), "escape-wheel"), []geom.Path{pins.Pins.Outline(0)}},
		{named(t, present.Tooth(round), "wheel"), round.Pair.Wheel.Outline(0.001)},
		{named(t, present.StrikeWork(rack), "rack"), []geom.Path{rack.Rack.Arms.Outline}},
	} {
		file, err := dxf.File(c.d)
		if err != nil {
			t.Fatal(err)
		}
		r := ezdxf(t, file)
		if r.Version != "AC1009" || len(r.Errors)+len(r.Fixes) > 0 {
			t.Errorf("%s: version %s, the audit says %v %v", c.d.Name, r.Version, r.Errors, r.Fixes)
		}
		for _, p := range c.paths {
			found := false
			for _, o := range r.Outlines {
				found = found || o.Layer == "OUTLINE" && o.Vertices == len(p.Segs) && math.Abs(math.Abs(o.Area)-math.Abs(p.Area())) < 1e-5*p.Length()
			}
			if !found {
				t.Errorf("%s: no outline of %d edges and %.4f mm² among %v", c.d.Name, len(p.Segs), p.Area(), r.Outlines)
			}
		}
	}
}
