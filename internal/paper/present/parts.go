package present

import (
	"strconv"
	"strings"

	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/doc"
)

// Parts lists what was taken down from a clock, by number, with what can hurt
// on each part: in a word beside it, whole above.
func Parts(clock string, l *parts.Ledger, hurts map[parts.Number][]clean.Hazard) doc.Doc {
	d := doc.Doc{Title: "Parts of " + clock}
	all := l.Parts()
	if len(all) == 0 {
		d.Sections = []doc.Section{{Body: []doc.Block{doc.Para{Text: "Nothing has been taken down yet."}}}}
		return d
	}
	t := doc.Table{Columns: []doc.Column{{Head: "Number"}, {Head: "Part"}, {Head: "Pieces", Number: true}, {Head: "Now"}, {Head: "Place"}}}
	if len(hurts) > 0 {
		t.Columns = append(t.Columns, doc.Column{Head: "Caution"})
	}
	var once []clean.Hazard
	told := map[string]bool{}
	for _, p := range all {
		row := []string{string(p.Number), p.Name, strconv.Itoa(p.Count), p.State.Words(), p.Place}
		for _, h := range hurts[p.Number] {
			if !told[h.Key] {
				told[h.Key], once = true, append(once, h)
			}
		}
		if len(hurts) > 0 {
			row = append(row, CautionNames(hurts[p.Number]))
		}
		t.Rows = append(t.Rows, row)
	}
	d.Sections = []doc.Section{{Body: append(cautions(once), t)}}
	return d
}

// CautionNames names what can hurt on a part in a word each.
func CautionNames(all []clean.Hazard) string {
	var names []string
	for _, h := range all {
		if b, ok := h.Brief(); ok {
			names = append(names, strings.ToLower(b.Name))
		}
	}
	return strings.Join(names, ", ")
}
