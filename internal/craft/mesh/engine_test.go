package mesh

import (
	"math"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// pair lays a pair of 1 mm module out.
func pair(t testing.TB, form tooth.Form, wheel, leaves train.Teeth, height float64) tooth.Pair {
	t.Helper()
	p, err := tooth.Design{Form: form, Wheel: wheel, Leaves: leaves, Module: unit.Millimetres(1), Height: height}.Pair()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// turnPair turns it where the pitch circles touch, and further apart.
func turnPair(p tooth.Pair, apart, friction float64) (shape, gearing, Turn) {
	s := shapeOf(p)
	g := s.at(p.Distance.MM()+apart, friction, 200)
	return s, g, g.turn(s)
}

// The exact form drives at one ratio, along the describing circle, and where
// an envelope worked out on its own says.
func TestExactFormIsConjugate(t *testing.T) {
	for _, c := range []struct {
		wheel, leaves train.Teeth
		height        float64
	}{{60, 8, 1.45}, {45, 6, 1.3}, {90, 12, 1.7}, {120, 16, 1.9}, {150, 20, 2.0}, {64, 10, 1.5}} {
		p := pair(t, tooth.Exact, c.wheel, c.leaves, c.height)
		_, _, turn := turnPair(p, 0, 0.2)
		R, r, after := p.Wheel.Pitch.MM(), p.Pinion.Pitch.MM(), 0
		for _, m := range turn.Moments {
			phi := m.Pinion - turn.LineLeaf
			if phi < 1e-3 || m == turn.Out { // it has just let go
				continue
			}
			after++
			sin, cos := math.Sincos(phi)
			want := geom.Pt{X: R + r*sin*sin, Y: r * sin * cos}
			if math.Abs(m.Ratio-1) > 1e-9 || m.Touch.Minus(want).Len() > 1e-9 {
				t.Fatalf("%d/%d, %.3f rad past the line: ratio 1%+.2g, touch %+v, want %+v", c.wheel, c.leaves, phi, m.Ratio-1, m.Touch, want)
			}
			if d := envelope(m.Wheel, m.Pinion-p.Pinion.Half, float64(c.wheel)/float64(c.leaves), R+r).Minus(m.Touch.Turn(-m.Wheel)).Len(); d > 1e-9 {
				t.Fatalf("%d/%d, %.3f rad past the line: %.2g mm from the envelope", c.wheel, c.leaves, phi, d)
			}
		}
		if after < 100 {
			t.Errorf("%d/%d: only %d moments after the line", c.wheel, c.leaves, after)
		}
		if turn.Butts != 0 || turn.Drop != 0 || turn.Play <= 0 || turn.Bottom <= 0 {
			t.Errorf("%d/%d: %+v", c.wheel, c.leaves, Sum(turn))
		}
	}
}

// envelope is the point, seen from the wheel, where the straight flank of a
// leaf touches the surface that it sweeps out: with the flank the line
// a(θ)·x = b(θ), the crossing with the line of the derivatives. The flank
// stands at an angle past the line of centres and turns at a ratio.
func envelope(wheel, flank, ratio, distance float64) geom.Pt {
	// In space the line has the normal n = (sin δ, cos δ) and goes through the
	// pinion's centre; in the wheel's frame the normal is turned back by θ.
	e := math.Pi/2 - flank - wheel // its direction there
	a, b := geom.Polar(1, e), distance*math.Sin(flank)
	da, db := geom.Polar(1, e).Left().Times(-ratio-1), distance*math.Cos(flank)*ratio
	det := a.Cross(da)
	return geom.Pt{X: (b*da.Y - db*a.Y) / det, Y: (a.X*db - da.X*b) / det}
}

// The tooth of a lantern touches the pin where the pin's own envelope does.
func TestLanternIsItsEnvelope(t *testing.T) {
	for _, n := range []train.Teeth{6, 8, 10, 12, 16} {
		p := pair(t, tooth.LanternOf, n*8, n, 0)
		_, _, turn := turnPair(p, 0, 0.2)
		R, r := p.Wheel.Pitch.MM(), p.Pinion.Pitch.MM()
		pin, ratio, seen := (p.Pinion.Tip.MM()-p.Pinion.Root.MM())/2, 8.0, 0
		for _, m := range turn.Moments {
			if math.Abs(m.Ratio-1) > 1e-9 { // on the arc about the pin that stands on the line, or on the rounded tip
				continue
			}
			seen++
			// The centre of the pin seen from the wheel, and its way.
			at := func(turn float64) geom.Pt {
				return geom.Polar(r, math.Pi-m.Pinion-ratio*turn).Plus(geom.Pt{X: R + r}).Turn(-m.Wheel - turn)
			}
			out := geom.Polar(r, math.Pi-m.Pinion)
			way := out.Left().Times(-ratio).Minus(out.Plus(geom.Pt{X: R + r}).Left()).Turn(-m.Wheel)
			want := at(0).Minus(way.Left().Unit().Times(pin))
			if d := want.Minus(m.Touch.Turn(-m.Wheel)).Len(); d > 1e-9 {
				if far := at(0).Plus(way.Left().Unit().Times(pin)).Minus(m.Touch.Turn(-m.Wheel)).Len(); far > 1e-9 {
					t.Fatalf("%d pins at %.4f: %.2g mm from the envelope", n, m.Wheel, min(d, far))
				}
			}
		}
		if seen < 60 {
			t.Errorf("%d pins: %d moments at the even ratio", n, seen)
		}
	}
}

// dense is the leaf's angle by brute force: many points of both flanks, no
// tangents and no searching.
func dense(p tooth.Pair, distance, angle float64) float64 {
	const n = 4000
	var leaf []geom.Pt
	for _, c := range p.Pinion.Flank {
		for i := 0; i <= n; i++ {
			q, _ := c.At(float64(i) / n)
			leaf = append(leaf, q)
		}
	}
	at := func(r float64) float64 {
		lo, hi := 0, len(leaf)-1
		if leaf[lo].Len() > r || leaf[hi].Len() < r {
			return math.Inf(-1)
		}
		for hi-lo > 1 {
			if m := (lo + hi) / 2; leaf[m].Len() <= r {
				lo = m
			} else {
				hi = m
			}
		}
		a, b := leaf[lo], leaf[hi]
		k := 0.0
		if b.Len() > a.Len() {
			k = (r - a.Len()) / (b.Len() - a.Len())
		}
		return a.Angle() + k*(b.Angle()-a.Angle())
	}
	most := math.Inf(-1)
	for _, c := range p.Wheel.Flank {
		for i := 0; i <= n; i++ {
			q, _ := c.At(float64(i) / n)
			u := q.Turn(angle).Minus(geom.Pt{X: distance})
			most = max(most, math.Atan2(u.Y, -u.X)+at(u.Len()))
		}
	}
	return most
}

// Forms that are not conjugate, out of depth: the brute force agrees to the
// square of its step; at the inner point of a pin, where its angle goes as the
// root of the radius, to a part of the step.
func TestTouchAgreesWithManyPoints(t *testing.T) {
	within := map[tooth.Form]float64{tooth.Exact: 3e-6, tooth.Rounded: 3e-6, tooth.Arcs: 3e-6, tooth.LanternOf: 2e-5}
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs, tooth.LanternOf} {
		for _, n := range []train.Teeth{6, 8, 16} {
			for _, apart := range []float64{-0.25, 0.1, 0.5} {
				p := pair(t, form, n*15/2, n, 0)
				_, g, _ := turnPair(p, apart, 0)
				all := g.drive.touches
				for i := 0; i < len(all); i += len(all)/12 + 1 {
					if d := all[i].Leaf - dense(p, p.Distance.MM()+apart, all[i].Tooth); d < -1e-12 || d > within[form] {
						t.Errorf("%s, %d leaves, %+.2f mm, tooth at %.4f: %.3g rad before the many points", form, n, apart, all[i].Tooth, d)
					}
				}
			}
		}
	}
}

// Turned the other way about, with the leaf pushing the tooth, the same two
// angles belong together.
func TestTouchIsReciprocal(t *testing.T) {
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs} {
		p := pair(t, form, 72, 9, 0)
		_, g, turn := turnPair(p, 0.15, 0)
		back := closingOf(p.Pinion.Flank, leafOf(p.Wheel.Flank), p.Distance.MM()+0.15)
		seen := 0
		for _, m := range turn.Moments {
			if m.Ratio < 0.2 {
				continue
			}
			there, ok := back.touch(-m.Pinion)
			if !ok || math.Abs(there.Leaf+m.Wheel) > 1e-10 {
				t.Fatalf("%s: the tooth at %.9f, leaf at %.9f; back: %.9f", form, m.Wheel, m.Pinion, -there.Leaf)
			}
			seen++
		}
		if seen < 150 || g.parts != 200 {
			t.Errorf("%s: %d moments", form, seen)
		}
	}
}

