package geom

import "math"

// Pt is a point, or the way from one to another, in millimetres.
type Pt struct{ X, Y float64 }

// Polar is the point at a distance from the origin in the direction of an
// angle.
func Polar(r, angle float64) Pt {
	sin, cos := math.Sincos(angle)
	return Pt{r * cos, r * sin}
}

// Plus adds.
func (p Pt) Plus(q Pt) Pt { return Pt{p.X + q.X, p.Y + q.Y} }

// Minus is the way from q to p.
func (p Pt) Minus(q Pt) Pt { return Pt{p.X - q.X, p.Y - q.Y} }

// Times stretches.
func (p Pt) Times(k float64) Pt { return Pt{k * p.X, k * p.Y} }

// Dot is the inner product.
func (p Pt) Dot(q Pt) float64 { return p.X*q.X + p.Y*q.Y }

// Cross is positive when q lies to the left of p.
func (p Pt) Cross(q Pt) float64 { return p.X*q.Y - p.Y*q.X }

// Len is the distance from the origin.
func (p Pt) Len() float64 { return math.Hypot(p.X, p.Y) }

// Angle is the direction, −π to π.
func (p Pt) Angle() float64 { return math.Atan2(p.Y, p.X) }

// Turn turns about the origin, counter-clockwise.
func (p Pt) Turn(angle float64) Pt {
	sin, cos := math.Sincos(angle)
	return Pt{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// Left is the way turned by a quarter to the left.
func (p Pt) Left() Pt { return Pt{-p.Y, p.X} }

// Unit is the way of length 1; that of no length stays.
func (p Pt) Unit() Pt {
	if l := p.Len(); l > 0 {
		return p.Times(1 / l)
	}
	return p
}
