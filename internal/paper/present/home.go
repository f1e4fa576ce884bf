package present

import (
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Home sets out what a clock will do in its new home, and what to do and to
// look at when it goes there.
func Home(a home.Answer) doc.Doc {
	d := doc.Doc{Title: "A new home"}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: a.Words}}}
	if f := homeFacts(a); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	if t := homeShares(a); len(t.Rows) > 0 {
		open.Body = append(open.Body, t)
	}
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working})
	for _, x := range []struct {
		of     string
		shares []meas.Share
	}{{"the rate there", a.After.Budget}, {"the change", a.Gain.Budget}} {
		if b := budget(x.of, x.shares); len(b.Lines) > 1 {
			open.Margin = append(open.Margin, b)
			break
		}
	}
	setting := doc.Section{Heading: "Setting up"}
	t := doc.Table{Caption: "What to do and to look at", Columns: []doc.Column{{Head: "When"}, {Head: "What"}, {Head: "Evidence"}}}
	for _, l := range a.Setting {
		t.Rows = append(t.Rows, []string{l.When, l.What, l.Ref.String()})
	}
	setting.Body = append(setting.Body, t)
	if days := homeDays(a); len(days.Rows) > 0 {
		setting.Body = append(setting.Body, days)
	}
	open.Margin = append(open.Margin, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open, setting)
	return d
}

func homeFacts(a home.Answer) doc.Facts {
	var out doc.Facts
	add := func(label string, v fact, note string) {
		if v.value != "" {
			out = append(out, doc.Fact{Label: label, Value: v.value, Unit: v.unit, Doubt: v.doubt, Note: note})
		}
	}
	add("By going there it gains", quantity(a.Gain, "s/d", 1), "negative: it loses")
	add("Rate there, untouched", quantity(a.Expect, "s/d", 1), "")
	add("Rate to aim at here", quantity(a.Aim, "s/d", 1), "then it is to be right there")
	if a.Do == home.Turn || a.Do == home.Weigh {
		add("Rate there after the touch", quantity(a.After, "s/d", 1), "")
	}
	if a.Expect.Set {
		out = append(out, doc.Fact{Label: "Right there as it is", Value: percent(a.AsIs), Note: "chance, without a touch there"})
		if a.Do == home.Turn || a.Do == home.Weigh {
			out = append(out, doc.Fact{Label: "Right there after the touch", Value: percent(a.Right), Note: "chance, without a touch there"})
		}
	}
	if a.Do == home.Turn && a.Mass.Set {
		add("Instead on the tray", quantity(meas.Exactly(a.Mass.Value), "g", 2), "off where negative")
	}
	return out
}

// homeShares is what the change is made of.
func homeShares(a home.Answer) doc.Table {
	t := doc.Table{Caption: "What the change is made of", Columns: []doc.Column{{Head: "What"}, {Head: "Here", Number: true}, {Head: "There", Number: true}, {Head: "Rate", Unit: "s a day", Number: true}, {Head: "±", Number: true}}}
	if a.ByGravity.Set {
		f := quantity(a.ByGravity, "s/d", 1)
		t.Rows = append(t.Rows, []string{"Gravity, m/s²", unit.Number(float64(a.Here.Value), 4), unit.Number(float64(a.There.Value), 4), f.value, trimDoubt(f.doubt)})
	}
	if a.ByWarmth.Set {
		f := quantity(a.ByWarmth, "s/d", 1)
		t.Rows = append(t.Rows, []string{"Warmth, °C", celsius(a.Query.Warmth), celsius(a.Query.ToWarmth), f.value, trimDoubt(f.doubt)})
	}
	return t
}

func celsius(r meas.Reading[unit.Temperature]) string {
	return unit.Number(unit.In(r.Value, "°C"), 1)
}

// homeDays is what the clock is to be wrong by there, day by day.
func homeDays(a home.Answer) doc.Table {
	t := doc.Table{Caption: "What it is to be wrong by there, set right on the day", Columns: []doc.Column{{Head: "After"}, {Head: "Fast", Unit: "s", Number: true}, {Head: "From", Unit: "s", Number: true}, {Head: "To", Unit: "s", Number: true}},
		Note: "In 95 of 100 such cases it lies from–to. Beyond it, something else changed: the beat, the arc, a case that rocks."}
	for _, d := range a.Days {
		v, low, high := phrase.Limits(d.Error, "s")
		t.Rows = append(t.Rows, []string{phrase.Times(int(d.Day), "day", "days"), v, low, high})
	}
	return t
}
