package present

import (
	"cmp"
	"slices"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/picture"
	"seatboard/internal/kit/doc"
)

// photosOfArea is how many photographs of an area are printed.
const photosOfArea = 4

// Condition sets out the state of a clock area by area, what is seen apart
// from what is thought of it, and what can hurt first, with the last
// photographs of each area.
func Condition(clock string, r condition.Record, photos map[string][]picture.Photo) doc.Doc {
	d := doc.Doc{Title: "Condition of " + clock}
	open := doc.Section{}
	for _, h := range r.AllHazards() {
		open.Body = append(open.Body, caution(h.Hazard, "Before you touch it: "+strings.Join(h.Areas, ", ")))
	}
	seen := r.Seen()
	if len(seen) == 0 && len(photos) == 0 {
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
	for _, a := range condition.Areas() {
		if !slices.Contains(seen, a) && len(photos[a]) == 0 {
			continue
		}
		t := doc.Table{Caption: "Observations of the " + a + ", the latest first", Columns: []doc.Column{{Head: "Day"}, {Head: "Who"}, {Head: "Seen"}, {Head: "Thought"}, {Head: "How bad"}, {Head: "Cautions"}}}
		for _, e := range r.Of(a) {
			t.Rows = append(t.Rows, []string{e.Day, e.Who, e.Seen, e.Thought, cmp.Or(string(e.Severity), "not said"), ConditionCautions(e.Observation)})
		}
		body := []doc.Block{t}
		if len(t.Rows) == 0 {
			body = nil
		}
		d.Sections = append(d.Sections, doc.Section{Heading: strings.ToUpper(a[:1]) + a[1:], Body: append(body, areaPhotos(photos[a])...)})
	}
	return d
}

// areaPhotos are the last photographs of an area, and how many there are
// besides.
func areaPhotos(all []picture.Photo) []doc.Block {
	if len(all) == 0 {
		return nil
	}
	var shown doc.Photos
	for _, p := range all[:min(len(all), photosOfArea)] {
		shown.Shots = append(shown.Shots, photoOf(p, ""))
	}
	out := []doc.Block{shown}
	if more := len(all) - len(shown.Shots); more > 0 {
		out = append(out, doc.Para{Text: many(more, "more photograph of it is in the record", "more photographs of it are in the record") + "."})
	}
	return out
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
