package present

import (
	"strings"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Survey sets out what a clock is from the answers of its parts; a part
// without an answer is nil. It shows the few facts that name a clock, every
// clash and danger, and the first figure of each part; the parts have the
// rest.
func Survey(t *train.Answer, p *pendulum.Answer, dr *drive.Answer) doc.Doc {
	d := doc.Doc{Title: "What this clock is"}
	facts := append(append(trainBrief(t), pendulumBrief(p)...), driveBrief(dr)...)
	if len(facts) == 0 {
		d.Sections = []doc.Section{{Heading: d.Title, Body: []doc.Block{doc.Para{Text: "What the trains, the pendulum and the drive say together will stand here. Enter the counts of the going train first; every other figure finds its place beside them."}}}}
		return d
	}
	open := doc.Section{Heading: d.Title, Body: []doc.Block{facts}}
	open.Body = append(open.Body, notices(pressing(t, p, dr))...)
	open.Margin = surveyMargin(t, p, dr)
	d.Sections = append(d.Sections, open)
	return withFigures(d, t, p, dr)
}

func trainBrief(t *train.Answer) doc.Facts {
	if t == nil {
		return nil
	}
	var f doc.Facts
	if t.BeatsPerHour.Known() {
		note := "exact from the counts"
		if t.BeatsPerHour.About {
			note = "about, from the pendulum"
		}
		f = append(f, doc.Fact{Label: "Beats an hour", Value: t.BeatsPerHour.Mixed(), Note: note})
	}
	for _, x := range t.Trains {
		if x.Name == train.Going && x.RunningDays.Known() {
			f = append(f, doc.Fact{Label: "Runs", Value: x.RunningDays.Mixed(), Unit: "days", Note: x.BarrelTurns.Mixed() + " turns of the barrel"})
		}
	}
	return f
}

func pendulumBrief(p *pendulum.Answer) doc.Facts {
	if p == nil {
		return nil
	}
	var f doc.Facts
	if q := quantity(p.Length, "mm", 1); q.value != "" {
		f = append(f, doc.Fact{Label: "Pendulum", Value: q.value, Unit: q.unit, Doubt: q.doubt, Note: lengthNote(*p)})
	}
	if q := quantity(p.Nut.PerTurn, "s/d", 1); q.value != "" {
		f = append(f, doc.Fact{Label: "One turn of the nut", Value: q.value, Unit: "s a day", Doubt: q.doubt, Note: "pitch " + p.Query.NutPitch.String()})
	}
	return f
}

func driveBrief(dr *drive.Answer) doc.Facts {
	if dr == nil {
		return nil
	}
	var f doc.Facts
	if q := quantity(dr.Fall.Total, "mm", 0); q.value != "" {
		f = append(f, doc.Fact{Label: "Weight falls", Value: q.value, Unit: q.unit, Doubt: q.doubt, Note: "in " + drive.Span(dr.Fall.RunningTime.Value)})
	}
	if q := quantity(dr.Power.PerBeat, "µJ", 1); q.value != "" {
		f = append(f, doc.Fact{Label: "Energy a beat", Value: q.value, Unit: q.unit, Doubt: q.doubt, Note: "into the train, before its losses"})
	}
	if q := quantity(dr.Spring.Turns, "", 1); q.value != "" {
		f = append(f, doc.Fact{Label: "Turns of the spring", Value: q.value, Doubt: q.doubt, Note: "in its barrel"})
	}
	return f
}

// pressing are the findings that cannot wait: dangers and clashes.
func pressing(t *train.Answer, p *pendulum.Answer, dr *drive.Answer) []meas.Finding {
	var all []meas.Finding
	if dr != nil {
		all = append(all, dr.Findings...)
	}
	if t != nil {
		all = append(all, t.Findings...)
	}
	if p != nil {
		all = append(all, p.Findings...)
	}
	var out []meas.Finding
	seen := map[string]bool{}
	for _, level := range []meas.Level{meas.Clash, meas.Danger} {
		for _, f := range all {
			if f.Level == level && !seen[f.Text] {
				seen[f.Text] = true
				out = append(out, f)
			}
		}
	}
	return out
}

// surveyMargin says what each part still cannot tell.
func surveyMargin(t *train.Answer, p *pendulum.Answer, dr *drive.Answer) []doc.Block {
	var open []string
	if t != nil && !t.Complete {
		open = append(open, "The train is not whole: "+strings.Join(wantedWords(t), "; ")+".")
	}
	if p != nil && p.GravityFrom == pendulum.FromStandard {
		open = append(open, "The place is not named, so gravity is the conventional one.")
	}
	if dr != nil && !dr.Complete {
		open = append(open, "The drive is not whole: the fall, the case or the spring is still to be measured.")
	}
	if len(open) == 0 {
		return nil
	}
	return []doc.Block{doc.Para{Text: "Still open"}, doc.List{Items: open}}
}

func wantedWords(t *train.Answer) []string {
	var out []string
	for _, w := range t.Wanted {
		s := w.What + " is missing"
		if w.Product.Known() {
			s += "; it must make " + unit.Significant(w.Product.Float(), 5)
		}
		if w.Example != "" {
			s += ", as " + w.Example + " would"
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		out = append(out, "a count is missing or nothing fixes the speed")
	}
	return out
}

// withFigures adds the first figure of each part.
func withFigures(d doc.Doc, t *train.Answer, p *pendulum.Answer, dr *drive.Answer) doc.Doc {
	var parts []doc.Doc
	if t != nil {
		parts = append(parts, Train(*t))
	}
	if dr != nil {
		parts = append(parts, Drive(*dr))
	}
	if p != nil && t == nil && dr == nil {
		parts = append(parts, Pendulum(*p))
	}
	for _, x := range parts {
		if f := x.Figures(); len(f) > 0 {
			d.Sections = append(d.Sections, doc.Section{Heading: x.Title, Body: []doc.Block{f[0]}})
		}
	}
	return d
}
