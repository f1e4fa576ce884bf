package mesh

import (
	"math"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// across is a part of the pitch as it is measured straight across.
func across(module float64, count train.Teeth, part float64) meas.Reading[unit.Length] {
	return mm(module * float64(count) * math.Sin(part*math.Pi/float64(count)))
}

func solved(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// laid is the pair of a query, turned where it stands.
func laid(t *testing.T, q Query) (tooth.Pair, gearing, Turn) {
	t.Helper()
	s, faults := q.lay()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	shape := shapeOf(s.pair)
	g := shape.at(s.distance, 0.2, parts)
	return s.pair, g, g.turn(shape)
}

func figures(t *testing.T, q Query) Depth {
	t.Helper()
	_, _, turn := laid(t, q)
	return Sum(turn)
}

// Widths that are those of the form change nothing, whether tooth or space
// was measured.
func TestWidthsOfTheFormChangeNothing(t *testing.T) {
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs} {
		q := Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Form: form, Faces: Greasy}
		plain := figures(t, q)
		byTooth, bySpace := q, q
		byTooth.ToothWidth, byTooth.LeafWidth = across(0.5, 60, 0.5), across(0.5, 8, 1.0/3)
		bySpace.ToothSpace, bySpace.LeafSpace = across(0.5, 60, 0.5), across(0.5, 8, 2.0/3)
		for what, q := range map[string]Query{"tooth and leaf": byTooth, "spaces": bySpace} {
			d := figures(t, q)
			for i, x := range [...][2]float64{{d.Lead, plain.Lead}, {d.After, plain.After}, {d.Play, plain.Play}, {d.Weakest, plain.Weakest}, {d.Bottom, plain.Bottom}} {
				if math.Abs(x[0]-x[1]) > 1e-9 {
					t.Errorf("%s, %s, figure %d: %v, was %v", form, what, i, x[0], x[1])
				}
			}
		}
	}
}

// Teeth or leaves that are thinned at both sides, at the same height, drive as
// before: the play alone grows, by as much as was taken off.
func TestThinnedTeethHaveMorePlay(t *testing.T) {
	q := Query{Wheel: 60, Leaves: 8, Module: mm(1), Form: tooth.Exact, Height: meas.Of(unit.Ratio(1.2)), Faces: Greasy}
	q.ToothWidth, q.LeafWidth = across(1, 60, 0.5), across(1, 8, 0.36)
	before := figures(t, q)
	thinTooth, thinLeaf := q, q
	thinTooth.ToothWidth, thinLeaf.LeafWidth = across(1, 60, 0.44), across(1, 8, 0.30)
	off := 0.06 * math.Pi // mm on the pitch circle, of either
	for what, q := range map[string]Query{"teeth": thinTooth, "leaves": thinLeaf} {
		d := figures(t, q)
		for i, x := range [...][2]float64{{d.Lead, before.Lead}, {d.After, before.After}, {d.Drop, before.Drop}, {d.Slowest, before.Slowest}, {d.Fastest, before.Fastest}, {d.Weakest, before.Weakest}, {d.Mean, before.Mean}} {
			if math.Abs(x[0]-x[1]) > 1e-9 {
				t.Errorf("thin %s, figure %d: %v, was %v", what, i, x[0], x[1])
			}
		}
		check.Near(t, "play of thin "+what, (d.Play-before.Play)*4, off, 1e-9)
	}
}

