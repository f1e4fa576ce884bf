package geom

import (
	"math"
	"testing"
)

// rolled is an epicycloid: a circle of radius b rolled on one of radius r.
type rolled struct{ r, b, turn float64 }

func (e rolled) At(t float64) (p, d Pt) {
	a := t * e.turn
	k := (e.r + e.b) / e.b
	p = Polar(e.r+e.b, a).Minus(Polar(e.b, k*a))
	return p, Polar(e.r+e.b, a).Left().Minus(Polar(e.b, k*a).Left().Times(k)).Times(e.turn)
}

func TestFitHoldsToTheCurve(t *testing.T) {
	for _, most := range []float64{0.1, 0.01, 0.001, 0.0001} {
		c := rolled{15, 2, 0.2}
		segs := Fit(c, most)
		worst := 0.0
		for i := 0; i <= 20000; i++ {
			p, _ := c.At(float64(i) / 20000)
			at, _ := c.At(0)
			near := math.Inf(1)
			for _, s := range segs {
				near = min(near, s.Distance(at, p))
				at = s.To
			}
			worst = max(worst, near)
		}
		if worst > 1.02*most || len(segs) > 40 {
			t.Errorf("within %g mm asked: %d segments, worst %g", most, len(segs), worst)
		}
	}
}

func TestReverseAndArc(t *testing.T) {
	p := Path{From: Pt{0, 0}, Segs: []Seg{{Pt{2, 0}, 1}, {Pt{5, 1}, 0}, {Pt{6, 2}, -0.3}}}
	back := p.Reverse().Reverse()
	if back.From != p.From || back.Segs[2] != p.Segs[2] || back.Segs[0] != p.Segs[0] {
		t.Errorf("%+v", back)
	}
	c, r, start, turn := p.Segs[0].Arc(p.From)
	if math.Abs(c.X-1) > 1e-15 || math.Abs(c.Y) > 1e-15 || r != 1 || math.Abs(math.Abs(start)-math.Pi) > 1e-12 || math.Abs(turn-math.Pi) > 1e-12 {
		t.Errorf("%v %v %v %v", c, r, start, turn)
	}
}
