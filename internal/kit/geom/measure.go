package geom

import "math"

// Box is the smallest upright rectangle round something; an empty one has its
// Min beyond its Max.
type Box struct{ Min, Max Pt }

// Nowhere is the box round nothing.
func Nowhere() Box {
	inf := math.Inf(1)
	return Box{Pt{inf, inf}, Pt{-inf, -inf}}
}

// With is the box that has a point in it too.
func (b Box) With(p Pt) Box {
	return Box{Pt{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}, Pt{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}}
}

// Join is the box round both.
func (b Box) Join(c Box) Box { return b.With(c.Min).With(c.Max) }

// W is its width.
func (b Box) W() float64 { return b.Max.X - b.Min.X }

// H is its height.
func (b Box) H() float64 { return b.Max.Y - b.Min.Y }

// Empty tells whether nothing is in it.
func (b Box) Empty() bool { return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y) }

// Bounds is the box round a segment that begins at from, with the outermost
// points of its arc.
func (s Seg) Bounds(from Pt) Box {
	b := Nowhere().With(from).With(s.To)
	c, r, start, turn := s.Arc(from)
	if math.IsInf(r, 0) {
		return b
	}
	lo, hi := min(start, start+turn), max(start, start+turn)
	for q := math.Ceil(lo / (math.Pi / 2)); q*math.Pi/2 <= hi; q++ {
		switch (int(q)%4 + 4) % 4 {
		case 0:
			b.Max.X = max(b.Max.X, c.X+r)
		case 1:
			b.Max.Y = max(b.Max.Y, c.Y+r)
		case 2:
			b.Min.X = min(b.Min.X, c.X-r)
		case 3:
			b.Min.Y = min(b.Min.Y, c.Y-r)
		}
	}
	return b
}

// Bounds is the box round a path.
func (p Path) Bounds() Box {
	b, at := Nowhere().With(p.From), p.From
	for _, s := range p.Segs {
		b, at = b.Join(s.Bounds(at)), s.To
	}
	return b
}

// Length is how long a segment is that begins at from.
func (s Seg) Length(from Pt) float64 {
	_, r, _, turn := s.Arc(from)
	if math.IsInf(r, 0) {
		return s.To.Minus(from).Len()
	}
	return r * math.Abs(turn)
}

// Length is how long a path is.
func (p Path) Length() float64 {
	sum, at := 0.0, p.From
	for _, s := range p.Segs {
		sum, at = sum+s.Length(at), s.To
	}
	return sum
}

// Area is what a path encloses, positive where it goes round counter-
// clockwise; one that is not closed is taken as closed by a straight line.
func (p Path) Area() float64 {
	sum, at := 0.0, Pt{}
	for _, s := range p.Segs {
		// Measured from the first point, so that a part far from the origin
		// loses no digits.
		to := s.To.Minus(p.From)
		sum += at.Cross(to) / 2
		chord := to.Minus(at)
		sum += bow(s.Bulge) * chord.Dot(chord)
		at = to
	}
	return sum
}

// bow is the area between an arc and its chord over the square of the chord,
// positive for an arc that turns to the left.
func bow(bulge float64) float64 {
	q := bulge * bulge
	if q < 0.0025 {
		// The closed form loses its digits on flat arcs: its series.
		return bulge * (1.0/3 + q*(1.0/15-q*(1.0/105-q*(1.0/315-q/693))))
	}
	turn, r := 4*math.Atan(bulge), (1+q)/(4*bulge)
	return r * r / 2 * (turn - 4*bulge*(1-q)/((1+q)*(1+q)))
}

// Split is a segment that begins at from in equal parts that turn by no more
// than most, in radians.
func (s Seg) Split(from Pt, most float64) []Seg {
	c, r, start, turn := s.Arc(from)
	n := int(math.Ceil(math.Abs(turn)/most - 1e-9))
	if math.IsInf(r, 0) || math.IsNaN(r) || n <= 1 {
		return []Seg{s}
	}
	out := make([]Seg, n)
	for i := range out {
		out[i] = Seg{c.Plus(Polar(r, start+turn*float64(i+1)/float64(n))), math.Tan(turn / float64(n) / 4)}
	}
	out[n-1].To = s.To
	return out
}