// Teeth thinned so far that their point is lower let their leaf go sooner:
// the drop is where many points of the flanks say.
func TestDropOfThinTeeth(t *testing.T) {
	for _, part := range []float64{0.5, 0.42} {
		q := Query{Wheel: 60, Leaves: 8, Module: mm(1), Distance: mm(35.8), Form: tooth.Rounded, Faces: Greasy, ToothWidth: across(1, 60, part)}
		pair, g, turn := laid(t, q)
		pitch, leaf := g.pitch, g.leafPitch
		at := func(w float64) float64 { return dense(pair, 35.8, w) }
		last := turn.Line
		for w := last; w < turn.Line+1.2*pitch; w += pitch / 40 {
			if at(w) > at(last) {
				last = w
			}
		}
		low, high := last-pitch/40, last+pitch/40
		for range 16 {
			if x, y := low+(high-low)*0.4, low+(high-low)*0.6; at(x) < at(y) {
				low = x
			} else {
				high = y
			}
		}
		last = (low + high) / 2
		peak, next := at(last), last
		for low, high := last, last+pitch; high-low > pitch/5000; {
			if next = (low + high) / 2; at(next-pitch)+leaf < peak {
				low = next
			} else {
				high = next
			}
		}
		if turn.Drop < 0.05*pitch {
			t.Errorf("%g of the pitch: a drop of %v shows nothing", part, turn.Drop)
		}
		if d := next - last; math.Abs(d-turn.Drop) > pitch/500 {
			t.Errorf("%g of the pitch: drop %.5f, by many points %.5f", part, turn.Drop, d)
		}
	}
}

// A gear laid out from its diameter and a width has that diameter.
func TestDiameterAndWidthAgree(t *testing.T) {
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs} {
		q := Query{Wheel: 60, Leaves: 8, Form: form, WheelOutside: mm(31), PinionOutside: mm(4.6), ToothWidth: mm(0.68), LeafWidth: mm(0.6)}
		pair, _, _ := laid(t, q)
		w, p := pair.Wheel, pair.Pinion
		check.Near(t, "wheel", 2*w.Tip.MM(), 31, 1e-11)
		check.Near(t, "pinion", 2*p.Tip.MM(), 4.6, 1e-11)
		check.Near(t, "tooth", 2*w.Pitch.MM()*math.Sin(w.Half), 0.68, 1e-11)
		check.Near(t, "leaf", 2*p.Pitch.MM()*math.Sin(p.Half), 0.6, 1e-11)
	}
	pair, _, _ := laid(t, Query{Wheel: 96, Leaves: 12, Form: tooth.LanternOf, PinionOutside: mm(8.1), Pin: mm(0.7)})
	check.Near(t, "lantern", 2*pair.Pinion.Tip.MM(), 8.1, 1e-11)
}

// The doubt of a width is that of the play, millimetre for millimetre.
func TestDoubtOfAWidth(t *testing.T) {
	q := Query{Wheel: 60, Leaves: 8, Module: mm(1), Form: tooth.Exact, Height: meas.Of(unit.Ratio(1.2)), Faces: Greasy,
		ToothWidth: meas.OfU(unit.Millimetres(1.5), unit.Millimetres(0.02)), LeafWidth: meas.OfU(unit.Millimetres(1.0), unit.Millimetres(0.03))}
	a := solved(t, q)
	// Both angles are a little more than their chords.
	want := math.Hypot(0.02/math.Cos(a.Pair.Wheel.Half), 0.03/math.Cos(a.Pair.Pinion.Half))
	if !a.Play.HasU || len(a.Play.Budget) != 2 {
		t.Fatalf("%+v", a.Play)
	}
	check.Near(t, "doubt of the play, mm", a.Play.U.MM(), want, 1e-6)
}

// Tooth and space that do not make a pitch are named.
func TestToothAndSpaceMakeAPitch(t *testing.T) {
	said := func(tooth, space float64) bool {
		b := bench{q: Query{Wheel: 60, Leaves: 8, Module: mm(1), ToothWidth: mm(tooth), ToothSpace: mm(space)}}
		b.sizes, _ = b.q.lay()
		b.sayWidths()
		for _, f := range b.ByLevel() {
			if f.Code == "tooth-pitch" {
				return f.Level == meas.Clash
			}
		}
		return false
	}
	if said(1.5, math.Pi-1.5) || !said(1.5, 1.9) {
		t.Error("1.5 and 1.64 mm make a pitch of 3.14 mm; 1.5 and 1.9 mm do not")
	}
}
