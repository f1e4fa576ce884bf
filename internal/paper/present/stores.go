package present

import (
	"seatboard/internal/book/stores"
	"seatboard/internal/kit/doc"
)

// Stores sets out what is on the shelf, with what is low.
func Stores(s *stores.Shelf) doc.Doc {
	d := doc.Doc{Title: "Stores"}
	open := doc.Section{Body: titled(notices(s.Findings()), "On the shelf")}
	all := s.Stock()
	if len(all) == 0 {
		open.Body = append(open.Body, doc.Para{Text: "No material is named yet."})
	} else {
		t := doc.Table{Caption: "What is left", Columns: []doc.Column{{Head: "Material"}, {Head: "Left", Number: true}, {Head: "Unit"}, {Head: "Warn at", Number: true}, {Head: "Note"}}}
		for _, m := range all {
			low := "never"
			if m.Low > 0 {
				low = m.Low.String()
			}
			t.Rows = append(t.Rows, []string{m.Name, m.Left.String(), m.Unit, low, m.Note})
		}
		open.Body = append(open.Body, t)
	}
	d.Sections = append(d.Sections, open)
	return d
}

// UsedFor sets out what a clock used from the shelf, and what it used in
// another shop before it was brought in.
func UsedFor(clock string, s *stores.Shelf, elsewhere []stores.Use) doc.Doc {
	d := doc.Doc{Title: "Materials used for " + clock}
	used := s.UsedBy(clock)
	if len(used)+len(elsewhere) == 0 {
		d.Sections = []doc.Section{{Body: []doc.Block{doc.Para{Text: "Nothing from the stores is written down for this clock."}}}}
		return d
	}
	var body []doc.Block
	t := doc.Table{Caption: "From the stores, for this clock", Columns: []doc.Column{{Head: "Material"}, {Head: "Used", Number: true}, {Head: "Unit"}, {Head: "Left", Number: true}, {Head: "Note"}}}
	for _, u := range used {
		t.Rows = append(t.Rows, []string{u.Stock.Name, u.Amount.String(), u.Stock.Unit, u.Stock.Left.String(), u.Stock.Note})
	}
	if len(used) > 0 {
		body = append(body, t)
	}
	if len(elsewhere) > 0 {
		t := doc.Table{Caption: "From another shop's stores, as the clock's file says", Columns: []doc.Column{{Head: "Material"}, {Head: "Used", Number: true}, {Head: "Unit"}}}
		for _, u := range elsewhere {
			t.Rows = append(t.Rows, []string{u.Stock.Name, u.Amount.String(), u.Stock.Unit})
		}
		body = append(body, t)
	}
	d.Sections = []doc.Section{{Body: body}}
	return d
}