// No tooth stands in a leaf at any moment, at the front or at the back.
func TestNothingOverlaps(t *testing.T) {
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs, tooth.LanternOf} {
		for _, apart := range []float64{-0.2, 0, 0.3} {
			p := pair(t, form, 60, 8, 0)
			_, _, turn := turnPair(p, apart, 0)
			if turn.Play <= 0 {
				t.Fatalf("%s %+.1f binds", form, apart)
			}
			wheel, distance := leafOf(p.Wheel.Flank), p.Distance.MM()+apart
			nearest := math.Inf(1)
			for i := 0; i < len(turn.Moments); i += 7 {
				m := turn.Moments[i]
				for j := -4; j <= 4; j++ {
					for _, q := range around(p.Pinion) {
						at := q.Turn(math.Pi - m.Pinion - float64(j)*p.Pinion.Step()).Plus(geom.Pt{X: distance})
						room := roomTo(wheel, p.Wheel, m.Wheel, at)
						nearest = min(nearest, room)
						if room < -1e-9 {
							t.Fatalf("%s %+.1f: %.3g mm inside a tooth at %.4f", form, apart, room, m.Wheel)
						}
					}
				}
			}
			if nearest > 1e-3 {
				t.Errorf("%s %+.1f: nothing touches, %.3g mm", form, apart, nearest)
			}
		}
	}
}

