package tooth

import (
	"math"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// near is the distance of a point from a path.
func near(path geom.Path, p geom.Pt) float64 {
	at, best := path.From, math.Inf(1)
	for _, s := range path.Segs {
		best = min(best, s.Distance(at, p))
		at = s.To
	}
	return best
}

func TestOutlineHoldsToTheFlank(t *testing.T) {
	const within = 0.001
	for _, f := range forms {
		for _, n := range [][2]train.Teeth{{6, 4}, {60, 8}, {96, 12}, {400, 30}, {12, 30}} {
			p, err := Design{Form: f, Wheel: n[0], Leaves: n[1], Module: unit.Millimetres(0.9)}.Pair()
			if err != nil {
				t.Fatal(f, n, err)
			}
			for _, g := range []Gear{p.Wheel, p.Pinion} {
				outlines(t, f, g, within)
			}
		}
	}
}

func outlines(t *testing.T, f Form, g Gear, within float64) {
	t.Helper()
	drawn(t, g)
	if g.Lantern {
		return
	}
	tooth, space := g.Tooth(within), g.Space(within)
	for _, c := range g.Flank {
		for k := 0; k <= 997; k++ {
			p, _ := c.At(float64(k) / 997)
			for _, q := range []geom.Pt{p, {X: p.X, Y: -p.Y}} {
				if d := near(tooth, q); d > 1.02*within {
					t.Fatalf("%s %d: %g mm from the flank", f, g.Count, d)
				}
			}
			if d := near(space, geom.Pt{X: p.X, Y: -p.Y}.Turn(g.Step()/2)); d > 1.02*within {
				t.Fatalf("%s %d: the space is %g mm from the flank", f, g.Count, d)
			}
		}
	}
}

// drawn looks at the whole outline: closed, with so many teeth, and its area
// between those of the circles of root and tip.
func drawn(t *testing.T, g Gear) {
	t.Helper()
	paths := g.Outline(0.001)
	if g.Lantern {
		if len(paths) != int(g.Count) {
			t.Errorf("%d pins, %d circles", g.Count, len(paths))
		}
		return
	}
	whole := paths[0]
	if end := whole.Segs[len(whole.Segs)-1].To; len(paths) != 1 || !whole.Closed || end != whole.From {
		t.Errorf("%d: not closed: %v to %v", g.Count, whole.From, end)
	}
	per := len(whole.Segs) / int(g.Count)
	for i, s := range whole.Segs {
		// Turned by one step it is the same, and goes round once in all.
		next := whole.Segs[(i+per)%len(whole.Segs)]
		if per*int(g.Count) != len(whole.Segs) || s.To.Turn(g.Step()).Minus(next.To).Len() > 1e-9 || s.Bulge != next.Bulge {
			t.Fatalf("%d: %d pieces, %v does not come back as %v", g.Count, len(whole.Segs), s, next)
		}
	}
	if a, low, high := whole.Area(), math.Pi*g.Root.MM()*g.Root.MM(), math.Pi*g.Tip.MM()*g.Tip.MM(); a <= low || a >= high {
		t.Errorf("%d: area %g outside %g to %g", g.Count, a, low, high)
	}
}

func BenchmarkOutline(b *testing.B) {
	for b.Loop() {
		p, err := Theoretical(400, 12, unit.Millimetres(0.5))
		if err != nil {
			b.Fatal(err)
		}
		p.Wheel.Outline(0.001)
	}
}
