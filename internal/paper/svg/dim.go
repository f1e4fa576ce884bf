package svg

import "seatboard/internal/kit/pic"

// dim draws a dimension.
func (w *writer) dim(d pic.Dim) {
	laid := d.Lay(w.pen / w.k)
	for _, l := range laid.Lines {
		w.line(l.A, l.B, l.Pen)
	}
	for _, a := range laid.Arrows {
		w.poly(a)
	}
	turn := ""
	if laid.Turn != 0 {
		turn = "rotate(" + number(laid.Turn) + " " + w.n(laid.At.X) + " " + w.n(laid.At.Y) + ")"
	}
	w.text(laid.Words, turn)
}