// around are points of a leaf, of both sides.
func around(g tooth.Gear) []geom.Pt {
	var out []geom.Pt
	for _, c := range g.Flank {
		for i := 0; i <= 400; i++ {
			q, _ := c.At(float64(i) / 400)
			out = append(out, q, geom.Pt{X: q.X, Y: -q.Y})
		}
	}
	return out
}

// roomTo is how far round a point is from the nearest tooth of a wheel, mm.
func roomTo(flank *leaf, g tooth.Gear, turned float64, p geom.Pt) float64 {
	s, ok := flank.at(p.Len())
	if !ok {
		return math.Inf(1)
	}
	a := math.Remainder(p.Angle()-turned, g.Step())
	return (math.Abs(a) - s.angle()) * p.Len()
}

// What goes in comes out as work on the pinion or is rubbed away.
func TestEnergyBalances(t *testing.T) {
	const mu = 0.3
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs, tooth.LanternOf} {
		for _, apart := range []float64{-0.15, 0, 0.3} {
			p := pair(t, form, 60, 8, 0)
			_, g, turn := turnPair(p, apart, mu)
			for _, m := range turn.Moments {
				if m.Ratio == 0 {
					continue
				}
				// One unit of torque on the wheel: the force by the balance of
				// the wheel, the sliding by the speeds of both bodies.
				u := m.Touch.Minus(geom.Pt{X: g.distance})
				slip := m.Touch.Left().Plus(u.Left().Times(m.Ratio * g.even))
				n := m.Press
				if math.Abs(slip.Dot(n)) > 1e-7*m.Touch.Len() {
					t.Fatalf("%s %+.2f at %.4f: the flanks part or sink in at %.3g", form, apart, m.Wheel, slip.Dot(n))
				}
				press := 1 / m.Touch.Cross(n.Plus(slip.Unit().Times(mu)))
				rubbed := mu * press * slip.Len()
				if sum := m.Passed*m.Ratio + rubbed; math.Abs(sum-1) > 1e-6 {
					t.Fatalf("%s %+.2f at %.4f: out and rubbed away make %.9f", form, apart, m.Wheel, sum)
				}
			}
			if _, _, free := turnPair(p, apart, 0); math.Abs(Sum(free).Mean-1) > 1e-3 && free.Drop == 0 {
				t.Errorf("%s %+.2f: without friction %.6f is passed on", form, apart, Sum(free).Mean)
			}
		}
	}
}
