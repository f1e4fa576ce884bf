package mesh

import (
	"math"
	"strings"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// A rounding that the tips are clear of, by rolling on the pitch circles as
// craft/tooth does it, changes nothing in how the pair turns. (The other way
// about need not be: rolled on its pitch circles too near together the mate may
// lean farther than the flanks let it.)
func TestRoundedRootsByRolling(t *testing.T) {
	seen := [2]int{}
	for _, c := range []struct {
		form          tooth.Form
		wheel, leaves train.Teeth
	}{{tooth.Rounded, 60, 8}, {tooth.Exact, 45, 6}, {tooth.Arcs, 96, 12}, {tooth.LanternOf, 64, 8}} {
		for _, radius := range []float64{0.15, 0.4, 0} {
			for _, deeper := range []float64{0, 0.2, 0.35} {
				d := tooth.Design{Form: c.form, Wheel: c.wheel, Leaves: c.leaves, Module: unit.Millimetres(1)}
				sharp, err := d.Pair()
				if err != nil {
					t.Fatal(err)
				}
				d.RootRadius, d.FullRoot = unit.Millimetres(radius), radius == 0
				rounded, err := d.Pair()
				if err != nil {
					t.Fatal(err)
				}
				at := sharp.Distance - unit.Millimetres(deeper)
				room := rounded.Wheel.RootRoom(sharp.Pinion, at)
				if c.form != tooth.LanternOf {
					room = math.Min(room, rounded.Pinion.RootRoom(sharp.Wheel, at))
				}
				x, y := shapeOf(sharp).at(at.MM(), 0.2, 60), shapeOf(rounded).at(at.MM(), 0.2, 60)
				touches := differ(&x, &y)
				switch {
				case (room > 0.01 || deeper == 0) && touches:
					t.Errorf("%s %d/%d, radius %g, deeper by %g: room %.3f mm, and it touches", c.form, c.wheel, c.leaves, radius, deeper, room)
				case room > 0.01:
					seen[0]++
				case touches:
					seen[1]++
				}
			}
		}
	}
	if seen[0] < 15 || seen[1] < 2 {
		t.Errorf("%d are clear and %d touch: that shows little", seen[0], seen[1])
	}
}

// On the rounding itself a tooth and a leaf touch where thousands of points of
// both say.
func TestTouchOnTheRounding(t *testing.T) {
	p, err := tooth.Design{Form: tooth.Rounded, Wheel: 60, Leaves: 8, Module: unit.Millimetres(1), FullRoot: true}.Pair()
	if err != nil {
		t.Fatal(err)
	}
	on := 0
	for _, distance := range []float64{33.62, 33.7} {
		g := shapeOf(p).at(distance, 0.2, 200)
		for i := range 15 {
			angle := g.drive.begin + (g.drive.last-g.drive.begin)*(float64(i)+0.5)/15
			at, ok := g.drive.touch(angle)
			if !ok {
				t.Fatalf("nothing at %.4f", angle)
			}
			if want := dense(p, distance, angle); math.Abs(at.Leaf-want) > 2e-5 {
				t.Errorf("%.2f mm, %.4f rad: leaf at %.6f, by points %.6f", distance, angle, at.Leaf, want)
			}
			if r := at.P.Minus(p.Wheel.Flank[0].(tooth.Round).Centre.Turn(angle)); r.Len() < p.Wheel.RootRadius.MM()+1e-9 || math.Hypot(at.P.X-distance, at.P.Y) < p.Pinion.Root.MM()+p.Pinion.RootRadius.MM()/2 {
				on++
			}
		}
	}
	if on < 3 {
		t.Errorf("%d touches lie on a rounding: that shows little", on)
	}
}

// What is said of the roots of a pair at its depth, too deep, and too round.
func TestRootsAreSaid(t *testing.T) {
	q := Query{Wheel: 60, Leaves: 8, Form: tooth.Rounded, Module: meas.Of(unit.Millimetres(0.5)), Bottom: tooth.RoundBottom}
	for _, c := range []struct {
		distance, least, most float64
		of                    tooth.Part
		touches               bool
		words                 string
	}{
		{17, 16.8, 16.9, tooth.ThePinion, false, "clear of the rounding"},
		{16.81, 16.8, 16.9, tooth.ThePinion, true, "run on the rounding"},
		{17, 0, 0, tooth.TheWheel, false, "binds before"},
	} {
		q.Distance = meas.Of(unit.Millimetres(c.distance))
		b, said := &bench{q: q, mu: 0.2}, false
		b.sizes, _ = q.lay()
		a := Answer{Roots: b.roots()}
		b.sayRoots(&a)
		for _, f := range b.ByLevel() {
			said = said || f.Code == "root-"+string(c.of) && strings.Contains(f.Text, c.words)
		}
		for _, r := range a.Roots {
			if r.Of == c.of && (r.Touches != c.touches || r.From < c.least || r.From > c.most || !said) {
				t.Errorf("%v: %+v in %+v", c, r, b.ByLevel())
			}
		}
		if len(a.Roots) != 2 {
			t.Errorf("%+v", a.Roots)
		}
	}
	q.Bottom, q.RootRadius = "", meas.Of(unit.Millimetres(2))
	if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), "up to 0.") {
		t.Error(err)
	}
}
