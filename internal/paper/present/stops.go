package present

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// Stops sets out what the stops of a clock have in common.
func Stops(a stops.Answer) doc.Doc {
	d := doc.Doc{Title: "Stops", Lead: stopsLead(a)}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: a.Verdict}}}
	if a.Next != "" {
		open.Body = append(open.Body, doc.Para{Text: "Next: " + a.Next})
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	if f, ok := stopRings(a); ok {
		open.Body = append(open.Body, f)
	}
	open.Margin = remarks(a.Findings)
	if len(a.Working) > 0 {
		open.Margin = append(open.Margin, doc.Working{Title: "Working", Steps: a.Working})
	}
	if s := sources(a.Working, a.Findings); len(s.Refs) > 0 {
		open.Margin = append(open.Margin, s)
	}
	d.Sections = append(d.Sections, open)
	if len(a.Suspects) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "What was looked at", Body: []doc.Block{causeTable(a)}})
	}
	if len(a.Untold) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "What the hands cannot tell", Body: []doc.Block{untoldList(a)}})
	}
	d.Sections = append(d.Sections, doc.Section{Heading: "The stops", Body: []doc.Block{stopTable(a)}})
	if len(a.Wanted) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "To write down at the next stop", Body: []doc.Block{doc.List{Items: a.Wanted}}})
	}
	return d
}

func stopsLead(a stops.Answer) string {
	hands := make([]string, 0, 6)
	for _, s := range a.Query.Stops {
		if len(hands) == 6 {
			hands = append(hands, "…")
			break
		}
		hands = append(hands, s.Hands.String())
	}
	return phrase.Times(len(a.Query.Stops), "stop", "stops") + ", with the hands at " + strings.Join(hands, ", ")
}

// causeTable lists all that was looked at, the most telling first.
func causeTable(a stops.Answer) doc.Table {
	t := doc.Table{Caption: "Causes in order of evidence", Columns: []doc.Column{{Head: "Cause"}, {Head: "Goes round in"}, {Head: "In the place"}, {Head: "Place, or share of the time"},
		{Head: "Chance, alone"}, {Head: "Among all"}, {Head: "Sure with"}, {Head: "Standing"}},
		Note: fmt.Sprintf("The chance that it is nothing: alone, and of as much anywhere among all that was looked at (%s sets of stops drawn at random). It does not say how good the wheel looks. “Sure with” is how many stops in all would make it 1 in 100, should those to come fall in the same place.",
			phrase.Counted(float64(a.Draws)))}
	for _, x := range a.Suspects {
		period, place := "", share(x.Width)
		if x.Period > 0 {
			period, place = phrase.Lasting(x.Period), unit.Significant(x.Width, 2)+" of a turn"
		}
		if x.Period > 0 && x.Hold < 2 {
			place = ""
		}
		sure := ""
		if x.Needed > 0 {
			sure = phrase.Times(x.Needed, "stop", "stops")
		}
		t.Rows = append(t.Rows, []string{strings.Join(x.Names, ", or "), period, fmt.Sprintf("%d of %d", x.Hold, x.Stops), place, oneIn(x.Own), oneIn(x.Chance), sure, stopStanding(x)})
	}
	return t
}

// share is a part of the time.
func share(x float64) string { return unit.Significant(100*x, 2) + "\u00a0%" }

// oneIn is a chance in words, short for a table.
func oneIn(p float64) string {
	if p >= 0.5 {
		return "even or more"
	}
	return phrase.OneIn(p)
}

func stopStanding(x stops.Suspect) string {
	switch {
	case x.Found && x.Chance <= stops.Sure:
		return "sure"
	case x.Found:
		return "found"
	}
	return "nothing yet"
}

func untoldList(a stops.Answer) doc.List {
	var l doc.List
	for _, u := range a.Untold {
		l.Items = append(l.Items, upperFirst(u.Name)+": "+u.Why)
	}
	return l
}

// stopTable lists the stops in the order in which they came.
func stopTable(a stops.Answer) doc.Table {
	t := doc.Table{Caption: "The stops in order", Columns: []doc.Column{{Head: "Stop"}, {Head: "Hands"}, {Head: "Found"}, {Head: "Since winding"}, {Head: "Weight", Unit: "mm", Number: true},
		{Head: "Strike"}, {Head: "Room", Unit: "°C", Number: true}, {Head: "Train ran"}, {Head: "Hands set by"}}}
	byID := map[int]stops.Stop{}
	for _, s := range a.Query.Stops {
		byID[s.ID] = s
	}
	for i, p := range a.Places {
		s := byID[p.Stop]
		row := []string{strconv.Itoa(p.Stop), s.Hands.String(), "", "", "", s.Strike, "", "", ""}
		if !s.Found.IsZero() {
			row[2] = s.Found.Format("2006-01-02 15:04")
		}
		if p.Wound > 0 {
			row[3] = drive.Span(p.Wound)
		}
		if s.Weight.Set {
			row[4] = unit.Number(unit.In(s.Weight.Value, "mm"), 0)
		}
		if s.Room.Set {
			row[6] = unit.Number(unit.In(s.Room.Value, "°C"), 0)
		}
		if p.Ran > 0 {
			row[7] = phrase.Lasting(p.Ran)
		}
		switch {
		case i == 0:
		case !p.Joined:
			row[8] = "not known"
		case p.By != 0:
			row[8] = setWords(p.By)
		default:
			row[8] = "left"
		}
		t.Rows = append(t.Rows, row)
	}
	return withoutEmpty(t)
}

// withoutEmpty leaves out the columns in which nothing stands.
func withoutEmpty(t doc.Table) doc.Table {
	out := t
	out.Columns, out.Rows = nil, make([][]string, len(t.Rows))
	for k, c := range t.Columns {
		if !slices.ContainsFunc(t.Rows, func(r []string) bool { return r[k] != "" }) {
			continue
		}
		out.Columns = append(out.Columns, c)
		for i, r := range t.Rows {
			out.Rows[i] = append(out.Rows[i], r[k])
		}
	}
	return out
}

// setWords is an amount that hands were set by.
func setWords(d unit.Duration) string {
	if d < 0 {
		return "−" + phrase.Lasting(-d)
	}
	return "+" + phrase.Lasting(d)
}
