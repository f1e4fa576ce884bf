package svg

import (
	"math"

	"seatboard/internal/kit/pic"
)

// Sizes of a dimension in CSS pixels.
const (
	arrowLength = 9
	arrowHalf   = 2.2
	beyond      = 4 // extension lines run past the dimension line
	clear       = 3 // and begin clear of the part
	textClear   = 5 // between the dimension line and its words
)

// dim draws extension lines, the dimension line with its arrows and the words
// along it, readable from below or from the right. Arrows stand outside where
// there is no room between.
func (w *writer) dim(d pic.Dim) {
	dx, dy := d.B.X-d.A.X, d.B.Y-d.A.Y
	length := math.Hypot(dx, dy)
	if length == 0 || math.IsNaN(length) || math.IsInf(length, 0) {
		w.text(pic.Text{P: d.A, S: d.S, Anchor: pic.Middle}, "")
		return
	}
	px := w.pen / w.k // one CSS pixel in the unit of the picture
	along := pic.Pt{X: dx / length, Y: dy / length}
	left := pic.Pt{X: along.Y, Y: -along.X}
	a, b := step(d.A, left, d.Off), step(d.B, left, d.Off)
	if d.Off != 0 {
		side := math.Copysign(px, d.Off)
		w.line(step(d.A, left, clear*side), step(a, left, beyond*side), pic.Hair)
		w.line(step(d.B, left, clear*side), step(b, left, beyond*side), pic.Hair)
	}
	inward := px
	if length < 2.5*arrowLength*px {
		inward = -px
		a, b = step(a, along, -2*arrowLength*px), step(b, along, 2*arrowLength*px)
	}
	w.line(a, b, pic.Hair)
	if inward < 0 {
		a, b = step(a, along, 2*arrowLength*px), step(b, along, -2*arrowLength*px)
	}
	w.arrow(a, along, left, inward)
	w.arrow(b, along, left, -inward)
	w.dimWords(d.S, step(a, along, length/2), along, px)
}

// arrow has its point at tip and its body in the direction along·size.
func (w *writer) arrow(tip, along, left pic.Pt, size float64) {
	back := step(tip, along, arrowLength*size)
	w.poly(pic.Poly{Pts: []pic.Pt{tip, step(back, left, arrowHalf*size), step(back, left, -arrowHalf*size)},
		Closed: true, Pen: pic.NoLine, Fill: pic.Solid})
}

// dimWords sets the words above the middle of the line.
func (w *writer) dimWords(s string, mid, along pic.Pt, px float64) {
	angle := math.Atan2(along.Y, along.X) * 180 / math.Pi
	switch {
	case angle > 89.99:
		angle -= 180
	case angle <= -90.01:
		angle += 180
	}
	turn := ""
	if math.Abs(angle) > 0.005 {
		turn = "rotate(" + number(angle) + " " + w.n(mid.X) + " " + w.n(mid.Y) + ")"
	}
	w.text(pic.Text{P: pic.Pt{X: mid.X, Y: mid.Y - textClear*px}, S: s, Anchor: pic.Middle}, turn)
}

func step(p, d pic.Pt, by float64) pic.Pt { return pic.Pt{X: p.X + d.X*by, Y: p.Y + d.Y*by} }
