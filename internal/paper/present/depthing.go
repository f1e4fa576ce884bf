package present

import (
	"math"

	"seatboard/internal/craft/mesh"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// Mesh sets out the answer of a depthing.
func Mesh(a mesh.Answer) doc.Doc {
	d := doc.Doc{Title: "Depthing"}
	open := doc.Section{Body: []doc.Block{meshFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working})
	for _, b := range []doc.Budget{budget("the lead", a.Lead.Budget), budget("the play", a.Play.Budget), budget("the weakest moment", a.Weakest.Budget)} {
		if len(b.Lines) > 1 {
			open.Margin = append(open.Margin, b)
		}
	}
	open.Margin = append(open.Margin, sources(a.Working, a.Findings))
	if f, ok := meshFigure(a); ok {
		open.Body = append(open.Body, f)
	}
	d.Sections = append(d.Sections, open)
	if len(a.Moments) > 1 && a.Lead.Set {
		d.Sections = append(d.Sections, doc.Section{Heading: "Through one pitch", Body: []doc.Block{turningFigure(a)}})
	}
	if a.Odd != nil {
		d.Sections = append(d.Sections, doc.Section{Heading: "The one tooth", Body: []doc.Block{oddTable(a)}})
	}
	if len(a.Depths) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Nearer and farther", Body: []doc.Block{depthFigure(a), hereAndBest(a)}})
	}
	if len(a.Moments) > 1 {
		d.Sections = append(d.Sections, doc.Section{Heading: "The teeth", Body: []doc.Block{flanksFigure(a)}})
	}
	return d
}

func meshFacts(a mesh.Answer) doc.Facts {
	var f doc.Facts
	add := func(label string, v fact, note string) {
		if v.value != "" {
			f = append(f, doc.Fact{Label: label, Value: v.value, Unit: v.unit, Doubt: v.doubt, Note: note})
		}
	}
	add("Centres", quantity(a.Distance, "mm", 3), offTouching(a))
	if a.State != mesh.Works {
		f = append(f, doc.Fact{Label: "At this distance", Value: stateWords(a.State)})
	}
	add("Lead", quantity(a.Lead, "°", 1), "of the pinion, from where a tooth takes its leaf to the line of centres")
	if a.Lead.Set {
		f = append(f, doc.Fact{Label: "Pinion turns at", Value: unit.Number(100*float64(a.Slowest.Value), 1) + " to " + unit.Number(100*float64(a.Fastest.Value), 1), Unit: "%", Note: "of its even speed"})
	}
	if a.Weakest.Set {
		f = append(f, doc.Fact{Label: "Torque passed on", Value: unit.Number(100*float64(a.Weakest.Value), 0) + " to " + unit.Number(100*float64(a.Strongest.Value), 0), Unit: "%", Note: weakestNote(a)})
	}
	carried(a, &f)
	add("Play of the pinion", quantity(a.Play, "mm", 3), "on its pitch circle, at the least")
	add("Room at the bottoms", quantity(a.Bottom, "mm", 3), "at the least")
	if a.Drop.Value > 0 {
		add("Drop", quantity(a.Drop, "°", 2), "of the wheel, before the next tooth catches up")
	}
	if a.Best.Set {
		add("Best depth", quantity(a.Best, "mm", 3), "fair from "+unit.Text(a.BestLow.Value, "mm", 3)+" to "+unit.Text(a.BestHigh.Value, "mm", 3))
	}
	return f
}

// carried says over what a tooth carries, and where another may in its place.
func carried(a mesh.Answer, f *doc.Facts) {
	if !a.Lead.Set {
		return
	}
	deg := func(x float64) string { return unit.Number(unit.Angle(x).Degrees(), 1) }
	value := ""
	for i, s := range a.Carries {
		if i > 0 {
			value += ", "
		}
		value += deg(s.From-a.Turn.Line) + " to " + deg(s.To-a.Turn.Line)
	}
	note := "of the wheel past the line of centres"
	if len(a.Carries) > 1 {
		note += "; between, the tooth in front carries again"
	}
	*f = append(*f, doc.Fact{Label: "A tooth carries from", Value: value, Unit: "°", Note: note})
	if a.Two == nil {
		return
	}
	*f = append(*f, doc.Fact{Label: "Either of two may carry", Value: deg(min(a.Two.To-a.Two.From, a.Turn.Pitch())), Unit: "°",
		Note: "of the " + unit.Text(unit.Angle(a.Turn.Pitch()), "°", 1) + " from tooth to tooth: there the other pair is nearer than " + unit.Text(unit.Millimetres(a.Two.Within*a.Pair.Pinion.Pitch.MM()), "mm", 3)})
}

