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
// by no more than most, in millimetres. That holds between the points that
// are looked at too, as long as the curve turns one way between two of them
// ([Deviation]). A straight piece becomes one line, a round one arcs of its
// own circle. A curve that leaves the numbers ends in a chord.
func Fit(c Curve, most float64) []Seg {
	return fit(nil, c, 0, 1, most, finest)
}

func fit(out []Seg, c Curve, from, to, most float64, deep int) []Seg {
	a, _ := c.At(from)
	b, _ := c.At(to)
	if still(c, from, to, a, b) {
		return out
	}
	pair, ok := biarc(c, from, to)
	if ok && Deviation(c, from, to, pair, most) <= most {
		return append(out, pair...)
	}
	if deep == 0 || !finite(a, b) {
		return append(out, Seg{To: b})
	}
	mid := (from + to) / 2
	return fit(fit(out, c, from, mid, most, deep-1), c, mid, to, most, deep-1)
}

func finite(pts ...Pt) bool {
	for _, p := range pts {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
			return false
		}
	}
	return true
}

// still tells whether a piece does not leave its place.
func still(c Curve, from, to float64, a, b Pt) bool {
	for i := 1; a == b; i++ {
		if i == 8 {
			return true
		}
		b, _ = c.At(from + (to-from)*float64(i)/8)
	}
	return false
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
// length; one arc where one does both.
func biarc(c Curve, from, to float64) ([]Seg, bool) {
	a, _ := c.At(from)
	b, _ := c.At(to)
	step := (to - from) * 1e-6
	ta, tb := tangent(c, from, step), tangent(c, to, -step)
	v := b.Minus(a)
	if v.Len() == 0 {
		return nil, false
	}
	if one, other := bulge(ta, v), bulge(v, tb); math.Abs(one-other) < 1e-12 && math.Abs(one) <= 1 {
		return []Seg{{b, one}}, true
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
