package present

import (
	"fmt"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/making"
	"seatboard/internal/kit/doc"
)

// Making lists what was worked out for a clock.
func Making(c job.Clock, b making.Book) doc.Doc {
	d := doc.Doc{Title: "Making, " + c.Number, Lead: c.Title}
	t := doc.Table{Columns: []doc.Column{{Head: "Sheet", Number: true}, {Head: "What"}, {Head: "By"}, {Head: "What came out"}, {Head: "Parts made"}, {Head: "When"}, {Head: "Who"}}}
	for _, x := range b.All() {
		name := x.Title
		if x.Struck != 0 {
			name += " (struck out)"
		}
		var made []string
		for _, p := range x.Parts {
			made = append(made, string(p.Number))
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(x.N), name, x.Calculation, x.Gist, strings.Join(made, ", "), x.Entry.When.Local().Format("2006-01-02 15:04"), x.Entry.Who})
	}
	if len(t.Rows) == 0 {
		d.Sections = []doc.Section{{Body: []doc.Block{doc.Para{Text: "Nothing is kept that was worked out for this clock."}}}}
		return d
	}
	d.Sections = []doc.Section{{Body: []doc.Block{t}}}
	return d
}

// SheetDrawings is a sheet with the drawings that it makes.
type SheetDrawings struct {
	Sheet    making.Standing
	Drawings []doc.Drawing
}

// Drawings is all drawings of a clock with a list of them in front; each
// carries the number of the clock.
func Drawings(c job.Clock, all []SheetDrawings) doc.Doc {
	d := doc.Doc{Title: "Drawings, " + c.Number, Lead: c.Title}
	t := doc.Table{Caption: "The drawings that follow", Columns: []doc.Column{{Head: "Drawing"}, {Head: "Sheet", Number: true}, {Head: "For"}, {Head: "Parts made"}}}
	follow := doc.Section{}
	for _, x := range all {
		var made []string
		for _, p := range x.Sheet.Parts {
			made = append(made, p.Number.Of(c.Number))
		}
		for _, one := range x.Drawings {
			one.Of = c.Number
			t.Rows = append(t.Rows, []string{one.Title, fmt.Sprint(x.Sheet.N), x.Sheet.Title, strings.Join(made, ", ")})
			follow.Body = append(follow.Body, one)
		}
	}
	if len(t.Rows) == 0 {
		d.Sections = []doc.Section{{Body: []doc.Block{doc.Para{Text: "No sheet of this clock makes a drawing."}}}}
		return d
	}
	d.Sections = []doc.Section{{Body: []doc.Block{t, doc.Para{Text: "Worked out anew from the values that were kept. A part that was made keeps the drawings that it was made by, as files of their own."}}}, follow}
	return d
}