func stateWords(s mesh.State) string {
	return map[mesh.State]string{mesh.Works: "runs", mesh.Apart: "the teeth do not meet", mesh.Butts: "a tooth butts on a leaf", mesh.Binds: "the teeth bind", mesh.Locks: "friction locks it"}[s]
}

func offTouching(a mesh.Answer) string {
	off := float64(a.Distance.Value - a.Touching.Value)
	where := "where the pitch circles touch"
	switch {
	case math.Abs(off) < 5e-7:
		return where
	case off > 0:
		return unit.Text(unit.Length(off), "mm", 3) + " wider than " + where
	}
	return unit.Text(unit.Length(-off), "mm", 3) + " closer than " + where
}

func weakestNote(a mesh.Answer) string {
	note := "of the torque of an even pair without friction"
	if a.LeastTorque.Set {
		note += "; at the weakest moment " + a.LeastTorque.Text("N mm", 2)
	}
	return note
}

// hereAndBest sets the distance as it stands beside the best one.
func hereAndBest(a mesh.Answer) doc.Table {
	t := doc.Table{Caption: "As it stands and at the best depth", Columns: []doc.Column{{Head: "What"}, {Head: "Here", Number: true}}}
	var here *mesh.Depth
	if a.State != mesh.Apart {
		d := mesh.Sum(a.Turn)
		here = &d
	}
	all := []*mesh.Depth{here}
	if a.Unworn != nil {
		t.Columns = append(t.Columns, doc.Column{Head: "Before it was worn", Number: true})
		all = append(all, a.Unworn)
	}
	if a.AtBest != nil {
		t.Columns = append(t.Columns, doc.Column{Head: "Best", Number: true})
		all = append(all, a.AtBest)
	}
	deg := func(x float64) string { return unit.Text(unit.Angle(x), "°", 2) }
	per := func(x float64) string { return unit.Number(100*x, 1) + "\u00a0%" }
	mm := func(x float64) string { return unit.Text(unit.Millimetres(x), "mm", 3) }
	for _, row := range []struct {
		what string
		say  func(mesh.Depth) string
	}{
		{"Centres", func(d mesh.Depth) string { return mm(d.Distance) }},
		{"It", func(d mesh.Depth) string { return stateWords(d.State) }},
		{"Lead, of the pinion", func(d mesh.Depth) string { return deg(d.Lead) }},
		{"After the line of centres", func(d mesh.Depth) string { return deg(d.After) }},
		{"Slowest", func(d mesh.Depth) string { return per(d.Slowest) }},
		{"Fastest", func(d mesh.Depth) string { return per(d.Fastest) }},
		{"Weakest moment", func(d mesh.Depth) string { return per(d.Weakest) }},
		{"Strongest moment", func(d mesh.Depth) string { return per(d.Strongest) }},
		{"Work passed on", func(d mesh.Depth) string { return per(d.Mean) }},
		{"Drop, of the wheel", func(d mesh.Depth) string { return deg(d.Drop) }},
		{"Play, of the pinion", func(d mesh.Depth) string { return deg(d.Play) }},
	} {
		cells := []string{row.what}
		for _, d := range all {
			switch {
			case d == nil:
				cells = append(cells, "")
			case d.State == mesh.Binds || d.State == mesh.Butts:
				if row.what != "Centres" && row.what != "It" && row.what != "Play, of the pinion" {
					cells = append(cells, "")
					continue
				}
				fallthrough
			default:
				cells = append(cells, row.say(*d))
			}
		}
		t.Rows = append(t.Rows, cells)
	}
	t.Note = "Speeds over the even one, torque and work over those of an even pair without friction."
	return t
}

// oddTable is what a bent or short tooth does among sound ones.
func oddTable(a mesh.Answer) doc.Table {
	deg := func(x float64) string { return unit.Number(unit.Angle(x).Degrees(), 2) }
	o := a.Odd
	return doc.Table{Caption: "Once in a turn of the wheel", Columns: []doc.Column{{Head: "What"}, {Head: "Angle", Unit: "°", Number: true}},
		Rows: [][]string{{"Lead of this tooth, of the pinion", deg(o.Lead)}, {"Lead of the tooth behind it", deg(o.Next)}, {"Lead of a sound tooth", deg(a.Turn.Lead())},
			{"Throws the pinion forward by", deg(o.Ahead)}, {"Lets it fall back by", deg(o.Behind)}, {"Drop of the wheel behind it", deg(o.Drop)}}}
}
