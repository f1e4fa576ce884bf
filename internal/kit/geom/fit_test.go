package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// rolled is an epicycloid: a circle of radius b rolled on one of radius r.
type rolled struct{ r, b, turn float64 }

func (e rolled) At(t float64) (p, d Pt) {
	a := t * e.turn
	k := (e.r + e.b) / e.b
	p = Polar(e.r+e.b, a).Minus(Polar(e.b, k*a))
	return p, Polar(e.r+e.b, a).Left().Minus(Polar(e.b, k*a).Left().Times(k)).Times(e.turn)
}

// formula is a curve by its functions.
type formula func(t float64) (p, d Pt)

func (f formula) At(t float64) (p, d Pt) { return f(t) }

func straight(a, b Pt) formula {
	return func(t float64) (p, d Pt) { return a.Plus(b.Minus(a).Times(t)), b.Minus(a) }
}

func ellipse(a, b, turn float64) formula {
	return func(t float64) (p, d Pt) {
		sin, cos := math.Sincos(turn * t)
		return Pt{a * cos, b * sin}, Pt{-a * sin * turn, b * cos * turn}
	}
}

func curves() map[string]Curve {
	return map[string]Curve{
		"a flank":             rolled{15, 2, 0.2},
		"a whole arch":        rolled{15, 2, 2 * math.Pi * 2 / 15},
		"three arches":        rolled{9, 3, 2 * math.Pi}, // cusps inside, two of them at no dyadic place
		"straight":            straight(Pt{1, 2}, Pt{30, -7}),
		"a circle but for 5°": ellipse(12, 12, 355*math.Pi/180),
		"a whole circle":      ellipse(12, 12, 2*math.Pi),
		"an ellipse":          ellipse(30, 8, 2*math.Pi),
		"an inflection": formula(func(t float64) (p, d Pt) {
			x := 2*t - 1
			return Pt{5 * x, 3 * x * x * x}, Pt{10, 18 * x * x}
		}),
		"a wave": formula(func(t float64) (p, d Pt) {
			return Pt{20 * t, math.Sin(20 * t)}, Pt{20, 20 * math.Cos(20*t)}
		}),
		"a spiral": formula(func(t float64) (p, d Pt) {
			a := 12 * t
			return Polar(3+a, a), Polar(1, a).Plus(Polar(3+a, a).Left()).Times(12)
		}),
	}
}

// farthest is the greatest distance of a curve from segments, at many points.
func farthest(c Curve, segs []Seg, looks int) float64 {
	start, _ := c.At(0)
	worst := 0.0
	for i := range looks + 1 {
		p, _ := c.At(float64(i) / float64(looks))
		at, least := start, math.Inf(1)
		for _, s := range segs {
			least = min(least, s.Distance(at, p))
			at = s.To
		}
		worst = max(worst, least)
	}
	return worst
}

// TestFitHoldsToTheCurve looks at thousands of points for a deviation greater
// than was asked for.
func TestFitHoldsToTheCurve(t *testing.T) {
	for name, c := range curves() {
		for _, most := range []float64{0.1, 0.001, 0.0001} {
			segs := Fit(c, most)
			if got := farthest(c, segs, 7919); got > most*(1+1e-9) {
				t.Errorf("%s, within %g mm asked: %d segments, %g", name, most, len(segs), got)
			}
			if end, _ := c.At(1); len(segs) == 0 || segs[len(segs)-1].To != end {
				t.Errorf("%s does not end where it ends", name)
			}
		}
	}
}

// TestFitIsShort: a line is one line, a circle arcs of that circle, and a
// flank within a micrometre takes a few arcs.
func TestFitIsShort(t *testing.T) {
	all := curves()
	for name, want := range map[string]int{"straight": 1, "a circle but for 5°": 2, "a whole circle": 2, "a flank": 10, "a whole arch": 70, "an ellipse": 100} {
		segs := Fit(all[name], 0.001)
		if len(segs) > want {
			t.Errorf("%s takes %d segments, want %d at most", name, len(segs), want)
		}
	}
	at := Pt{12, 0}
	for _, s := range Fit(all["a whole circle"], 0.001) {
		c, r, _, _ := s.Arc(at)
		almost(t, "the circle", c.Len()+math.Abs(r-12), 0, 1e-9)
		at = s.To
	}
}

