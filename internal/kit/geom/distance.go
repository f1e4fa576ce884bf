package geom

import "math"

// Distance is that of a point from a segment that begins at from, in the unit
// of its coordinates. It keeps its digits on an arc that is all but straight.
func (s Seg) Distance(from, p Pt) float64 {
	if s.Bulge == 0 {
		v := s.To.Minus(from)
		k := 0.0
		if l := v.Dot(v); l > 0 {
			k = min(max(p.Minus(from).Dot(v)/l, 0), 1)
		}
		return p.Minus(from.Plus(v.Times(k))).Len()
	}
	if s.abreast(from, p) {
		return math.Abs(s.outward(from, p))
	}
	return min(p.Minus(from).Len(), p.Minus(s.To).Len())
}

// outward is how far a point lies outside the circle of an arc, negative
// inside. The difference of squares is taken before the digits are lost.
func (s Seg) outward(from, p Pt) float64 {
	chord := s.To.Minus(from)
	l := chord.Len()
	if l == 0 {
		return p.Minus(from).Len()
	}
	b := s.Bulge
	// The centre lies h to the left of the chord's middle.
	h, r := l*(1-b*b)/(4*b), l*(1+b*b)/(4*math.Abs(b))
	q := p.Minus(from.Plus(chord.Times(0.5)))
	left := q.Dot(chord.Left()) / l
	far := math.Hypot(q.Dot(chord)/l, left-h)
	return (q.Dot(q) - l*l/4 - 2*h*left) / (far + r)
}

// abreast tells whether the nearest point of an arc's circle lies on the arc.
func (s Seg) abreast(from, p Pt) bool {
	chord := s.To.Minus(from)
	if math.Abs(s.Bulge) <= 1 {
		// Less than half a circle: between the normals of its ends.
		half := 2 * math.Atan(s.Bulge)
		return p.Minus(from).Dot(chord.Turn(-half)) >= 0 && s.To.Minus(p).Dot(chord.Turn(half)) >= 0
	}
	c, _, start, turn := s.Arc(from)
	along := math.Mod(p.Minus(c).Angle()-start, 2*math.Pi)
	if turn > 0 && along < 0 {
		along += 2 * math.Pi
	}
	if turn < 0 && along > 0 {
		along -= 2 * math.Pi
	}
	return math.Abs(along) <= math.Abs(turn)
}
