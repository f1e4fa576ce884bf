package present

import (
	"math"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// elevationSection draws the pendulum where rod and bob are known.
func elevationSection(a pendulum.Answer) *doc.Section {
	c := a.Compound
	if !c.BobCentre.Set {
		return nil
	}
	t := doc.Table{Caption: "Distances from the bending point of the suspension", Columns: []doc.Column{{Head: "To"}, {Head: "Distance", Unit: "mm", Number: true}, {Head: "±", Number: true}}}
	for _, r := range elevationMarks(a) {
		t.Rows = append(t.Rows, []string{r.name, unit.Number(r.at*1e3, 1), r.doubt})
	}
	caption := "The pendulum to scale from its suspension down."
	if c.Found {
		caption += " The bob stands where the beat wants it."
	}
	return &doc.Section{Heading: "Rod and bob", Body: []doc.Block{doc.Figure{
		Name: "pendulum", Caption: caption, Numbers: &t,
		Wide: elevation(a, 640), Narrow: elevation(a, 340),
	}}}
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
		{"centre of gravity", float64(c.Gravity.Value), doubt(quantity(c.Gravity, "mm", 1)), pic.Label, pic.Hair},
		{"middle of the bob", float64(c.BobCentre.Value), doubt(quantity(c.BobCentre, "mm", 1)), pic.Name, pic.Ink},
		{"centre of swing", float64(c.Length.Value), doubt(quantity(c.Length, "mm", 1)), pic.Mark, pic.Chosen},
	}
	if c.ToBottom.Set {
		marks = append(marks, mark{"lowest point of the bob", float64(c.ToBottom.Value), doubt(quantity(c.ToBottom, "mm", 1)), pic.Label, pic.Hair})
	}
	if a.Query.RodLength.Set {
		marks = append(marks, mark{"end of the rod", float64(a.Query.RodLength.Value), "", pic.Label, pic.Hair})
	}
	for i := 1; i < len(marks); i++ {
		for j := i; j > 0 && marks[j].at < marks[j-1].at; j-- {
			marks[j], marks[j-1] = marks[j-1], marks[j]
		}
	}
	return marks
}

// elevation draws the pendulum hanging, to one scale in both directions, its
// marks labelled at the right. The upper part of the rod is shortened by a
// break where the bob would else be too small to see.
func elevation(a pendulum.Answer, width float64) pic.Picture {
	const top, height, lead = 34.0, 400.0, 22.0
	marks := elevationMarks(a)
	deepest := marks[len(marks)-1].at
	scale := height / deepest
	axis := width * 0.2
	p := pic.Picture{W: width, Title: "The pendulum in elevation", Desc: elevationWords(marks)}
	at := func(m float64) float64 { return top + m*scale }
	p.Add(
		pic.Text{P: pic.Pt{X: axis, Y: 16}, S: "suspension", Anchor: pic.Middle, Style: pic.Label},
		pic.Line{A: pic.Pt{X: axis - 16, Y: top}, B: pic.Pt{X: axis + 16, Y: top}, Pen: pic.Heavy},
	)
	drawRod(&p, a, axis, at, scale)
	drawBob(&p, a, axis, at, scale)
	rows := spread(marks, at, lead)
	for i, m := range marks {
		y := at(m.at)
		x0, x1 := axis+bobReach(a, scale)+8, axis+bobReach(a, scale)+40
		p.Add(
			pic.Line{A: pic.Pt{X: axis - 6, Y: y}, B: pic.Pt{X: axis + 6, Y: y}, Pen: m.pen},
			pic.Poly{Pts: []pic.Pt{{X: axis + 8, Y: y}, {X: x0, Y: y}, {X: x1, Y: rows[i]}}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: x1 + 5, Y: rows[i] + 5}, S: unit.Number(m.at*1e3, 1) + " " + m.name, Style: m.style},
		)
	}
	p.H = math.Max(at(deepest), rows[len(rows)-1]) + 24
	return p
}

func elevationWords(marks []mark) string {
	s := "From the suspension down:"
	for i, m := range marks {
		if i > 0 {
			s += ","
		}
		s += " " + m.name + " at " + unit.Number(m.at*1e3, 1) + " mm"
	}
	return s + "."
}

// spread keeps labels a line apart, each as near to its mark as may be.
func spread(marks []mark, at func(float64) float64, lead float64) []float64 {
	rows := make([]float64, len(marks))
	for i, m := range marks {
		rows[i] = at(m.at)
		if i > 0 && rows[i] < rows[i-1]+lead {
			rows[i] = rows[i-1] + lead
		}
	}
	return rows
}

func drawRod(p *pic.Picture, a pendulum.Answer, axis float64, at func(float64) float64, scale float64) {
	end := float64(a.Compound.BobCentre.Value)
	if a.Query.RodLength.Set {
		end = float64(a.Query.RodLength.Value)
	}
	wide := 2.0
	for _, w := range []float64{float64(a.Query.RodDiameter.Value), float64(a.Query.RodWidth.Value)} {
		wide = math.Max(wide, w*scale)
	}
	p.Add(pic.Rect{Min: pic.Pt{X: axis - wide/2, Y: at(0)}, W: wide, H: at(end) - at(0), Pen: pic.Ink, Fill: pic.Ground})
}