// TestFitIsSmooth: arcs follow each other without a corner, but for cusps.
func TestFitIsSmooth(t *testing.T) {
	for _, name := range []string{"a flank", "an ellipse", "a wave", "a spiral"} {
		c := curves()[name]
		at, _ := c.At(0)
		var last Pt
		for i, s := range Fit(c, 0.001) {
			chord := s.To.Minus(at)
			in, out := chord.Turn(-2*math.Atan(s.Bulge)).Unit(), chord.Turn(2*math.Atan(s.Bulge)).Unit()
			if i > 0 && math.Abs(in.Cross(last)) > 1e-6 {
				t.Errorf("%s: a corner of %g after %d segments", name, in.Cross(last), i)
			}
			at, last = s.To, out
		}
	}
}

// TestArchArea: the area between an arch of an epicycloid and its base circle
// is πb²(3 + 2b/r) (closed form by integration; for r = ∞ the 3πb² of the
// cycloid).
func TestArchArea(t *testing.T) {
	r, b := 15.0, 2.0
	c := rolled{r, b, 2 * math.Pi * b / r}
	want := math.Pi * b * b * (3 + 2*b/r)
	for _, most := range []float64{1e-2, 1e-4} {
		p := Path{From: Pt{r, 0}, Segs: Fit(c, most), Closed: true}
		p.Segs = append(p.Segs, Seg{Pt{r, 0}, -math.Tan(c.turn / 4)})
		got := p.Area()
		almost(t, "the area", got, want, most*p.Length()/2)
		if !p.Simple() || !p.Inside(Polar(r+b, c.turn/2)) || p.Inside(Polar(r-0.5, c.turn/2)) {
			t.Errorf("within %g: %v", most, p.Clashes())
		}
	}
}

// TestBoundBetweenThePoints: dents that fall between the points first looked
// at are not overlooked.
func TestBoundBetweenThePoints(t *testing.T) {
	for _, n := range []float64{15.5, 31, 47.3} {
		dents := formula(func(t float64) (p, d Pt) {
			s := math.Sin(n * math.Pi * t)
			return Pt{20 * t, 0.4 * s * s}, Pt{20, 0.4 * n * math.Pi * math.Sin(2*n*math.Pi*t)}
		})
		if got := farthest(dents, Fit(dents, 0.001), 7919); got > 0.001*(1+1e-9) {
			t.Errorf("%g dents: one of %g mm was overlooked", n, got)
		}
	}
}

// TestFitEnds: what is no curve ends.
func TestFitEnds(t *testing.T) {
	for name, c := range map[string]Curve{
		"nowhere":   formula(func(float64) (p, d Pt) { return Pt{math.NaN(), 0}, Pt{1, 0} }),
		"far":       formula(func(t float64) (p, d Pt) { return Pt{1 / t, 0}, Pt{-1 / t / t, 0} }),
		"one place": formula(func(float64) (p, d Pt) { return Pt{3, 4}, Pt{} }),
	} {
		if n := len(Fit(c, 0.001)); n > 200 {
			t.Errorf("%s takes %d segments", name, n)
		}
	}
}

func TestAnyEllipse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := ellipse(rapid.Float64Range(0.1, 100).Draw(t, "a"), rapid.Float64Range(0.1, 100).Draw(t, "b"), rapid.Float64Range(0.01, 6.2).Draw(t, "turn"))
		if got := farthest(c, Fit(c, 0.001), 499); got > 0.001*(1+1e-9) {
			t.Errorf("%g mm", got)
		}
	})
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

func BenchmarkFitFlank(b *testing.B) {
	c := rolled{15, 2, 0.2}
	for b.Loop() {
		Fit(c, 0.001)
	}
}
