package dxf

import (
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

// place turns a point of the view into one of the file: y grows upwards.
func (w *writer) place(p geom.Pt) geom.Pt { return geom.Pt{X: w.right + p.X, Y: w.foot - p.Y} }

// most is the greatest coordinate that is written, in millimetres: a part
// that is larger is none.
const most = 1e6

func writable(values ...float64) bool {
	for _, x := range values {
		if !(math.Abs(x) < most) {
			return false
		}
	}
	return true
}

// path writes a line, a circle, an arc or a polyline; one with a point that
// is not a number is left out, and so is one of a single point.
func (w *writer) path(p geom.Path, layer string) {
	if layer == "" || len(p.Segs) == 0 {
		return
	}
	q := p.Map(w.place, true)
	box := q.Bounds()
	if !writable(box.Min.X, box.Min.Y, box.Max.X, box.Max.Y) || !whole(q) {
		return
	}
	if len(q.Segs) == 1 && q.Segs[0].To == q.From {
		return
	}
	w.box = w.box.Join(box)
	if c, r, ok := full(q); ok {
		w.round("CIRCLE", c, r, layer)
		return
	}
	if len(q.Segs) == 1 && !q.Closed {
		w.single(q, layer)
		return
	}
	w.polyline(q, layer)
}

// whole tells whether every bulge is a number.
func whole(p geom.Path) bool {
	for _, s := range p.Segs {
		if !writable(s.Bulge) {
			return false
		}
	}
	return true
}

// full is the circle that a path of two half circles is.
func full(p geom.Path) (c geom.Pt, r float64, ok bool) {
	if len(p.Segs) != 2 || p.Segs[1].To != p.From || p.Segs[0].Bulge != p.Segs[1].Bulge || math.Abs(p.Segs[0].Bulge) != 1 {
		return geom.Pt{}, 0, false
	}
	c, r, _, _ = p.Segs[0].Arc(p.From)
	return c, r, r > 0
}

// single writes a path of one segment, an arc counter-clockwise as release 12
// has them.
func (w *writer) single(p geom.Path, layer string) {
	s := p.Segs[0]
	c, r, start, turn := s.Arc(p.From)
	if !writable(r, c.X, c.Y) {
		w.line(p.From, s.To, layer)
		return
	}
	if turn < 0 {
		start, turn = start+turn, -turn
	}
	w.round("ARC", c, r, layer)
	w.out.num(50, degrees(start))
	w.out.num(51, degrees(start+turn))
}

// degrees is an angle from 0 up to 360.
func degrees(a float64) float64 {
	d := math.Mod(a*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}

func (w *writer) line(a, b geom.Pt, layer string) {
	w.entity("LINE", layer)
	w.out.pt(0, a)
	w.out.pt(1, b)
}

func (w *writer) round(kind string, c geom.Pt, r float64, layer string) {
	w.entity(kind, layer)
	w.out.pt(0, c)
	w.out.num(40, r)
}

func (w *writer) entity(kind, layer string) {
	w.out.str(0, kind)
	w.out.str(8, layer)
}

func (w *writer) polyline(p geom.Path, layer string) {
	w.entity("POLYLINE", layer)
	w.out.str(66, "1")
	closed := p.Closed || p.Segs[len(p.Segs)-1].To == p.From
	if closed {
		w.out.str(70, "1")
	} else {
		w.out.str(70, "0")
	}
	w.out.pt(0, geom.Pt{})
	at, segs := p.From, p.Segs
	for _, s := range segs {
		w.vertex(at, s.Bulge, layer)
		at = s.To
	}
	if !closed || at != p.From {
		w.vertex(at, 0, layer)
	}
	w.entity("SEQEND", layer)
}

func (w *writer) vertex(at geom.Pt, bulge float64, layer string) {
	w.entity("VERTEX", layer)
	w.out.pt(0, at)
	if bulge != 0 {
		w.out.fine(42, bulge)
	}
}

func (w *writer) circle(c pic.Pt, r float64, layer string) {
	w.path(geom.Round(geom.Pt(c), r), layer)
}

func (w *writer) arc(a pic.Arc, layer string) {
	turn := a.To - a.From
	if math.Abs(turn) >= 2*math.Pi-1e-9 {
		w.circle(a.C, a.R, layer)
		return
	}
	c := geom.Pt(a.C)
	s := geom.Seg{To: c.Plus(geom.Polar(a.R, a.To)), Bulge: math.Tan(turn / 4)}
	w.path(geom.Path{From: c.Plus(geom.Polar(a.R, a.From)), Segs: []geom.Seg{s}}, layer)
}

// dim writes a dimension as the lines, arrows and words that it is made of.
func (w *writer) dim(d pic.Dim, layer string) {
	laid := d.Lay(pxMM)
	for _, l := range laid.Lines {
		w.path(polygon(false, l.A, l.B), w.on(layer, l.Pen))
	}
	for _, a := range laid.Arrows {
		w.path(polygon(true, a.Pts...), w.on(layer, pic.Hair))
	}
	w.text(laid.Words, laid.Turn, laid.At, layer)
}

// pxMM is the CSS pixel in which pens and lettering are measured.
const pxMM = 25.4 / 96

// text writes a line of words, turned clockwise about a point.
func (w *writer) text(t pic.Text, turned float64, about pic.Pt, layer string) {
	size := t.Size
	if size == 0 {
		size = lettering
	}
	words, c := plain(t.S), geom.Pt(about)
	at := w.place(c.Plus(geom.Pt(t.P).Minus(c).Turn(turned * math.Pi / 180)))
	// The height of DXF is that of a capital, about seven tenths of the size.
	height := 0.7 * size
	if words == "" || !writable(at.X, at.Y, height, turned) || !(height > 0) {
		return
	}
	w.entity("TEXT", w.on(layer, pic.Hair))
	w.out.pt(0, at)
	w.out.num(40, height)
	w.out.str(1, words)
	if turned != 0 {
		w.out.num(50, degrees(-turned*math.Pi/180))
	}
	if t.Anchor != pic.Start {
		w.out.str(72, map[pic.Anchor]string{pic.Middle: "1", pic.End: "2"}[t.Anchor])
		w.out.pt(1, at)
	}
}

// lettering is the size of type that has none of its own: 14 px.
const lettering = 14 * pxMM
