package geom

import "math"

// Seg is a straight line or an arc to a point.
type Seg struct {
	To    Pt
	Bulge float64 // tangent of a quarter of the angle turned through, positive to the left; 0 is straight
}

// Path is a run of segments; a closed one ends where it begins.
type Path struct {
	From   Pt
	Segs   []Seg
	Closed bool
}

// Round is a full circle as a path, counter-clockwise.
func Round(c Pt, r float64) Path {
	a, b := c.Plus(Pt{r, 0}), c.Plus(Pt{-r, 0})
	return Path{From: a, Segs: []Seg{{b, 1}, {a, 1}}, Closed: true}
}

// Arc is the circle of a segment that begins at from: centre, radius, the
// angle at which it begins and the angle it turns through, positive to the
// left. A straight segment has a radius of +Inf.
func (s Seg) Arc(from Pt) (c Pt, r, start, turn float64) {
	if s.Bulge == 0 {
		return Pt{}, math.Inf(1), 0, 0
	}
	chord := s.To.Minus(from)
	turn = 4 * math.Atan(s.Bulge)
	// The centre lies to the left of the chord's middle by (1−b²)/(4b) chords.
	c = from.Plus(chord.Times(0.5)).Plus(chord.Left().Times((1 - s.Bulge*s.Bulge) / (4 * s.Bulge)))
	out := from.Minus(c)
	return c, out.Len(), out.Angle(), turn
}

// Map moves every point by f, a motion that keeps shapes; mirrored says that
// it turns left into right.
func (p Path) Map(f func(Pt) Pt, mirrored bool) Path {
	sign := 1.0
	if mirrored {
		sign = -1
	}
	out := Path{From: f(p.From), Segs: make([]Seg, len(p.Segs)), Closed: p.Closed}
	for i, s := range p.Segs {
		out.Segs[i] = Seg{f(s.To), sign * s.Bulge}
	}
	return out
}

// Reverse is the same path from its end to its beginning.
func (p Path) Reverse() Path {
	n := len(p.Segs)
	out := Path{From: p.From, Segs: make([]Seg, n), Closed: p.Closed}
	if n > 0 {
		out.From = p.Segs[n-1].To
	}
	for i := range p.Segs {
		to := p.From
		if i+1 < n {
			to = p.Segs[n-2-i].To
		}
		out.Segs[i] = Seg{to, -p.Segs[n-1-i].Bulge}
	}
	return out
}
