package svg

import (
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

// outline writes the paths of an outline as one, so that a hole is one.
func (w *writer) outline(o pic.Outline) {
	w.s(`<path d="`)
	for _, p := range o.Paths {
		w.path(p)
	}
	w.s(`"`)
	if o.Fill != pic.Empty {
		w.s(` fill-rule="evenodd"`)
	}
	w.s(w.area(o.Pen, o.Fill), "/>\n")
}

// path writes the commands of one path. Angles grow the same way in pictures
// and in SVG, so that a bulge to the left is an arc of positive angle.
func (w *writer) path(p geom.Path) {
	w.s("M", w.n(p.From.X), " ", w.n(p.From.Y))
	at := p.From
	for _, s := range p.Segs {
		for _, s := range s.Split(at, math.Pi/2) {
			w.segment(at, s)
			at = s.To
		}
	}
	if p.Closed {
		w.s("z")
	}
}

func (w *writer) segment(at geom.Pt, s geom.Seg) {
	if _, r, _, _ := s.Arc(at); s.Bulge != 0 && r < flat {
		sweep := "0"
		if s.Bulge > 0 {
			sweep = "1"
		}
		w.s("A", w.n(r), " ", w.n(r), " 0 0 ", sweep, " ", w.n(s.To.X), " ", w.n(s.To.Y))
		return
	}
	w.s("L", w.n(s.To.X), " ", w.n(s.To.Y))
}

// flat is a radius in the unit of the picture beyond which an arc that fits a
// sheet is a straight line to a hundredth of the last digit.
const flat = 1e11
