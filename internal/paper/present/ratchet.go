package present

import (
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// Ratchet sets out a ratchet wheel to be cut and the place of its click.
func Ratchet(a ratchet.Answer) doc.Doc {
	d := doc.Doc{Title: fmt.Sprintf("Ratchet of %d", a.Query.Count)}
	open := doc.Section{Body: []doc.Block{ratchetFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open)
	if a.Complete {
		d.Sections = append(d.Sections, doc.Section{Heading: "To be cut", Body: []doc.Block{ratchetDrawing(a)}})
		if a.Drawn != nil {
			d.Sections = append(d.Sections, doc.Section{Heading: "The click in its place", Body: []doc.Block{clickFigure(a), clickDrawing(a)}})
		}
	}
	return d
}

func ratchetFacts(a ratchet.Answer) doc.Facts {
	f := doc.Facts{{Label: "Teeth", Value: strconv.Itoa(int(a.Query.Count)), Note: unit.Text(a.PerTooth, "°", 3) + " each"}}
	add := func(label string, q fact, note string) {
		if q.value != "" {
			f = append(f, doc.Fact{Label: label, Value: q.value, Unit: q.unit, Doubt: q.doubt, Note: note})
		}
	}
	add("Over the tips", quantity(a.Diameter, "mm", 2), "")
	if a.Complete {
		add("Cutter", quantity(meas.Exactly(a.Opening), "°", 1), "between the sides of a space; the nose of the click is no blunter")
	}
	add("Click, pivot to nose", quantity(a.Click, "mm", 2), "")
	add("Its pivot from the centre", quantity(a.Distance, "mm", 2), "")
	add("The face draws it in by", quantity(a.Draw, "°", 1), "at the tip of the tooth, where it is least; below nought it pushes it out")
	clickFacts(a, add)
	return f
}

// ratchetDrawing is the wheel with the pivot of its click, and three teeth
// enlarged.
func ratchetDrawing(a ratchet.Answer) doc.Drawing {
	r := a.Diameter.Value.MM() / 2
	title := fmt.Sprintf("Ratchet, %d teeth", a.Query.Count)
	box := square(r)
	pivot, nose := clickPlace(a)
	if a.Drawn != nil {
		box = box.Join(a.Drawn.Outline.Bounds())
	}
	if a.Click.Set {
		box = box.With(pivot.Plus(geom.Pt{X: 3, Y: 3})).With(pivot.Minus(geom.Pt{X: 3, Y: 3}))
	}
	v := beginView(title, "The wheel with its faces to the clockwise side, and the line from the pivot of the click to its nose.", box, 10, 6)
	v.cut(a.Teeth.Outline())
	if a.Query.Bore.Set {
		v.cut(geom.Round(geom.Pt{}, a.Query.Bore.Value.MM()/2))
	}
	v.guide(geom.Round(geom.Pt{}, r))
	v.cross(geom.Pt{}, r+3)
	if a.Click.Set {
		v.cross(pivot, 3)
		v.guide(straight(nose, pivot))
		if a.Drawn != nil {
			v.lines(centreLayer, pic.Dashed, a.Drawn.Outline)
		}
		beside := 6.0
		if a.Drawn != nil {
			beside = a.Drawn.Outline.Bounds().Max.X - r + 5
		}
		v.dim(nose, pivot, beside, unit.Number(a.Click.Value.MM(), 2))
	}
	v.dim(geom.Pt{X: -r}, geom.Pt{X: r}, -(box.Max.Y + 8), "⌀ "+unit.Number(2*r, 2))
	d := doc.Drawing{Name: "ratchet", Title: title, Views: []doc.View{v.view("True size", 1), ratchetDetail(a)}, Data: ratchetData(a)}
	d.Notes = append(drawingNotes(a.Findings), "As drawn the wheel is held against turning clockwise and wound the other way. Corners are drawn sharp.")
	return d
}

func ratchetData(a ratchet.Answer) []doc.Datum {
	d := []doc.Datum{
		{Name: "Teeth", Value: fmt.Sprintf("%d, %s each", a.Query.Count, unit.Text(a.PerTooth, "°", 3))},
		{Name: "Over the tips", Value: a.Diameter.Text("mm", 3)},
		{Name: "At the root", Value: unit.Text(a.Root, "mm", 3)},
		{Name: "Depth", Value: unit.Text(a.Depth, "mm", 3)},
		{Name: "Undercut of the face", Value: unit.Text(a.Undercut, "°", 1)},
		{Name: "Land of the tip", Value: unit.Text(a.Land, "mm", 3)},
		{Name: "Sides of a space", Value: unit.Text(a.Opening, "°", 1)},
	}
	if a.Click.Set {
		d = append(d, doc.Datum{Name: "Click, pivot to nose", Value: a.Click.Text("mm", 3)}, doc.Datum{Name: "Its pivot from the centre", Value: a.Distance.Text("mm", 3)})
	}
	return d
}

// clickPlace is where pivot and nose are: the nose at the tip on the x axis, in
// front of its face.
func clickPlace(a ratchet.Answer) (pivot, nose geom.Pt) {
	r, l, d := a.Diameter.Value.MM()/2, a.Click.Value.MM(), a.Distance.Value.MM()
	nose = geom.Pt{X: r}
	if !a.Click.Set {
		return nose, nose
	}
	at := math.Acos(min(max((d*d-r*r-l*l)/(2*r*l), -1), 1))
	return nose.Plus(geom.Polar(l, at)), nose
}

func ratchetDetail(a ratchet.Answer) doc.View {
	piece := a.Teeth.Run(3)
	turned := piece.Map(func(p geom.Pt) geom.Pt { return p.Turn(-a.Teeth.Step()) }, false)
	box := turned.Bounds()
	scale := enlargement(math.Max(box.W(), box.H()))
	margin := 14 / scale
	v := beginView("Three teeth, "+times(scale), "Three teeth with their depth.", box, margin, 0)
	v.cut(turned)
	v.dim(geom.Pt{X: a.Teeth.Root, Y: box.Max.Y}, geom.Pt{X: a.Teeth.Tip, Y: box.Max.Y}, -margin/2, unit.Number(a.Depth.MM(), 2))
	return v.view("Three teeth, "+times(scale), scale)
}
