package present

import (
	"strconv"

	"seatboard/internal/book/parts"
	"seatboard/internal/kit/doc"
)

// Parts lists what was taken down from a clock, by number.
func Parts(clock string, l *parts.Ledger) doc.Doc {
	d := doc.Doc{Title: "Parts of " + clock}
	all := l.Parts()
	if len(all) == 0 {
		d.Sections = []doc.Section{{Body: []doc.Block{doc.Para{Text: "Nothing has been taken down yet."}}}}
		return d
	}
	t := doc.Table{Columns: []doc.Column{{Head: "Number"}, {Head: "Part"}, {Head: "Pieces", Number: true}, {Head: "Now"}, {Head: "Place"}}}
	for _, p := range all {
		t.Rows = append(t.Rows, []string{string(p.Number), p.Name, strconv.Itoa(p.Count), p.State.Words(), p.Place})
	}
	d.Sections = []doc.Section{{Body: []doc.Block{t}}}
	return d
}
