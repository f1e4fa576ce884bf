package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func poly(closed bool, xy ...float64) Path {
	p := Path{From: Pt{xy[0], xy[1]}, Closed: closed}
	for i := 2; i < len(xy); i += 2 {
		p.Segs = append(p.Segs, Seg{To: Pt{xy[i], xy[i+1]}})
	}
	return p
}

// toothed is a rim with teeth of eight segments each.
func toothed(teeth int, r float64) Path {
	step := 2 * math.Pi / float64(teeth)
	tip, root := r*(1+0.3*step), r*(1-0.4*step)
	p := Path{Closed: true, From: Polar(root, -0.25*step)}
	for i := range teeth {
		on := func(r, k float64) Pt { return Polar(r, (float64(i)+k)*step) }
		p.Segs = append(p.Segs, Seg{on(r, -0.25), 0}, Seg{on(r+(tip-r)*0.6, -0.18), 0.05}, Seg{on(tip, 0), 0.1},
			Seg{on(r+(tip-r)*0.6, 0.18), 0.1}, Seg{on(r, 0.25), 0.05}, Seg{on(root, 0.25), 0},
			Seg{on(root, 0.5), 0.02}, Seg{on(root, 0.75), 0.02})
	}
	p.Segs[len(p.Segs)-1].To = p.From
	return p
}

func TestSimple(t *testing.T) {
	loop := toothed(60, 20)
	bent := loop.Map(func(p Pt) Pt { return p }, false)
	bent.Segs[123].To = Pt{0, 0}
	bent.Segs[321].To = Pt{0.5, 0.1}
	for _, c := range []struct {
		name string
		p    Path
		want bool
	}{
		{"circle", Round(Pt{1, 2}, 5), true},
		{"square", poly(true, 0, 0, 2, 0, 2, 2, 0, 2, 0, 0), true},
		{"square, closed by itself", poly(true, 0, 0, 2, 0, 2, 2, 0, 2), true},
		{"bow tie", poly(true, 0, 0, 2, 2, 2, 0, 0, 2, 0, 0), false},
		{"touches a corner", poly(true, 0, 0, 4, 0, 4, 4, 2, 0, 0, 4, 0, 0), false},
		{"goes back on itself", poly(false, 0, 0, 4, 0, 1, 0), false},
		{"an open line", poly(false, 0, 0, 4, 0, 4, 1), true},
		{"an arc through a line", Path{From: Pt{0, 0}, Segs: []Seg{{Pt{4, 0}, 0}, {Pt{4, 2}, 0}, {Pt{0, 2}, 1.2}, {Pt{0, 0}, 0}}, Closed: true}, true},
		{"an arc through the other side", Path{From: Pt{0, 0}, Segs: []Seg{{Pt{4, 0}, 0}, {Pt{4, 1}, 0}, {Pt{0, 1}, -1}, {Pt{0, 0}, 0}}, Closed: true}, false},
		{"a wheel", loop, true},
		{"a wheel, spoiled", bent, false},
		{"a wheel of 400", toothed(400, 90), true},
	} {
		if got := c.p.Simple(); got != c.want {
			t.Errorf("%s: simple is %v, want %v: %v", c.name, got, c.want, c.p.Clashes())
		}
	}
}

// TestClosingChord: the line that closes a path is a part of it.
func TestClosingChord(t *testing.T) {
	if poly(true, 0, 0, 4, 0, 4, 4, 8, 4, 8, 2).Simple() {
		t.Error("the closing line crosses the second side and nothing is said")
	}
}

func TestCross(t *testing.T) {
	half := Seg{Pt{2, 0}, -1} // from 0,0 over 1,1
	for _, c := range []struct {
		a    Pt
		s    Seg
		want []Pt
	}{
		{Pt{1, -3}, Seg{Pt{1, 3}, 0}, []Pt{{1, 1}}},
		{Pt{-1, 1}, Seg{Pt{3, 1}, 0}, []Pt{{1, 1}}}, // touches
		{Pt{-1, 1.001}, Seg{Pt{3, 1.001}, 0}, nil},
		{Pt{-1, 0.6}, Seg{Pt{3, 0.6}, 0}, []Pt{{0.2, 0.6}, {1.8, 0.6}}},
		{Pt{0, 2}, Seg{Pt{2, 2}, 1}, []Pt{{1, 1}}}, // two arcs that touch
		{Pt{0, 1}, Seg{Pt{2, 1}, 1}, []Pt{{1 - math.Sqrt(3)/2, 0.5}, {1 + math.Sqrt(3)/2, 0.5}}},
	} {
		got := Cross(Pt{}, half, c.a, c.s)
		if len(got) != len(c.want) {
			t.Errorf("%v: %v, want %v", c.s, got, c.want)
			continue
		}
		for _, w := range c.want {
			if !among(got, w) {
				t.Errorf("%v: %v, want %v", c.s, got, c.want)
			}
		}
	}
}

