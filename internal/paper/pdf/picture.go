package pdf

import (
	"fmt"
	"math"
	"strings"

	"codeberg.org/go-pdf/fpdf"

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
		p.shape(round(it.C, it.R, 0, 2*math.Pi), true, it.Pen, it.Fill)
	case pic.Arc:
		p.shape(round(it.C, it.R, it.From, it.To), false, it.Pen, pic.Empty)
	case pic.Cells:
		p.cells(it)
	case pic.Text:
		p.text(it, 0, it.P)
	case pic.Group:
		p.items(it.Items)
	case pic.Dim:
		p.dim(it)
	}
}

// round is an arc as points, two degrees apart: a chord lies within 0.00016
// of the radius.
func round(c pic.Pt, r, from, to float64) []pic.Pt {
	turn := max(min(to-from, 2*math.Pi), -2*math.Pi)
	n := max(4, int(math.Ceil(math.Abs(turn)/(2*math.Pi)*180)))
	out := make([]pic.Pt, 0, n+1)
	for i := 0; i <= n; i++ {
		a := from + turn*float64(i)/float64(n)
		out = append(out, pic.Pt{X: c.X + r*math.Cos(a), Y: c.Y + r*math.Sin(a)})
	}
	return out
}

// shape fills and draws a run of points; one that is not a number is left
// out with all of its shape.
func (p placed) shape(pts []pic.Pt, closed bool, pen pic.Pen, fill pic.Fill) {
	run := make([]fpdf.PointType, len(pts))
	for i, q := range pts {
		q = p.at(q)
		if math.IsNaN(q.X+q.Y) || math.IsInf(q.X+q.Y, 0) {
			return
		}
		run[i] = fpdf.PointType{X: q.X, Y: q.Y}
	}
	if len(run) < 2 {
		return
	}
	p.fill(run, fill)
	s := theme.PenOnPaper(pen)
	if s.Colour == "" {
		return
	}
	p.stroke(s)
	p.path(run, closed)
	p.w.f.DrawPath("D")
	p.w.f.SetDashPattern(nil, 0)
}

func (p placed) path(run []fpdf.PointType, closed bool) {
	p.w.f.MoveTo(run[0].X, run[0].Y)
	for _, q := range run[1:] {
		p.w.f.LineTo(q.X, q.Y)
	}
	if closed {
		p.w.f.ClosePath()
	}
}

func (p placed) stroke(s theme.Stroke) {
	p.w.ink(s.Colour, s.Width*p.px)
	if s.On > 0 {
		p.w.f.SetDashPattern([]float64{s.On * p.px, s.Off * p.px}, 0)
	}
}

func (p placed) fill(run []fpdf.PointType, fill pic.Fill) {
	colour, alpha := "", 1.0
	switch fill {
	case pic.Ground:
		colour = "#ffffff"
	case pic.Band:
		colour, alpha = theme.Steel, 0.18
	case pic.Solid:
		colour = theme.Ink
	case pic.BadFill:
		colour = theme.Bad
	}
	if colour != "" {
		r, g, b := rgb(colour)
		p.w.f.SetFillColor(r, g, b)
		if alpha < 1 {
			p.w.f.SetAlpha(alpha, "Normal")
			defer p.w.f.SetAlpha(1, "Normal")
		}
		p.path(run, true)
		p.w.f.DrawPath("F")
		return
	}
	if h, ok := theme.HatchingOnPaper(fill); ok {
		p.hatch(run, h)
	}
}

// hatch rules an area with lines that run on from area to area.
func (p placed) hatch(run []fpdf.PointType, h theme.Hatching) {
	s := theme.PenOnPaper(h.Pen)
	if h.Pen == pic.Chosen {
		s.Width = 1
	}
	sin, cos := math.Sincos(h.Degrees * math.Pi / 180)
	across, along := [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
	for _, q := range run {
		a, l := q.X*cos+q.Y*sin, -q.X*sin+q.Y*cos
		across = [2]float64{min(across[0], a), max(across[1], a)}
		along = [2]float64{min(along[0], l), max(along[1], l)}
	}
	step := h.Apart * p.px
	if n := (across[1] - across[0]) / step; !(n < 10000) {
		return
	}
	p.w.f.ClipPolygon(run, false)
	p.stroke(s)
	for a := (math.Floor(across[0]/step) + 0.5) * step; a < across[1]; a += step {
		p.w.f.Line(a*cos-along[0]*sin, a*sin+along[0]*cos, a*cos-along[1]*sin, a*sin+along[1]*cos)
	}
	p.w.f.ClipEnd()
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
