package pdf

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/theme"
)

// placed draws a picture's items with its origin at x, y.
type placed struct {
	w    *writer
	x, y float64
	k    float64 // millimetres to the picture's unit
	px   float64 // millimetres to a CSS pixel of its pens
}

func (p placed) at(q pic.Pt) pic.Pt { return pic.Pt{X: p.x + p.k*q.X, Y: p.y + p.k*q.Y} }

func (p placed) items(items []pic.Item) {
	for _, it := range items {
		p.item(it)
	}
}

func (p placed) item(it pic.Item) {
	switch it := it.(type) {
	case pic.Line:
		p.shape([]pic.Pt{it.A, it.B}, false, it.Pen, pic.Empty)
	case pic.Poly:
		p.shape(it.Pts, it.Closed, it.Pen, it.Fill)
	case pic.Rect:
		a := it.Min
		p.shape([]pic.Pt{a, {X: a.X + it.W, Y: a.Y}, {X: a.X + it.W, Y: a.Y + it.H}, {X: a.X, Y: a.Y + it.H}}, true, it.Pen, it.Fill)
	case pic.Circle:
		p.outline(pic.Outline{Paths: []geom.Path{geom.Round(geom.Pt(it.C), it.R)}, Pen: it.Pen, Fill: it.Fill})
	case pic.Arc:
		p.outline(pic.Outline{Paths: []geom.Path{round(it)}, Pen: it.Pen})
	case pic.Outline:
		p.outline(it)
	case pic.Cells:
		p.cells(it)
	case pic.Text:
		p.text(it, 0, it.P)
	case pic.Group:
		p.items(it.Items)
	case pic.Window:
		p.window(it)
	case pic.Dim:
		p.dim(it)
	}
}

// round is an arc as a path.
func round(a pic.Arc) geom.Path {
	c, turn := geom.Pt(a.C), max(min(a.To-a.From, 2*math.Pi), -2*math.Pi)
	on := func(k float64) geom.Pt { return c.Plus(geom.Polar(a.R, a.From+k*turn)) }
	bulge := math.Tan(turn / 8)
	return geom.Path{From: on(0), Segs: []geom.Seg{{To: on(0.5), Bulge: bulge}, {To: on(1), Bulge: bulge}}}
}

// shape fills and draws a run of points.
func (p placed) shape(pts []pic.Pt, closed bool, pen pic.Pen, fill pic.Fill) {
	if len(pts) < 2 {
		return
	}
	path := geom.Path{From: geom.Pt(pts[0]), Segs: make([]geom.Seg, len(pts)-1), Closed: closed}
	for i, q := range pts[1:] {
		path.Segs[i].To = geom.Pt(q)
	}
	p.outline(pic.Outline{Paths: []geom.Path{path}, Pen: pen, Fill: fill})
}

// cells is one path, filled once: no seam shows between cells.
func (p placed) cells(c pic.Cells) {
	var b strings.Builder
	b.WriteString("q 0 0 0 rg")
	n := 0
	for run := range c.Runs() {
		a := p.at(run.Min)
		if math.IsNaN(a.X+a.Y+run.W+run.H) || math.IsInf(a.X+a.Y+run.W+run.H, 0) {
			return
		}
		fmt.Fprintf(&b, "\n%.4f %.4f %.4f %.4f re", a.X*pointsPerMM, (p.w.pageHeight()-a.Y)*pointsPerMM, p.k*run.W*pointsPerMM, -p.k*run.H*pointsPerMM)
		n++
	}
	if n > 0 {
		b.WriteString(" f Q\n")
		p.w.f.RawWriteStr(b.String())
	}
}

// pageHeight is that of the page being written.
func (w *writer) pageHeight() float64 {
	_, h := w.f.GetPageSize()
	return h
}

// text sets a line of words, turned clockwise about a point. Words of a
// screen's picture clear what lies under them.
func (p placed) text(t pic.Text, degrees float64, about pic.Pt) {
	f := theme.LetteringOnPaper(t.Style)
	s := style{face: p.w.faces.sans, size: f.Size * p.px * pointsPerMM, colour: f.Colour}
	if f.Semibold {
		s.face = p.w.faces.bold
	}
	if t.Size > 0 {
		s.size = t.Size * p.k * pointsPerMM
	}
	words := p.w.faces.printable(s.face, t.S)
	q, width := p.at(t.P), s.width(words)
	if math.IsNaN(q.X+q.Y) || math.IsInf(q.X+q.Y, 0) || strings.TrimSpace(words) == "" {
		return
	}
	switch t.Anchor {
	case pic.Middle:
		q.X -= width / 2
	case pic.End:
		q.X -= width
	}
	if degrees != 0 {
		c := p.at(about)
		p.w.f.TransformBegin()
		defer p.w.f.TransformEnd()
		p.w.f.TransformRotate(-degrees, c.X, c.Y)
	}
	if t.Size == 0 {
		p.w.f.SetFillColor(255, 255, 255)
		p.w.f.Rect(q.X, q.Y-0.75*s.mm(), width, 0.95*s.mm(), "F")
	}
	p.w.put(q.X, q.Y, words, s)
}

// window clips its items to its edge.
func (p placed) window(v pic.Window) {
	corners := []pic.Pt{v.Min, {X: v.Min.X + v.W, Y: v.Min.Y}, {X: v.Min.X + v.W, Y: v.Min.Y + v.H}, {X: v.Min.X, Y: v.Min.Y + v.H}}
	edge := geom.Path{Closed: true}
	for i, c := range corners {
		q := geom.Pt(p.at(c))
		if math.IsNaN(q.X+q.Y) || math.IsInf(q.X+q.Y, 0) {
			return
		}
		if i == 0 {
			edge.From = q
			continue
		}
		edge.Segs = append(edge.Segs, geom.Seg{To: q})
	}
	p.w.f.RawWriteStr("q\n" + p.w.commands([]geom.Path{edge}) + "W n\n")
	p.items(v.Items)
	p.w.f.RawWriteStr("Q\n")
}

func (p placed) dim(d pic.Dim) {
	laid := d.Lay(p.px / p.k)
	for _, l := range laid.Lines {
		p.item(l)
	}
	for _, a := range laid.Arrows {
		p.item(a)
	}
	p.text(laid.Words, laid.Turn, laid.At)
}
