package present

import (
	"math"
	"slices"
	"strings"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// elevationFigure draws the pendulum where the place of its bob is known.
func elevationFigure(a pendulum.Answer) (f doc.Figure, ok bool) {
	c := a.Compound
	if !c.BobCentre.Set || !c.Length.Set {
		return f, false
	}
	t := doc.Table{Caption: "Distances from the bending point of the suspension", Columns: []doc.Column{{Head: "To"}, {Head: "Distance", Unit: "mm", Number: true}, {Head: "±", Number: true}}}
	for _, m := range elevationMarks(a) {
		t.Rows = append(t.Rows, []string{m.name, unit.Number(m.at*1e3, 1), m.doubt})
	}
	caption := "The pendulum to scale, and its lower end enlarged, to scale too."
	if c.Found {
		caption += " The bob stands where the beat wants it."
	}
	return doc.Figure{Name: "pendulum", Caption: caption, Numbers: &t, Wide: elevation(a, wideFigure), Narrow: elevation(a, narrowFigure)}, true
}

// mark is a place on the pendulum.
type mark struct {
	name  string
	at    float64 // metres below the suspension
	doubt string  // in mm, "" where none
	style pic.Lettering
	pen   pic.Pen
}

// elevationMarks lists what is marked, from the top down.
func elevationMarks(a pendulum.Answer) []mark {
	c := a.Compound
	doubt := func(f fact) string { return trimDoubt(f.doubt) }
	marks := []mark{
		{"centre of gravity", float64(c.Gravity.Value), doubt(quantity(c.Gravity, "mm", 1)), pic.Label, pic.Ink},
		{"middle of the bob", float64(c.BobCentre.Value), doubt(quantity(c.BobCentre, "mm", 1)), pic.Label, pic.Ink},
		{"centre of swing", float64(c.Length.Value), doubt(quantity(c.Length, "mm", 1)), pic.Mark, pic.Chosen},
	}
	if c.ToBottom.Set {
		marks = append(marks, mark{"bottom of the bob", float64(c.ToBottom.Value), doubt(quantity(c.ToBottom, "mm", 1)), pic.Label, pic.Hair})
	}
	if q := a.Query; q.RodLength.Set {
		marks = append(marks, mark{"end of the rod", float64(q.RodLength.Value), doubt(quantity(stated(q.RodLength), "mm", 1)), pic.Label, pic.Hair})
	}
	slices.SortStableFunc(marks, func(x, y mark) int {
		switch {
		case x.at < y.at:
			return -1
		case x.at > y.at:
			return 1
		}
		return 0
	})
	return marks
}

// elevationSheet is where things stand in the figure, in pixels.
type elevationSheet struct {
	a          pendulum.Answer
	marks      []mark
	deep       float64 // metres shown of the whole
	from, to   float64 // metres shown of the lower end
	scale      float64 // of the whole, pixels a metre
	zoom       float64 // of the lower end
	axis, near float64 // of the whole and of the lower end
	reach      float64 // room for half a bob at the lower end
}

const (
	elevationTop  = 40.0
	elevationHigh = 400.0
	oneLine       = 600.0 // from this width on a mark is named on one line
	markReach     = 7.0   // half a bob of unknown size, and half a short mark
)

func newElevationSheet(a pendulum.Answer, width float64) elevationSheet {
	s := elevationSheet{a: a, marks: elevationMarks(a)}
	s.deep = s.marks[len(s.marks)-1].at
	if n := s.nut(); n > s.deep {
		s.deep = n
	}
	s.from, s.to = s.marks[0].at, s.deep
	if v, h := bobSize(a); h > 0 {
		s.from = math.Min(s.from, float64(a.Compound.BobCentre.Value)-h)
		s.to = math.Max(s.to, float64(a.Compound.BobCentre.Value)+h)
		s.deep = math.Max(s.deep, s.to)
		s.reach = v
	}
	span := math.Max(s.to-s.from, s.deep/50)
	s.from, s.to = math.Max(s.from-span/8, 0), s.to+span/12
	s.axis, s.near = width*.11, width*.42
	room := width * .13
	if width < oneLine {
		s.near, room = width*.4, width*.11
	}
	s.scale = elevationHigh / s.deep
	if s.reach > 0 {
		s.scale = math.Min(s.scale, (s.axis-6)/s.reach)
	}
	s.zoom = elevationHigh / (s.to - s.from)
	if s.reach > 0 {
		s.zoom = math.Min(s.zoom, room/s.reach)
	}
	s.reach = math.Max(s.reach*s.zoom, markReach)
	return s
}

// bobSize is half the width and half the height of the bob, 0 where unknown.
func bobSize(a pendulum.Answer) (across, down float64) {
	q := a.Query
	if !q.BobDiameter.Set {
		return 0, 0
	}
	r := float64(q.BobDiameter.Value) / 2
	if q.Bob == pendulum.Cylinder {
		return r, float64(q.BobHeight.Value) / 2
	}
	return r, r
}

// nut is the place of the nut, 0 where it is not known or there is none.
func (s elevationSheet) nut() float64 {
	q, c := s.a.Query, s.a.Compound
	switch {
	case !q.NutMass.Set && !q.NutPitch.Set:
		return 0
	case q.NutAt.Set:
		return float64(q.NutAt.Value)
	}
	return float64(c.ToBottom.Value)
}

// elevation draws the pendulum hanging: the whole at the left, its lower end
// enlarged beside it, with its marks named at the right.
func elevation(a pendulum.Answer, width float64) pic.Picture {
	s := newElevationSheet(a, width)
	p := pic.Picture{W: width, Title: "The pendulum in elevation", Desc: elevationWords(s.marks)}
	whole := func(m float64) float64 { return elevationTop + m*s.scale }
	lower := func(m float64) float64 { return elevationTop + (m-s.from)*s.zoom }
	s.drawWhole(&p, whole)
	s.drawRod(&p, s.near, s.zoom, lower, s.from)
	s.drawBob(&p, s.near, s.zoom, lower)
	p.H = math.Max(s.drawMarks(&p, lower), whole(s.deep)) + 22
	p.H = math.Max(p.H, lower(s.to)+10)
	return p
}

// drawWhole draws suspension, rod and bob, the length to the centre of swing,
// and the frame of what is enlarged.
func (s elevationSheet) drawWhole(p *pic.Picture, at func(float64) float64) {
	p.Add(pic.Text{P: pic.Pt{X: 6, Y: 16}, S: "suspension"},
		pic.Line{A: pic.Pt{X: s.axis - 14, Y: at(0)}, B: pic.Pt{X: s.axis + 14, Y: at(0)}, Pen: pic.Heavy})
	s.drawRod(p, s.axis, s.scale, at, 0)
	s.drawBob(p, s.axis, s.scale, at)
	wide := s.reach/s.zoom*s.scale + 4
	left, right := math.Max(s.axis-wide, 2), s.axis+wide
	top, bottom := at(s.from), math.Min(at(s.to), at(s.deep)+8)
	if p.W >= oneLine { // a narrow figure has no room beside the rod
		x, l := s.axis, float64(s.a.Compound.Length.Value)
		p.Add(pic.Dim{A: pic.Pt{X: x, Y: at(0)}, B: pic.Pt{X: x, Y: at(l)}, S: distance(l), Off: math.Max(wide+26, 30)})
	}
	p.Add(pic.Rect{Min: pic.Pt{X: left, Y: top}, W: right - left, H: bottom - top, Pen: pic.Hair},
		pic.Line{A: pic.Pt{X: right, Y: top}, B: pic.Pt{X: s.near - s.reach - 6, Y: elevationTop}, Pen: pic.Hair},
		pic.Line{A: pic.Pt{X: right, Y: bottom}, B: pic.Pt{X: s.near - s.reach - 6, Y: elevationTop + (s.to-s.from)*s.zoom}, Pen: pic.Hair})
}

// drawRod draws the rod from a depth down to its end.
func (s elevationSheet) drawRod(p *pic.Picture, axis, scale float64, at func(float64) float64, from float64) {
	q := s.a.Query
	end := float64(s.a.Compound.BobCentre.Value)
	if q.RodLength.Set {
		end = float64(q.RodLength.Value)
	}
	wide := 2.0
	for _, w := range []float64{float64(q.RodDiameter.Value), float64(q.RodWidth.Value)} {
		wide = math.Max(wide, math.Min(w*scale, 2*axis-4))
	}
	if end > from {
		p.Add(pic.Rect{Min: pic.Pt{X: axis - wide/2, Y: at(from)}, W: wide, H: at(end) - at(from), Pen: pic.Ink, Fill: pic.Ground})
	}
}

// drawBob draws bob and nut; a bob of unknown size is a small ring.
func (s elevationSheet) drawBob(p *pic.Picture, axis, scale float64, at func(float64) float64) {
	c := pic.Pt{X: axis, Y: at(float64(s.a.Compound.BobCentre.Value))}
	across, down := bobSize(s.a)
	if n := s.nut(); n > 0 {
		h := math.Min(math.Max(.006*scale, 2), 10)
		p.Add(pic.Rect{Min: pic.Pt{X: axis - h, Y: at(n)}, W: 2 * h, H: h, Pen: pic.Ink, Fill: pic.Hatch2})
	}
	switch {
	case across == 0 || down == 0:
		p.Add(pic.Circle{C: c, R: markReach, Pen: pic.Dashed})
	case s.a.Query.Bob == pendulum.Cylinder:
		p.Add(pic.Rect{Min: pic.Pt{X: axis - across*scale, Y: c.Y - down*scale}, W: 2 * across * scale, H: 2 * down * scale, Pen: pic.Ink, Fill: pic.Hatch})
	default:
		p.Add(pic.Circle{C: c, R: across * scale, Pen: pic.Ink, Fill: pic.Hatch})
	}
}

// drawMarks names the places at the right, each as near to its mark as the
// others let it, and returns how far down they go.
func (s elevationSheet) drawMarks(p *pic.Picture, at func(float64) float64) float64 {
	lead, lines := 24.0, 1
	if p.W < oneLine {
		lead, lines = 42, 2
	}
	rows := spread(s.marks, at, lead)
	x0 := s.near + s.reach + 8
	x1 := x0 + .05*p.W
	for i, m := range s.marks {
		y := at(m.at)
		p.Add(pic.Line{A: pic.Pt{X: s.near - markReach, Y: y}, B: pic.Pt{X: s.near + markReach, Y: y}, Pen: m.pen},
			pic.Poly{Pts: []pic.Pt{{X: s.near + markReach + 2, Y: y}, {X: x0, Y: y}, {X: x1, Y: rows[i]}}, Pen: pic.Hair})
		value := distance(m.at)
		if lines == 1 {
			p.Add(pic.Text{P: pic.Pt{X: x1 + 5, Y: rows[i] + 5}, S: value + "  " + m.name, Style: m.style})
			continue
		}
		p.Add(pic.Text{P: pic.Pt{X: x1 + 4, Y: rows[i] + 5}, S: value, Style: m.style},
			pic.Text{P: pic.Pt{X: x1 + 4, Y: rows[i] + 23}, S: m.name, Style: m.style})
	}
	return rows[len(rows)-1] + float64(lines-1)*18
}

// spread keeps labels a line apart, as near to their marks as may be, the
// last pushed up again where they would run far below the figure.
func spread(marks []mark, at func(float64) float64, lead float64) []float64 {
	rows := make([]float64, len(marks))
	for i, m := range marks {
		rows[i] = at(m.at)
		if i > 0 {
			rows[i] = math.Max(rows[i], rows[i-1]+lead)
		}
	}
	last := len(rows) - 1
	if limit := elevationTop + elevationHigh; rows[last] > limit {
		rows[last] = math.Max(limit, elevationTop+float64(last)*lead)
		for i := last - 1; i >= 0; i-- {
			rows[i] = math.Min(rows[i], rows[i+1]-lead)
		}
	}
	return rows
}

// distance writes millimetres, metres from ten on.
func distance(m float64) string {
	if m >= 10 {
		return unit.Significant(m, 6) + " m"
	}
	return unit.Number(m*1e3, 1) + " mm"
}

func elevationWords(marks []mark) string {
	var parts []string
	for _, m := range marks {
		parts = append(parts, m.name+" at "+distance(m.at))
	}
	return "From the suspension down: " + strings.Join(parts, ", ") + "."
}
