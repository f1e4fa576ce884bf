package present

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/identify"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Identify sets out what a screw, wire, drill or pin may be.
func Identify(a identify.Answer) doc.Doc {
	open := doc.Section{Body: []doc.Block{identifyFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Body = append(open.Body, candidateTable(a))
	if f, ok := sizesFigure(a); ok {
		open.Body = append(open.Body, f)
	}
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d := doc.Doc{Title: "Screw, wire, drill or pin", Sections: []doc.Section{open}}
	if t := makeTable(a); len(t.Rows) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "To make it", Body: []doc.Block{t}})
	}
	if t := fitTable(a); len(t.Rows) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "The hole for it", Body: []doc.Block{t}})
	}
	return d
}

func identifyFacts(a identify.Answer) doc.Facts {
	var f doc.Facts
	switch {
	case a.Query.What != "" && a.None > .5:
		f = append(f, doc.Fact{Label: "Most likely", Value: "no standard", Note: chanceWords(a.None) + "; make to fit"})
	case len(a.Candidates) > 0:
		c := a.Candidates[0]
		note := chanceWords(c.Chance)
		if a.Tied > 1 {
			note += fmt.Sprintf("; one of %d that are not told apart", a.Tied)
		}
		f = append(f, doc.Fact{Label: "Most likely", Value: c.Name, Note: note})
	}
	d := quantity(stated(a.Query.Diameter), "mm", 2)
	f = append(f, doc.Fact{Label: identifyLabel(a.Query.What), Value: d.value, Unit: d.unit, Doubt: d.doubt, Note: "as measured"})
	if a.Pitch.Set {
		p := quantity(a.Pitch, "mm", 3)
		f = append(f, doc.Fact{Label: "Pitch", Value: p.value, Unit: p.unit, Doubt: p.doubt, Note: unit.Number(unit.In(a.Pitch.Value, "tpi"), 1) + " to the inch"})
	}
	f = append(f, doc.Fact{Label: "Chance of no standard", Value: unit.Number(100*a.None, 0), Unit: "%"})
	return f
}

// identifyLabel names the diameter that was measured.
func identifyLabel(what string) string {
	switch what {
	case identify.Hole:
		return "Bore"
	case identify.Sheet:
		return "Thickness"
	case identify.WoodScrew:
		return "Shank"
	}
	return "Diameter"
}

func chanceWords(p float64) string {
	switch {
	case p > .995:
		return "more than 99 in 100"
	case p < .005:
		return "less than 1 in 100"
	}
	return unit.Number(100*p, 0) + " in 100"
}

func candidateTable(a identify.Answer) doc.Table {
	threaded := len(a.Candidates) > 0 && a.Candidates[0].Thread != nil
	t := doc.Table{Caption: "What it may be", Columns: []doc.Column{{Head: "Size"}, {Head: "Chance", Unit: "%", Number: true}, {Head: "Measures from", Unit: "mm", Number: true}, {Head: "To", Unit: "mm", Number: true}},
		Note: fmt.Sprintf("“From” and “to” are what a genuine one may measure. Of no standard here: %s %%.", unit.Number(100*a.None, 0))}
	if threaded {
		t.Columns = append(t.Columns, doc.Column{Head: "Pitch", Unit: "mm", Number: true}, doc.Column{Head: "Threads an inch", Number: true}, doc.Column{Head: "Since", Number: true})
		t.Note += " “Since” is when it came into use, from memory."
	}
	for i, c := range a.Candidates {
		if i > 0 && i >= a.Tied && c.Chance < .0005 {
			break
		}
		row := []string{c.Name, unit.Number(100*c.Chance, 1), unit.Number(c.Low.MM(), 3), unit.Number(c.High.MM(), 3)}
		if threaded {
			p := c.Thread.Pitch
			row = append(row, unit.Number(unit.In(p, "mm"), 3), unit.Number(unit.In(p, "tpi"), 1), fmt.Sprint(c.Since))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// makeTable is how the likeliest threads are made.
func makeTable(a identify.Answer) doc.Table {
	t := doc.Table{Caption: "The threads that it may be", Columns: []doc.Column{{Head: "Thread"}, {Head: "Angle", Unit: "°", Number: true}, {Head: "Depth", Unit: "mm", Number: true}, {Head: "Core", Unit: "mm", Number: true},
		{Head: "Effective", Unit: "mm", Number: true}, {Head: "Tapping hole", Unit: "mm", Number: true}, {Head: "Drills"}, {Head: "Clear", Unit: "mm", Number: true}}}
	for i, c := range a.Candidates {
		if c.Make == nil || a.None > .5 || (i > 0 && i >= a.Tied) {
			continue
		}
		m := c.Make
		t.Note = fmt.Sprintf("The tapping hole leaves %s %% of the depth of thread in engagement; the clearing drill is 5 %% over the thread (common practice). Try both on scrap first.", unit.Number(100*float64(m.Engagement), 0))
		var drills []string
		for _, g := range m.Drills {
			drills = append(drills, strings.TrimSuffix(g.Name(), " drill"))
		}
		t.Rows = append(t.Rows, []string{c.Name, strings.TrimSuffix(unit.Number(m.Angle.Degrees(), 1), ".0"), mmNumber(m.Depth, 3), mmNumber(m.Core, 2), mmNumber(m.Effective, 2), mmNumber(m.Tapping, 2), strings.Join(drills, ", "), mmNumber(m.Clearance.D, 2)})
	}
	return t
}

// fitTable is how the likeliest pin sits in holes.
func fitTable(a identify.Answer) doc.Table {
	t := doc.Table{Columns: []doc.Column{{Head: "Hole"}, {Head: "Least", Unit: "mm", Number: true}, {Head: "Greatest", Unit: "mm", Number: true},
		{Head: "Tightest play", Unit: "µm", Number: true}, {Head: "Loosest play", Unit: "µm", Number: true}}}
	if a.None > .5 || len(a.Candidates) == 0 {
		return t
	}
	c := a.Candidates[0]
	t.Caption = "Holes for a " + c.Name + " made to m6"
	t.Note = "ISO 286; play below nought is what it is driven in by. A pin of an old clock is of no class: ream to fit the pin that is there."
	for _, f := range c.Fits {
		t.Rows = append(t.Rows, []string{f.Hole, mmNumber(c.Gauge.D+f.Least, 3), mmNumber(c.Gauge.D+f.Most, 3), unit.Number(f.Tightest.MM()*1000, 0), unit.Number(f.Loosest.MM()*1000, 0)})
	}
	return t
}

func mmNumber(l unit.Length, places int) string { return unit.Number(l.MM(), places) }

// measuredDoubt is one standard uncertainty of a reading, or 0.02 mm of a
// caliper where none was stated.
func measuredDoubt(r meas.Reading[unit.Length]) float64 {
	if r.HasU {
		return r.U.MM()
	}
	return .02
}
