package pdf

import (
	"math"
	"strconv"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/theme"
)

// outline fills and draws paths; one with a point that is not a number is left
// out with all of its outline.
func (p placed) outline(o pic.Outline) {
	paths, box := make([]geom.Path, 0, len(o.Paths)), geom.Nowhere()
	for _, one := range o.Paths {
		q := one.Map(func(a geom.Pt) geom.Pt { return geom.Pt(p.at(pic.Pt(a))) }, false)
		if len(q.Segs) == 0 {
			continue
		}
		paths, box = append(paths, q), box.Join(q.Bounds())
	}
	if size := box.W() + box.H() + math.Abs(box.Min.X) + math.Abs(box.Min.Y); !(size < 1e7) {
		return
	}
	drawn := p.w.commands(paths)
	p.fill(drawn, box, o.Fill)
	s := theme.PenOnPaper(o.Pen)
	if s.Colour == "" {
		return
	}
	p.stroke(s)
	p.w.f.RawWriteStr(drawn + "S\n")
	p.w.f.SetDashPattern(nil, 0)
}

func (p placed) stroke(s theme.Stroke) {
	p.w.ink(s.Colour, s.Width*p.px)
	if len(s.Dash) > 0 {
		lengths := make([]float64, len(s.Dash))
		for i, x := range s.Dash {
			lengths[i] = x * p.px
		}
		p.w.f.SetDashPattern(lengths, 0)
	}
}

// fill colours or rules what an odd number of paths goes round.
func (p placed) fill(drawn string, box geom.Box, fill pic.Fill) {
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
		p.w.f.RawWriteStr(drawn + "f*\n")
		return
	}
	if h, ok := theme.HatchingOnPaper(fill); ok {
		p.hatch(drawn, box, h)
	}
}

// hatch rules an area with lines that run on from area to area.
func (p placed) hatch(drawn string, box geom.Box, h theme.Hatching) {
	s := theme.PenOnPaper(h.Pen)
	if h.Pen == pic.Chosen {
		s.Width = 1
	}
	turn := h.Degrees * math.Pi / 180
	ruled := geom.Nowhere() // in a system whose y runs along the lines
	for _, q := range []geom.Pt{box.Min, box.Max, {X: box.Min.X, Y: box.Max.Y}, {X: box.Max.X, Y: box.Min.Y}} {
		ruled = ruled.With(q.Turn(-turn))
	}
	step := h.Apart * p.px
	if n := ruled.W() / step; !(n < 10000) {
		return
	}
	p.w.f.RawWriteStr("q\n" + drawn + "W* n\n")
	p.stroke(s)
	for a := (math.Floor(ruled.Min.X/step) + 0.5) * step; a < ruled.Max.X; a += step {
		from, to := geom.Pt{X: a, Y: ruled.Min.Y}.Turn(turn), geom.Pt{X: a, Y: ruled.Max.Y}.Turn(turn)
		p.w.f.Line(from.X, from.Y, to.X, to.Y)
	}
	p.w.f.RawWriteStr("Q\n")
}

// commands are paths as operators of a page's content (ISO 32000-1:2008,
// 8.5.2), to a hundred-thousandth of a point: the library writes hundredths.
func (w *writer) commands(paths []geom.Path) string {
	c := content{height: w.pageHeight()}
	for _, p := range paths {
		c.op('m', p.From)
		at := p.From
		for _, s := range p.Segs {
			c.segment(at, s)
			at = s.To
		}
		if p.Closed {
			c.b = append(c.b, "h\n"...)
		}
	}
	return string(c.b)
}

// content is operators as they are written; height is that of the page, from
// whose foot PDF measures.
type content struct {
	b      []byte
	height float64
}

func (c *content) op(operator byte, pts ...geom.Pt) {
	for _, q := range pts {
		c.number(q.X * pointsPerMM)
		c.number((c.height - q.Y) * pointsPerMM)
	}
	c.b = append(c.b, operator, '\n')
}

func (c *content) number(x float64) {
	c.b = strconv.AppendFloat(c.b, x, 'f', 5, 64)
	c.b = append(c.b, ' ')
}

// curveError is how far a cubic curve may lie from its arc, in millimetres.
const curveError = 1e-4

// segment writes a line, or an arc as cubic curves. A cubic that meets a
// quarter circle of radius 1 with its tangents at both ends and its middle
// lies up to 2.73e-4 from it; the error falls as the sixth power of the angle.
func (c *content) segment(at geom.Pt, s geom.Seg) {
	_, r, _, _ := s.Arc(at)
	if !(r < 1e9) {
		c.op('l', s.To)
		return
	}
	most := math.Pi / 2 * min(1, math.Pow(curveError/(2.73e-4*r), 1.0/6))
	for _, s := range s.Split(at, most) {
		// The handles are 4/3·tan(turn/4) of the radius long, along the tangents.
		centre, _, _, _ := s.Arc(at)
		k := 4.0 / 3 * s.Bulge
		c.op('c', at.Plus(at.Minus(centre).Left().Times(k)), s.To.Minus(s.To.Minus(centre).Left().Times(k)), s.To)
		at = s.To
	}
}
