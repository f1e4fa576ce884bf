package geom

import "math"

// Curve is a smooth curve with its parameter from 0 to 1; d is the way it
// takes there, of any length but nought between the ends.
type Curve interface {
	At(t float64) (p, d Pt)
}

// finest is how often Fit halves a piece at most: a curve that is not smooth
// ends in short chords.
const finest = 24

// Fit is a curve as lines and arcs from its beginning, which deviate from it
// by no more than most, in millimetres, at the points that are looked at:
// fifteen inside each pair of arcs.
func Fit(c Curve, most float64) []Seg {
	return fit(nil, c, 0, 1, most, finest)
}

func fit(out []Seg, c Curve, from, to, most float64, deep int) []Seg {
	pair, ok := biarc(c, from, to)
	if ok && deviation(c, from, to, pair) <= most {
		return append(out, pair...)
	}
	if deep == 0 {
		p, _ := c.At(to)
		return append(out, Seg{To: p})
	}
	mid := (from + to) / 2
	return fit(fit(out, c, from, mid, most, deep-1), c, mid, to, most, deep-1)
}

// tangent is the direction at t; where the curve stands still, at an end, that
// a little inside.
func tangent(c Curve, t, inward float64) Pt {
	_, d := c.At(t)
	if l := d.Len(); l > 1e-12 {
		return d.Times(1 / l)
	}
	_, d = c.At(t + inward)
	return d.Unit()
}

// biarc is two arcs that leave the first point and reach the last along the
// curve's own directions and meet with one tangent, both controls of one
// length.
func biarc(c Curve, from, to float64) ([]Seg, bool) {
	a, _ := c.At(from)
	b, _ := c.At(to)
	step := (to - from) * 1e-6
	ta, tb := tangent(c, from, step), tangent(c, to, -step)
	v := b.Minus(a)
	if v.Len() == 0 {
		return nil, true
	}
	d := controls(v, ta, tb)
	if !(d > 0) || math.IsInf(d, 0) {
		return nil, false
	}
	joint := a.Plus(ta.Times(d)).Plus(b.Minus(tb.Times(d))).Times(0.5)
	first, last := bulge(ta, joint.Minus(a)), -bulge(tb.Times(-1), joint.Minus(b))
	if math.Abs(first) > 1 || math.Abs(last) > 1 {
		return nil, false
	}
	return []Seg{{joint, first}, {b, last}}, true
}

// controls is the length d at which |v − d(ta+tb)| = 2d.
func controls(v, ta, tb Pt) float64 {
	t := ta.Plus(tb)
	k, m := v.Dot(t), 2*(1-ta.Dot(tb))
	if m < 1e-15 {
		return v.Dot(v) / (4 * v.Dot(tb))
	}
	return (-k + math.Sqrt(k*k+m*v.Dot(v))) / m
}

// bulge is that of an arc that sets out along t and spans the chord.
func bulge(t, chord Pt) float64 {
	half := math.Atan2(t.Cross(chord), t.Dot(chord))
	if math.Abs(half) < 1e-12 {
		return 0
	}
	return math.Tan(half / 2)
}

// deviation is the greatest distance of the points looked at from the arcs.
func deviation(c Curve, from, to float64, pair []Seg) float64 {
	const look = 15
	start, _ := c.At(from)
	worst := 0.0
	for i := 1; i <= look; i++ {
		p, _ := c.At(from + (to-from)*float64(i)/(look+1))
		near, at := math.Inf(1), start
		for _, s := range pair {
			near = min(near, s.Distance(at, p))
			at = s.To
		}
		worst = max(worst, near)
	}
	return worst
}

// Distance is that of a point from a segment that begins at from.
func (s Seg) Distance(from, p Pt) float64 {
	c, r, start, turn := s.Arc(from)
	if math.IsInf(r, 0) {
		v := s.To.Minus(from)
		k := 0.0
		if l := v.Dot(v); l > 0 {
			k = min(max(p.Minus(from).Dot(v)/l, 0), 1)
		}
		return p.Minus(from.Plus(v.Times(k))).Len()
	}
	along := math.Mod(p.Minus(c).Angle()-start, 2*math.Pi)
	if turn > 0 && along < 0 {
		along += 2 * math.Pi
	}
	if turn < 0 && along > 0 {
		along -= 2 * math.Pi
	}
	if math.Abs(along) <= math.Abs(turn) {
		return math.Abs(p.Minus(c).Len() - r)
	}
	return min(p.Minus(from).Len(), p.Minus(s.To).Len())
}
