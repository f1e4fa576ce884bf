package present

import (
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/craft/strikework"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// StrikeWork sets out a rack with its snail, or a count wheel, to be cut.
func StrikeWork(a strikework.Answer) doc.Doc {
	d := doc.Doc{Title: "Rack and snail"}
	if a.CountWheel != nil {
		d.Title = "Count wheel"
	}
	open := doc.Section{}
	if f := strikeWorkFacts(a); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open)
	if !a.Complete {
		return d
	}
	if a.CountWheel != nil {
		d.Sections = append(d.Sections, doc.Section{Heading: "To be cut", Body: []doc.Block{countWheelDrawing(a)}},
			doc.Section{Heading: "Where the slots are", Body: []doc.Block{slotTable(*a.CountWheel)}})
		return d
	}
	d.Sections = append(d.Sections, doc.Section{Heading: "To be cut", Body: []doc.Block{snailDrawing(a), rackDrawing(a)}},
		doc.Section{Heading: "Hour by hour", Body: []doc.Block{snailTable(*a.Rack)}})
	return d
}

func strikeWorkFacts(a strikework.Answer) doc.Facts {
	if w := a.CountWheel; w != nil {
		f := doc.Facts{{Label: "Divisions", Value: strconv.Itoa(w.Divisions), Note: unit.Text(w.Division, "°", 4) + " each"}, {Label: "Slots", Value: strconv.Itoa(len(w.Slots)), Note: "one after each hour's blows, and each half hour's"}}
		if a.Query.Blows != strikework.HalfHours {
			f[1].Note = "one after each hour's blows"
		}
		if w.Report != "" {
			f = append(f, doc.Fact{Label: "Turns of the pin wheel", Value: w.Report, Note: "for one of the count wheel"})
		}
		return f
	}
	r := a.Rack
	if r == nil {
		return nil
	}
	var f doc.Facts
	add := func(label string, q fact, note string) {
		f = append(f, doc.Fact{Label: label, Value: q.value, Unit: q.unit, Doubt: q.doubt, Note: note})
	}
	add("Pitch of the rack", quantity(r.Pitch, "mm", 3), "along the tips")
	add("A tooth of the rack", quantity(meas.Exactly(r.Tooth), "°", 3), "about its pivot")
	add("Fall of a step", quantity(r.Fall, "mm", 3), "the mean of eleven")
	add("Pivot to the snail's centre", quantity(meas.Exactly(r.Centres), "mm", 2), "")
	return f
}

// snailTable has the radii, and how they fall.
func snailTable(r strikework.Rack) doc.Table {
	t := doc.Table{Caption: "Radii of the snail", Columns: []doc.Column{{Head: "Hour"}, {Head: "Radius", Unit: "mm", Number: true}, {Head: "Fall", Unit: "mm", Number: true}},
		Note: "Equal teeth of the rack want these falls; equal falls would be off by up to " + unit.Text(r.Uneven, "mm", 3) + "."}
	for k, x := range r.Radii {
		fall := ""
		if k > 0 {
			fall = unit.Number((r.Radii[k-1] - x).MM(), 3)
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(k + 1), unit.Number(x.MM(), 3), fall})
	}
	return t
}

// snailDrawing is the snail at true size.
func snailDrawing(a strikework.Answer) doc.Drawing {
	r := a.Rack
	big := r.Radii[0].MM()
	title := fmt.Sprintf("Snail of %d steps", r.Steps)
	v := beginView(title, "The snail seen from the dial side, with the hours against the clock.", square(big), 12, 0)
	v.cut(r.Snail())
	if a.Query.Bore.Set {
		v.cut(geom.Round(geom.Pt{}, a.Query.Bore.Value.MM()/2))
	}
	v.cross(geom.Pt{}, big+1.5)
	for k := range r.Radii {
		v.mark(geom.Polar(big+5.5, -float64(k)*2*math.Pi/float64(len(r.Radii))), strconv.Itoa(k+1))
	}
	v.dim(geom.Pt{}, geom.Pt{X: big}, 0, "R "+unit.Number(big, 2))
	d := doc.Drawing{Name: "snail", Title: title, Views: []doc.View{v.view("True size", 1)}}
	for k, x := range r.Radii {
		d.Data = append(d.Data, doc.Datum{Name: strconv.Itoa(k+1) + " o'clock", Value: "R " + unit.Text(x, "mm", 3)})
	}
	d.Notes = append(drawingNotes(a.Findings), "Seen from the dial side; the snail turns clockwise.")
	return d
}

// mark writes a word with its middle at a point.
func (v *cutView) mark(p geom.Pt, words string) {
	const size = 3.2
	q := v.at(p)
	v.p.Add(pic.Group{Layer: dimLayer, Items: []pic.Item{pic.Text{P: pic.Pt{X: q.X, Y: q.Y + size/3}, S: words, Anchor: pic.Middle, Style: pic.Plain, Size: size}}})
}

// countWheelDrawing is the count wheel at true size.
func countWheelDrawing(a strikework.Answer) doc.Drawing {
	w := a.CountWheel
	r := a.Query.Diameter.Value.MM() / 2
	title := fmt.Sprintf("Count wheel of %d divisions", w.Divisions)
	v := beginView(title, "The count wheel with its slots, and the hour that was struck before each.", square(r), 12, 6)
	v.cut(w.Outline())
	if a.Query.Bore.Set {
		v.cut(geom.Round(geom.Pt{}, a.Query.Bore.Value.MM()/2))
	}
	v.cross(geom.Pt{}, r+3)
	for _, s := range w.Slots {
		if len(s.Hour) <= 2 {
			v.mark(geom.Polar(r-w.Depth.MM()-3.5, -float64(s.Angle)), s.Hour)
		}
	}
	v.dim(geom.Pt{X: -r}, geom.Pt{X: r}, -(r + 10), "⌀ "+unit.Number(2*r, 2))
	d := doc.Drawing{Name: "count-wheel", Title: title, Views: []doc.View{v.view("True size", 1)}, Data: []doc.Datum{
		{Name: "Divisions", Value: fmt.Sprintf("%d, %s each", w.Divisions, unit.Text(w.Division, "°", 4))},
		{Name: "Diameter", Value: unit.Number(2*r, 3) + "\u00a0mm"},
		{Name: "Slots", Value: strconv.Itoa(len(w.Slots))},
		{Name: "Width of a slot at the rim", Value: unit.Text(w.Width, "mm", 3)},
		{Name: "Depth of a slot", Value: unit.Text(w.Depth, "mm", 3)},
	}}
	d.Notes = append(drawingNotes(a.Findings), "The wheel turns clockwise as drawn. A figure stands under the slot that its hour ends in.")
	return d
}

// slotTable is where each slot is cut, for the dividing plate.
func slotTable(w strikework.Wheel) doc.Table {
	t := doc.Table{Caption: "Slots", Columns: []doc.Column{{Head: "Ends"}, {Head: "After", Unit: "divisions", Number: true}, {Head: "At", Unit: "°", Number: true}},
		Note: fmt.Sprintf("Count the divisions on a circle divided into %d.", w.Divisions)}
	for _, s := range w.Slots {
		t.Rows = append(t.Rows, []string{s.Hour, strconv.Itoa(s.After), unit.Number(s.Angle.Degrees(), 3)})
	}
	return t
}
