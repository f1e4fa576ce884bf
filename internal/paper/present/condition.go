package present

import (
	"cmp"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/kit/doc"
)

// Condition sets out the state of a clock area by area, what is seen apart
// from what is thought of it, and what can hurt first.
func Condition(clock string, r condition.Record) doc.Doc {
	d := doc.Doc{Title: "Condition of " + clock}
	open := doc.Section{}
	for _, h := range r.AllHazards() {
		open.Body = append(open.Body, caution(h.Hazard, "Before you touch it: "+strings.Join(h.Areas, ", ")))
	}
	seen := r.Seen()
	if len(seen) == 0 {
		open.Body = append(open.Body, doc.Para{Text: "Nothing is written down of its state yet. What is seen now cannot be told apart from what happens here later unless it is written before work begins."})
		d.Sections = append(d.Sections, open)
		return d
	}
	var not []string
	for _, a := range condition.Areas() {
		if len(r.Of(a)) == 0 {
			not = append(not, a)
		}
	}
	if len(not) > 0 {
		open.Body = append(open.Body, doc.Para{Text: "Not looked at, or not there: " + strings.Join(not, ", ") + "."})
	}
	d.Sections = append(d.Sections, open)
	for _, a := range seen {
		t := doc.Table{Caption: "Observations of the " + a + ", the latest first", Columns: []doc.Column{{Head: "Day"}, {Head: "Who"}, {Head: "Seen"}, {Head: "Thought"}, {Head: "How bad"}, {Head: "Cautions"}}}
		for _, e := range r.Of(a) {
			t.Rows = append(t.Rows, []string{e.Day, e.Who, e.Seen, e.Thought, cmp.Or(string(e.Severity), "not said"), ConditionCautions(e.Observation)})
		}
		d.Sections = append(d.Sections, doc.Section{Heading: strings.ToUpper(a[:1]) + a[1:], Body: []doc.Block{t}})
	}
	return d
}

// ConditionCautions names the cautions that an observation brings or ends.
func ConditionCautions(o condition.Observation) string {
	var out []string
	for _, key := range o.Hazards {
		out = append(out, condition.HazardWords(key))
	}
	for _, key := range o.Gone {
		out = append(out, "gone: "+condition.HazardWords(key))
	}
	return strings.Join(out, "; ")
}
