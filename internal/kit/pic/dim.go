package pic

import "math"

// Sizes of a dimension in CSS pixels.
const (
	arrowLength = 9
	arrowHalf   = 2.2
	beyond      = 4 // extension lines run past the dimension line
	clear       = 3 // and begin clear of the part
	textClear   = 5 // between the dimension line and its words
)

// LaidDim is a dimension as lines, arrows and words.
type LaidDim struct {
	Lines  []Line
	Arrows []Poly
	Words  Text
	At     Pt      // the middle of the dimension line
	Turn   float64 // degrees by which the words are turned about At, clockwise
}

// Lay sets a dimension out: extension lines, the dimension line with its
// arrows and the words along it, readable from below or from the right.
// Arrows stand outside where there is no room between. px is one CSS pixel
// in the unit of the picture.
func (d Dim) Lay(px float64) LaidDim {
	dx, dy := d.B.X-d.A.X, d.B.Y-d.A.Y
	length := math.Hypot(dx, dy)
	if length == 0 || math.IsNaN(length) || math.IsInf(length, 0) {
		return LaidDim{Words: Text{P: d.A, S: d.S, Anchor: Middle}, At: d.A}
	}
	var out LaidDim
	along := Pt{X: dx / length, Y: dy / length}
	left := Pt{X: along.Y, Y: -along.X}
	a, b := d.A.step(left, d.Off), d.B.step(left, d.Off)
	if d.Off != 0 {
		side := math.Copysign(px, d.Off)
		out.Lines = append(out.Lines, Line{d.A.step(left, clear*side), a.step(left, beyond*side), Hair},
			Line{d.B.step(left, clear*side), b.step(left, beyond*side), Hair})
	}
	inward, from, to := px, a, b
	if length < 2.5*arrowLength*px {
		inward = -px
		from, to = a.step(along, -2*arrowLength*px), b.step(along, 2*arrowLength*px)
	}
	out.Lines = append(out.Lines, Line{from, to, Hair})
	out.Arrows = []Poly{arrow(a, along, left, inward), arrow(b, along, left, -inward)}
	out.At = a.step(along, length/2)
	out.Words = Text{P: Pt{X: out.At.X, Y: out.At.Y - textClear*px}, S: d.S, Anchor: Middle}
	out.Turn = readable(math.Atan2(along.Y, along.X) * 180 / math.Pi)
	return out
}

// arrow has its point at tip and its body in the direction along·size.
func arrow(tip, along, left Pt, size float64) Poly {
	back := tip.step(along, arrowLength*size)
	return Poly{Pts: []Pt{tip, back.step(left, arrowHalf*size), back.step(left, -arrowHalf*size)}, Closed: true, Pen: NoLine, Fill: Solid}
}

// readable turns words that would stand on their heads.
func readable(degrees float64) float64 {
	switch {
	case degrees > 89.99:
		degrees -= 180
	case degrees <= -90.01:
		degrees += 180
	}
	if math.Abs(degrees) <= 0.005 {
		return 0
	}
	return degrees
}

func (p Pt) step(d Pt, by float64) Pt { return Pt{X: p.X + d.X*by, Y: p.Y + d.Y*by} }