// bobReach is half the width of the bob as drawn.
func bobReach(a pendulum.Answer, scale float64) float64 {
	return math.Max(float64(a.Query.BobDiameter.Value)/2*scale, 7)
}

func drawBob(p *pic.Picture, a pendulum.Answer, axis float64, at func(float64) float64, scale float64) {
	r := bobReach(a, scale)
	c := pic.Pt{X: axis, Y: at(float64(a.Compound.BobCentre.Value))}
	if a.Query.Bob == pendulum.Cylinder && a.Query.BobHeight.Set {
		h := float64(a.Query.BobHeight.Value) * scale
		p.Add(pic.Rect{Min: pic.Pt{X: axis - r, Y: c.Y - h/2}, W: 2 * r, H: h, Pen: pic.Ink, Fill: pic.Hatch})
		return
	}
	p.Add(pic.Circle{C: c, R: r, Pen: pic.Ink, Fill: pic.Hatch})
}

// arcFigure draws the circular error against the arc, with this clock's arc.
func arcFigure(a pendulum.Answer) doc.Figure {
	t := doc.Table{Caption: "Loss against a very small arc", Columns: []doc.Column{{Head: "Half arc", Unit: "°", Number: true}, {Head: "Loss", Unit: "s a day", Number: true}}}
	top := arcTop(a)
	for i := 1; i <= 8; i++ {
		deg := top * float64(i) / 8
		t.Rows = append(t.Rows, []string{unit.Number(deg, 2), unit.Number(lossAt(deg), 2)})
	}
	return doc.Figure{Name: "arc", Caption: "What the pendulum loses by the width of its swing; where the arc changes, the rate moves along the curve.", Numbers: &t,
		Wide: arcCurve(a, 640), Narrow: arcCurve(a, 340)}
}

// arcTop is the widest arc drawn, in degrees.
func arcTop(a pendulum.Answer) float64 {
	top := math.Max(a.Query.Arc.Value.Degrees(), a.Query.ToArc.Value.Degrees()) * 1.5
	return math.Min(math.Max(math.Ceil(top), 2), 90)
}

func lossAt(deg float64) float64 {
	ans, err := pendulum.Solve(pendulum.Query{Arc: arcReading(deg)})
	if err != nil {
		return math.NaN()
	}
	return -ans.Arc.Loss.Value.PerDay()
}

func arcCurve(a pendulum.Answer, width float64) pic.Picture {
	const left, right, top, bottom, high = 56.0, 20.0, 24.0, 44.0, 220.0
	p := pic.Picture{W: width, H: high + top + bottom, Title: "Circular error against the half arc"}
	most := arcTop(a)
	peak := lossAt(most)
	x := func(deg float64) float64 { return left + deg/most*(width-left-right) }
	y := func(loss float64) float64 { return top + high - loss/peak*high }
	p.Add(pic.Line{A: pic.Pt{X: left, Y: y(0)}, B: pic.Pt{X: width - right, Y: y(0)}, Pen: pic.Ink})
	for i := 0; i <= 4; i++ {
		loss, deg := peak*float64(i)/4, most*float64(i)/4
		if i > 0 {
			p.Add(pic.Line{A: pic.Pt{X: left, Y: y(loss)}, B: pic.Pt{X: width - right, Y: y(loss)}, Pen: pic.Dashed})
		}
		p.Add(pic.Text{P: pic.Pt{X: left - 8, Y: y(loss) + 5}, S: unit.Number(loss, 1), Anchor: pic.End},
			pic.Text{P: pic.Pt{X: x(deg), Y: y(0) + 20}, S: unit.Number(deg, 1) + "°", Anchor: pic.Middle})
	}
	var curve []pic.Pt
	for i := 0; i <= 48; i++ {
		deg := most * float64(i) / 48
		loss := 0.0
		if i > 0 {
			loss = lossAt(deg)
		}
		curve = append(curve, pic.Pt{X: x(deg), Y: y(loss)})
	}
	deg := a.Query.Arc.Value.Degrees()
	loss := -a.Arc.Loss.Value.PerDay()
	p.Desc = "At " + unit.Number(deg, 2) + "° from the vertical it loses " + unit.Number(loss, 2) + " s a day."
	p.Add(pic.Poly{Pts: curve, Pen: pic.Steel},
		pic.Line{A: pic.Pt{X: x(deg), Y: y(0)}, B: pic.Pt{X: x(deg), Y: y(loss)}, Pen: pic.Chosen},
		pic.Circle{C: pic.Pt{X: x(deg), Y: y(loss)}, R: 4, Pen: pic.Chosen, Fill: pic.Ground},
		pic.Text{P: pic.Pt{X: x(deg) - 8, Y: y(loss) - 10}, S: "loses " + unit.Number(loss, 2), Anchor: pic.End, Style: pic.Mark},
		pic.Text{P: pic.Pt{X: 4, Y: 14}, S: "s a day"},
		pic.Text{P: pic.Pt{X: width - right, Y: top + high + 40}, S: "half arc", Anchor: pic.End})
	return p
}

func arcReading(deg float64) meas.Reading[unit.Angle] { return meas.Of(unit.Deg(deg)) }
