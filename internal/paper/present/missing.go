package present

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/train/missing"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Missing sets out what lost wheels and pinions may have been: for each gap
// what its counts must make, the candidates with what they do to the clock,
// and why they stand in their order.
func Missing(a missing.Answer) doc.Doc {
	d := doc.Doc{Title: "Missing wheels"}
	open := doc.Section{}
	for _, g := range a.Gaps {
		if len(g.Candidates) > 0 {
			open.Body = append(open.Body, doc.Say{Text: likeliest(g)})
		}
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open)
	for i, g := range a.Gaps {
		d.Sections = append(d.Sections, gapSection(a, g, i))
	}
	return d
}

// MissingSoFar sets out what a search has found until now, the likeliest
// first.
func MissingSoFar(s missing.SoFar) doc.Doc {
	d := doc.Doc{Title: "Missing wheels"}
	for i, g := range s.Answer.Gaps {
		if len(g.Candidates) == 0 {
			continue
		}
		caption := "What fits, the likeliest first"
		if i == len(s.Answer.Gaps)-1 {
			caption = "The best so far" + keepPlaces(s.Sure, len(g.Candidates))
		}
		d.Sections = append(d.Sections, doc.Section{Heading: upperFirst(g.What), Body: []doc.Block{gapTable(s.Answer, g, g.Candidates, caption)}})
	}
	return d
}

// keepPlaces says how many of the best so far nothing better can come before.
func keepPlaces(sure, all int) string {
	switch {
	case sure == 0:
		return ""
	case sure == all:
		return "; they keep their places"
	case sure == 1:
		return "; the first keeps its place"
	}
	return fmt.Sprintf("; the first %d keep their places", sure)
}

// likeliest is the first candidate of a gap in a sentence.
func likeliest(g missing.Gap) string {
	c := g.Candidates[0]
	words := make([]string, len(c.Counts))
	for i, n := range c.Counts {
		what := "teeth"
		if g.Members[i].Part == "pinion" {
			what = "leaves"
		}
		words[i] = fmt.Sprintf("%s: %d %s", g.Members[i], n, what)
	}
	s := upperFirst(strings.Join(words, "; ")) + ". " + c.Chain
	switch {
	case g.Found == 1 && g.FoundAll:
		return s + ", and nothing else in range fits."
	case g.FoundAll:
		return s + fmt.Sprintf(", the likeliest of %s that fit.", phrase.Counted(float64(g.Found)))
	}
	return s + ", the likeliest of those that fit."
}

func gapSection(a missing.Answer, g missing.Gap, at int) doc.Section {
	s := doc.Section{Heading: upperFirst(g.What), Body: []doc.Block{gapFacts(g)}}
	list := g.Candidates
	if len(g.Nearest) > 0 {
		s.Body = append(s.Body, gapTable(a, g, g.Nearest, "The nearest that can be"))
	}
	if len(list) == 0 {
		return s
	}
	s.Body = append(s.Body, gapTable(a, g, list, "What fits, the likeliest first"))
	s.Body = append(s.Body, doc.Para{Text: "Why the first stands where it does. A point against a candidate halves its odds; the odds are counted from printed trains."}, firstReasons(list[0]))
	s.Body = append(s.Body, pointsFigure(g, list, at))
	return s
}

func gapFacts(g missing.Gap) doc.Facts {
	must := doc.Fact{Label: "Wheels over pinions must make", Value: g.Wanted.Mixed(), Note: "exactly: " + g.From + "; " + g.To}
	if g.U > 0 {
		v, u, n := meas.Rounded(unit.Ratio(g.Wanted.Float()), unit.Ratio(g.U), "")
		must.Value, must.Doubt = unit.Number(v, n), "± "+unit.Number(u, n)
		must.Note = unit.Significant(g.Low.Float(), 5) + " to " + unit.Significant(g.High.Float(), 5) + " are taken: " + g.From + "; " + g.To
	}
	found := doc.Fact{Label: "Sets of counts that fit", Value: phrase.Counted(float64(g.Found)), Note: "all that there are in range"}
	if !g.FoundAll {
		found.Note = "and more; the best of all are listed"
	}
	return doc.Facts{must, found}
}

