package job

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

// Findings says what the record does not tell and what in it does not agree.
func (c Clock) Findings() []meas.Finding {
	var out []meas.Finding
	add := func(l meas.Level, code, about, text, next string, ref cite.Ref) {
		out = append(out, meas.Finding{Level: l, Code: code, Text: text, Next: next, About: []string{about}, Ref: ref})
	}
	ours := cite.Ref{Grade: cite.CommonPractice}
	m := c.Object.Made
	from, to, ok := m.Years()
	if ok && from > to {
		add(meas.Clash, "years-reversed", "object.made.to",
			fmt.Sprintf("The date runs from %d to %d, which is backwards.", from, to), "Exchange the two years, or correct one.", ours)
	}
	unread("object.made.from", "The earliest year", m.From, add)
	unread("object.made.to", "The latest year", m.To, add)
	if !ok && strings.TrimSpace(m.Text) != "" && m.From == "" && m.To == "" {
		add(meas.Note, "no-years", "object.made.from",
			"No range of years can be told from the date as written.", "Enter the earliest and the latest year.", ours)
	}
	if _, ok := c.PromiseDay(); !ok && strings.TrimSpace(c.Promise) != "" {
		add(meas.Doubt, "promise-unread", "promise",
			"The promised day cannot be read, so the clock is not listed by it.", "Write it like 2026-12-24.", ours)
	}
	if marks, gaps := Illegible(c.Object.Inscriptions); marks+gaps > 0 {
		add(meas.Note, "illegible", "object.inscriptions",
			fmt.Sprintf("The inscription has %s.", illegibleWords(marks, gaps)), "Look again by raking light.", ours)
	}
	for _, p := range c.StandingPieces() {
		if _, ok := p.Number(); !ok && strings.TrimSpace(p.Count) != "" {
			add(meas.Doubt, "count-unread", fmt.Sprintf("pieces.%d.count", p.N),
				fmt.Sprintf("How many of “%s” came cannot be counted from “%s”.", meas.Clip(p.What), meas.Clip(p.Count)), "Write a number.", ours)
		}
	}
	for _, line := range Checklist(c) {
		if line.Needed && !line.Stated {
			add(meas.Note, "not-stated", line.Field, line.Category+" is not stated.", line.Ask, objectID(line.Place))
		}
	}
	return out
}

func unread(field, what, typed string, add func(l meas.Level, code, about, text, next string, ref cite.Ref)) {
	if _, ok := year(typed); !ok && strings.TrimSpace(typed) != "" {
		add(meas.Doubt, "year-unread", field, fmt.Sprintf("%s, “%s”, cannot be read.", what, meas.Clip(typed)),
			"Write it in digits, like 1790.", cite.Ref{Grade: cite.CommonPractice})
	}
}

func illegibleWords(marks, gaps int) string {
	one := func(n int, single, many string) string {
		if n == 1 {
			return "1 " + single
		}
		return fmt.Sprintf("%d %s", n, many)
	}
	m := one(marks, "mark that could not be read", "marks that could not be read")
	g := one(gaps, "gap of unknown length", "gaps of unknown length")
	switch {
	case gaps == 0:
		return m
	case marks == 0:
		return g
	}
	return m + " and " + g
}

func objectID(place string) cite.Ref {
	return cite.Ref{Source: "objectid", Place: place, Grade: cite.Printed}
}

// Line is one category of the Object ID checklist as it stands for a clock.
type Line struct {
	N        string // number in the standard: "2" to "11", "A1" to "A5"
	Category string // "Type of object"
	Place    string // place in the standard: "1.2"
	Field    string // field of the clock: "object.type"
	Value    string // as typed; several texts joined by "; "
	Stated   bool   // something was written, be it "none seen" or "unknown"
	Needed   bool   // asked of every record by the checklist
	Ask      string // what to do where nothing is stated
}

// Checklist sets the clock out as the Object ID checklist does, in its order.
// The standard's first category, photographs, is not among the lines yet.
func Checklist(c Clock) []Line {
	o := c.Object
	lines := []Line{
		{N: "2", Category: "Type of object", Field: "object.type", Value: o.Type, Ask: "Enter the type of object, like clock, longcase."},
		{N: "3", Category: "Measurements", Field: "object.measurements", Value: o.Measurements, Ask: "Enter height, width and depth with their unit."},
		{N: "4", Category: "Materials and techniques", Field: "object.materials", Value: o.Materials, Ask: "Enter what it is made of and how."},
		{N: "5", Category: "Inscriptions and markings", Field: "object.inscriptions", Value: o.Inscriptions, Ask: "Enter them as read, or “none seen”."},
		{N: "6", Category: "Date or period", Field: "object.made.text", Value: o.Made.words(), Ask: "Enter the date or period, or “unknown”."},
		{N: "7", Category: "Maker", Field: "object.maker.as_read", Value: joined(o.Maker.AsRead, after("thought to be ", o.Maker.Attributed)), Ask: "Enter the maker, or “unknown”."},
		{N: "8", Category: "Subject", Field: "object.subject", Value: o.Subject},
		{N: "9", Category: "Title", Field: "object.title", Value: o.Title},
		{N: "10", Category: "Distinguishing features", Field: "object.features", Value: o.Features, Ask: "Enter damage, old repairs, whatever tells it from its like."},
		{N: "11", Category: "Description", Field: "object.description", Value: o.Description, Ask: "Describe it in a few sentences."},
		{N: "A1", Category: "Inventory number", Field: "object.inventory", Value: o.Inventory},
		{N: "A2", Category: "Related written material", Field: "object.writings", Value: o.Writings},
		{N: "A3", Category: "Place of origin or discovery", Field: "object.place", Value: o.Place},
		{N: "A4", Category: "Cross reference to related objects", Field: "object.related", Value: o.Related},
		{N: "A5", Category: "Date documented", Field: "object.documented", Value: o.Documented},
	}
	for i := range lines {
		l := &lines[i]
		l.Place = "1." + l.N
		if l.N[0] == 'A' {
			l.Place = "additional categories"
		}
		l.Stated = strings.TrimSpace(l.Value) != ""
		l.Needed = l.Ask != ""
	}
	return lines
}

// after is a text with words before it, "" for none.
func after(words, text string) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	return words + text
}

// joined is the texts that are not empty.
func joined(texts ...string) string {
	var out []string
	for _, t := range texts {
		if strings.TrimSpace(t) != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, "; ")
}
