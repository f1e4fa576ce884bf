package present

import (
	"cmp"
	"fmt"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/picture"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
)

// Originality sets out what was done to a clock, what came and went, and
// whether it can be undone, with the photographs from before and after; shots
// are those that it names, by their hash.
func Originality(c job.Clock, o work.Originality, shots map[string]picture.Photo) doc.Doc {
	d := doc.Doc{Title: "Interventions on " + c.Number}
	all := o.Standing()
	if len(all) == 0 {
		d.Sections = []doc.Section{{Body: []doc.Block{doc.Para{Text: "Nothing is written down that was done to this clock."}}}}
		return d
	}
	d.Sections = append(d.Sections, doc.Section{Body: []doc.Block{doc.Say{Text: originalitySaid(all)}}})
	for _, v := range all {
		d.Sections = append(d.Sections, deedSection(c.Number, v, shots))
	}
	return d
}

// originalitySaid counts what can be undone and what not.
func originalitySaid(all []work.Intervention) string {
	never, open := 0, 0
	for _, v := range all {
		switch v.Undo {
		case work.Never:
			never++
		case work.NotSaid:
			open++
		}
	}
	text := many(len(all), "intervention", "interventions") + "; "
	switch never {
	case 0:
		text += "none of them is said to be for good"
	default:
		text += many(never, "can never be undone", "can never be undone")
	}
	if open > 0 {
		text += "; of " + many(open, "it is not said", "it is not said")
	}
	return text + "."
}

func deedSection(clock string, v work.Intervention, shots map[string]picture.Photo) doc.Section {
	t := doc.Table{Caption: fmt.Sprintf("Intervention %d", v.N), Columns: []doc.Column{{Head: "What"}, {Head: "As written"}}}
	add := func(label, text string) {
		if strings.TrimSpace(text) != "" {
			t.Rows = append(t.Rows, []string{label, text})
		}
	}
	if v.Part != "" {
		add("Part", v.Part.Of(clock))
	}
	add("Found", v.Found)
	add("Done", v.Done)
	add("Why", v.Why)
	add("Departure from the plan", v.Departure)
	add("Material added", v.Added)
	add("Material removed", v.Removed)
	add("Can it be undone", strings.TrimSpace(cmp.Or(string(v.Undo), "not said")+" "+v.How))
	add("Original kept at", v.KeptAt)
	add("What the law allows", v.Legal)
	add("Photographs", fmt.Sprintf("before %d, after %d", len(v.Before), len(v.After)))
	if v.Hours > 0 {
		add("Hours", work.Clocked(v.Hours))
	}
	s := doc.Section{Heading: fmt.Sprintf("%d, %s, %s", v.N, v.When.Format("2006-01-02"), v.Who), Body: []doc.Block{t}}
	if pairs := beforeAfter(v, shots); len(pairs.Shots) > 0 {
		s.Body = append(s.Body, pairs)
	}
	for _, f := range v.Findings() {
		if f.Level != meas.Note {
			s.Body = append(s.Body, titled(notices([]meas.Finding{f}), "Not told yet")...)
		}
	}
	return s
}

// beforeAfter sets what was before on the left and what is after beside it.
func beforeAfter(v work.Intervention, shots map[string]picture.Photo) doc.Photos {
	known := func(sums []string, when string) []doc.Photo {
		var out []doc.Photo
		for _, sum := range sums {
			if p, ok := shots[sum]; ok {
				out = append(out, photoOf(p, when))
			}
		}
		return out
	}
	var out doc.Photos
	before, after := known(v.Before, "Before"), known(v.After, "After")
	for i := range max(len(before), len(after)) {
		pair := make([]doc.Photo, 2)
		if i < len(before) {
			pair[0] = before[i]
		}
		if i < len(after) {
			pair[1] = after[i]
		}
		out.Shots = append(out.Shots, pair...)
	}
	return out
}