// candidateColumn is a column that a table of candidates may have.
type candidateColumn struct {
	doc.Column
	cell func(c missing.Candidate) string
}

func gapTable(a missing.Answer, g missing.Gap, list []missing.Candidate, caption string) doc.Table {
	columns := []candidateColumn{}
	for i, m := range g.Members {
		columns = append(columns, candidateColumn{doc.Column{Head: upperFirst(m.Short()), Number: true}, func(c missing.Candidate) string { return c.Counts[i].String() }})
	}
	columns = append(columns, candidateColumn{doc.Column{Head: "Makes", Number: true}, func(c missing.Candidate) string { return c.Product.Mixed() }},
		candidateColumn{doc.Column{Head: "Points against", Number: true}, func(c missing.Candidate) string { return unit.Number(c.Points, 1) }})
	columns = append(columns, effectColumns(a)...)
	t := doc.Table{Caption: caption, Columns: []doc.Column{{Head: "Place"}}}
	for i := range list {
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1)})
	}
	for _, col := range columns {
		cells := make([]string, len(list))
		for i, c := range list {
			cells[i] = col.cell(c)
		}
		if !slices.ContainsFunc(cells, func(s string) bool { return s != "" }) {
			continue
		}
		t.Columns = append(t.Columns, col.Column)
		for i := range list {
			t.Rows[i] = append(t.Rows[i], dash(cells[i]))
		}
	}
	return t
}

// effectColumns say what a candidate does to the clock.
func effectColumns(a missing.Answer) []candidateColumn {
	out := []candidateColumn{
		{doc.Column{Head: "Beats an hour", Number: true}, func(c missing.Candidate) string { return c.Beats.Mixed() }},
		{doc.Column{Head: "Rate on what was stated", Unit: "s a day", Number: true}, func(c missing.Candidate) string { return valueDoubt(quantity(c.Rate, "s/d", 0)) }},
		{doc.Column{Head: "Pendulum it wants", Unit: "mm", Number: true}, func(c missing.Candidate) string { return valueDoubt(quantity(c.Pendulum, "mm", 1)) }},
		{doc.Column{Head: "Runs", Unit: "h", Number: true}, func(c missing.Candidate) string { return c.Runs.Mixed() }},
		{doc.Column{Head: "Late in one period", Unit: "min", Number: true}, func(c missing.Candidate) string { return valueDoubt(quantity(c.Error, "min", 2)) }},
	}
	if len(a.Query.Circles.Holes) > 0 {
		out = append(out, candidateColumn{doc.Column{Head: "Circles that divide it"}, circleWords})
	}
	return out
}

func valueDoubt(f fact) string {
	if f.doubt == "" {
		return f.value
	}
	return f.value + "\u00a0" + f.doubt
}

// circleWords says which circles of the plates owned divide the wheels.
func circleWords(c missing.Candidate) string {
	words := make([]string, len(c.Circles))
	for i, n := range c.Circles {
		words[i] = strconv.Itoa(n)
		if n == 0 {
			words[i] = "none"
		}
	}
	return strings.Join(words, ", ")
}

// firstReasons says in words why a candidate stands where it does.
func firstReasons(c missing.Candidate) doc.List {
	var l doc.List
	for _, r := range c.Reasons {
		l.Items = append(l.Items, fmt.Sprintf("%s: %s; %s", upperFirst(r.Name), r.Text, countedPoints(r.Points)))
	}
	return l
}

func countedPoints(p float64) string {
	s := unit.Number(p, 1)
	if s == "1.0" {
		return "1 point"
	}
	return s + " points"
}