// TestInsideAgreesWithTheArea: of points thrown on a slot and a wheel as many
// lie inside as their areas say, and the wheel's own points lie on neither
// side by the sign of a small step.
func TestInsideAgreesWithTheArea(t *testing.T) {
	for name, p := range map[string]Path{"wheel": toothed(13, 20), "slot": {From: Pt{0, 0}, Segs: []Seg{{Pt{10, 0}, 0}, {Pt{10, 4}, 1}, {Pt{0, 4}, 0}, {Pt{0, 0}, 1}}, Closed: true},
		"more than half a circle": {From: Pt{0, 0}, Segs: []Seg{{Pt{2, 0}, -2.5}}, Closed: true}, "bite": {From: Pt{0, 0}, Segs: []Seg{{Pt{6, 0}, 0}, {Pt{6, 4}, -0.7}, {Pt{0, 4}, 0}}, Closed: true}} {
		b := p.Bounds()
		n, in := 400, 0
		for i := range n * n {
			q := Pt{b.Min.X + b.W()*(float64(i%n)+0.5)/float64(n), b.Min.Y + b.H()*(float64(i/n)+0.5)/float64(n)}
			if p.Inside(q) {
				in++
			}
		}
		got, want := float64(in)/float64(n*n)*b.W()*b.H(), math.Abs(p.Area())
		if math.Abs(got-want) > 0.004*want {
			t.Errorf("%s: %g mm² by points, %g by the path", name, got, want)
		}
	}
}

// TestCrossOfAny: what is found lies on both, and it does not matter which
// comes first.
func TestCrossOfAny(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(-10, 10)
		pt := func() Pt { return Pt{n.Draw(t, "x"), n.Draw(t, "y")} }
		bulge := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-6, 3), rapid.Float64Range(-3, -1e-6))
		a, b := pt(), pt()
		s, r := Seg{pt(), bulge.Draw(t, "s")}, Seg{pt(), bulge.Draw(t, "r")}
		one, other := Cross(a, s, b, r), Cross(b, r, a, s)
		if len(one) != len(other) {
			t.Fatalf("%v and %v", one, other)
		}
		for _, p := range one {
			if s.Distance(a, p) > 1e-6 || r.Distance(b, p) > 1e-6 || !among(other, p) {
				t.Fatalf("%v lies on one only", p)
			}
		}
	})
}

func BenchmarkSimple400(b *testing.B) {
	p := toothed(400, 90)
	for b.Loop() {
		if !p.Simple() {
			b.Fatal("it is not simple")
		}
	}
}

// A point on the chord of an arc is inside where the arc is, whichever way the
// chord lies: a round end goes round the centre of its arc.
func TestInsideOnAChord(t *testing.T) {
	for i := range 720 {
		turn := func(p Pt) Pt { return p.Turn(float64(i) * math.Pi / 360).Plus(Pt{30, -7}) }
		end := Path{From: Pt{0, -1}, Segs: []Seg{{Pt{10, -1}, 0}, {Pt{10, 1}, 1}, {Pt{0, 1}, 0}, {Pt{0, -1}, 0}}, Closed: true}
		hollow := Path{From: Pt{0, -2}, Segs: []Seg{{Pt{10, -2}, 0}, {Pt{10, -1}, 0}, {Pt{10, 1}, -1}, {Pt{10, 2}, 0}, {Pt{0, 2}, 0}, {Pt{0, -2}, 0}}, Closed: true}
		for _, y := range []float64{-0.9, -0.3, 0, 0.3, 0.9} {
			if p := turn(Pt{10, y}); !end.Map(turn, false).Inside(p) || hollow.Map(turn, false).Inside(p) {
				t.Fatalf("turned by %d half degrees, at %g of the chord: wrong", i, y)
			}
		}
	}
}
