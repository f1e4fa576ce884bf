package present

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Regulate sets out what weeks of readings say of a clock. It opens with what
// to do now, in large words; questions stand right under it, since what is
// asked about is not used.
func Regulate(a regulate.Answer) doc.Doc {
	d := doc.Doc{Title: "Regulation", Lead: trialLine(a)}
	a.Findings = slices.Clone(a.Findings)
	for i, f := range a.Findings {
		a.Findings[i].Text, a.Findings[i].Next = sentence(f.Text), sentence(f.Next)
	}
	open := doc.Section{}
	if a.Advice.Words != "" {
		open.Body = append(open.Body, doc.Say{Text: a.Advice.Words})
	}
	open.Body = append(open.Body, questionNotices(a)...)
	open.Body = append(open.Body, notices(a.Findings)...)
	if f := rateFacts(a); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	if f, ok := weeksFigure(a); ok {
		open.Body = append(open.Body, f)
	}
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working})
	if s := sources(a.Working, a.Findings); len(s.Lines()) > 0 {
		open.Margin = append(open.Margin, s)
	}
	d.Sections = append(d.Sections, open)
	for _, s := range []struct {
		heading string
		table   doc.Table
	}{
		{"What will be known", learnTable(a)}, {"What the touches did", stepsTable(a)}, {"What makes it go so", causesTable(a)},
		{"What it rests on", groundsTable(a)},
	} {
		if len(s.table.Rows) > 0 {
			d.Sections = append(d.Sections, doc.Section{Heading: s.heading, Body: []doc.Block{s.table}})
		}
	}
	return d
}

// sentence ends with a point.
func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!") {
		return s
	}
	return s + "."
}

// trialLine says how long the clock was looked at.
func trialLine(a regulate.Answer) string {
	n := len(a.Query.Readings)
	if n == 0 {
		return "Nothing was read yet."
	}
	words := phrase.Times(n, "reading", "readings")
	first, last := a.Query.Readings[0].At, a.Query.Readings[0].At
	for _, r := range a.Query.Readings {
		if r.At.Before(first) {
			first = r.At
		}
		if r.At.After(last) {
			last = r.At
		}
	}
	if last.After(first) {
		words += " in " + phrase.Lasting(unit.Duration(last.Sub(first).Seconds()))
	}
	if t := len(a.Query.Touches); t > 0 {
		words += ", " + phrase.Times(t, "touch", "touches")
	}
	return words + "."
}

// questionNotices are what was noticed and is asked.
func questionNotices(a regulate.Answer) []doc.Block {
	var out []doc.Block
	for _, q := range a.Questions {
		text := sentence(q.Text)
		if q.Chance > 0 {
			text += " The chance that it is nothing: " + phrase.OneIn(q.Chance) + "."
		}
		if !q.Used {
			text += " Until this is answered, it is not used."
		}
		out = append(out, doc.Notice{Kind: doc.DoubtNotice, Title: "Asked", Text: text, Next: sentence(q.Ask)})
	}
	return out
}

// limited is an interval as a fact: its value, and half the way between its
// limits.
func limited[Q unit.Quantity](label string, i meas.Interval[Q], symbol, note string) (doc.Fact, bool) {
	if !inBand(i) {
		return doc.Fact{}, false
	}
	v, h, n := meas.Rounded(i.Value, i.Half(), symbol)
	doubt := "± " + unit.Number(h, n)
	if i.Half() == 0 { // it is so
		v, n, doubt = unit.In(i.Value, symbol), min(placesOf(unit.In(i.Value, symbol)), 3), ""
	}
	value := unit.Number(v, n)
	if v > 0 && (i.Value.Kind() == unit.RateKind || i.Value.Kind() == unit.DurationKind) {
		value = "+" + value
	}
	return doc.Fact{Label: label, Value: value, Unit: symbol, Doubt: doubt, Note: note}, true
}

// rateFacts are the large figures; every ± is half the way between the limits
// that hold the truth in 95 of 100 such cases.
func rateFacts(a regulate.Answer) doc.Facts {
	var out doc.Facts
	add := func(f doc.Fact, ok bool) {
		if ok {
			out = append(out, f)
		}
	}
	zone := zoneOf(a)
	note := "gaining positive; 95 of 100 such limits hold the truth"
	if !a.Rate.Since.IsZero() {
		note = "since " + a.Rate.Since.Round(time.Second).In(zone).Format("2 January 2006 15:04") + "; " + note
	}
	add(limited("Rate "+nowOrThen(a), a.Rate.Now, "s/d", note))
	add(limited(fmt.Sprintf("The next %s", phrase.Times(wantedDays(a), "day", "days")), a.Rate.Week, "s/d", "mean, if left alone, in air like that of the readings"))
	if a.Now.Error.Half() < unit.Day/4 { // rates alone tell nothing of it
		add(limited("Fast "+nowOrThen(a), a.Now.Error, "s", nowNote(a)))
	}
	if a.Rate.Steady.Set && a.Rate.Steady != a.Rate.Now {
		add(limited("At the mean warmth", a.Rate.Steady, "s/d", "of the readings"))
	}
	add(limited("Its rate changes", a.Rate.Drift, "s/d", "in a day"))
	out = append(out, touchFacts(a.Advice)...)
	want, band := wantedOf(a)
	if a.Complete {
		text := "right is " + bandWords(want, band) + forHome(a)
		out = append(out, doc.Fact{Label: "Right as it stands", Value: percent(a.Advice.AsIs), Note: "chance; " + text})
		if a.Advice.Do == regulate.Turn {
			out = append(out, doc.Fact{Label: "Right after the touch", Value: percent(a.Advice.Right), Note: "chance; expected " + phrase.PerDay(a.Advice.After)})
		}
	}
	out = append(out, homeRates(a.Advice)...)
	if a.Advice.Next.After(a.Query.Now) {
		out = append(out, doc.Fact{Label: "Look again", Value: a.Advice.Next.In(zone).Format("2 January 2006 15:04"), Note: "a reading before that tells nothing new"})
	}
	return out
}

// homeRates are what a clock that is set for its home shall do here, and will
// do there.
func homeRates(a regulate.Advice) doc.Facts {
	if a.Home == nil {
		return nil
	}
	var out doc.Facts
	add := func(f doc.Fact, ok bool) {
		if ok {
			out = append(out, f)
		}
	}
	aim := a.Home.Aim
	add(limited("To aim at here, for home", meas.Around(aim.Value, aim.U, 1.96), "s/d", "its doubt is that of what going there does"))
	add(limited("At home, left alone", a.Home.AsIs, "s/d", "the doubt of the move in it"))
	if a.Do == regulate.Turn {
		add(limited("At home, after the touch", a.Home.After, "s/d", "the doubt of the move in it"))
	}
	return out
}

// touchFacts are the touch that is advised in figures.
func touchFacts(a regulate.Advice) doc.Facts {
	var out doc.Facts
	if f, ok := limited("Turns of the nut", a.Turns, "", "up is positive"); ok && a.Do == regulate.Turn {
		if a.Divisions != 0 {
			f.Note += "; " + unit.Number(math.Abs(a.Divisions), 0) + " divisions"
		}
		if a.Turns.Value > 0 {
			f.Value = "+" + f.Value
		}
		out = append(out, f)
	}
	if g := unit.In(a.Mass, "g"); g != 0 {
		label, note := "On the tray", "off where negative"
		if a.Do == regulate.Turn {
			note = "instead of the turn; " + note
		}
		out = append(out, doc.Fact{Label: label, Value: signedNumber(g, 2), Unit: "g", Note: note})
	}
	return out
}

func wantedDays(a regulate.Answer) int {
	if d := a.Query.Wanted.Days; d > 0 && d < 1e6 {
		return int(math.Max(math.Round(d), 1))
	}
	return 7
}

// nowOrThen names the moment of an answer: another than that of the question
// where nothing was heard of the clock for weeks.
func nowOrThen(a regulate.Answer) string {
	if a.Now.At.Before(a.Query.Now) {
		return "then"
	}
	return "now"
}

func nowNote(a regulate.Answer) string {
	if a.Now.At.IsZero() {
		return ""
	}
	return "slow is negative; on " + a.Now.At.In(zoneOf(a)).Format("2 January 2006 15:04")
}

// percent is a chance in whole parts of a hundred, never all or none.
func percent(p float64) string {
	switch {
	case math.IsNaN(p):
		return ""
	case p < 0.01:
		return "under 1\u00a0%"
	case p > 0.99:
		return "over 99\u00a0%"
	}
	return unit.Number(100*p, 0) + "\u00a0%"
}

// learnTable is what will be known after how long.
func learnTable(a regulate.Answer) doc.Table {
	t := doc.Table{Caption: "The rate, with more readings like the last", Columns: []doc.Column{{Head: "After"}, {Head: "Limits ±", Unit: "s a day", Number: true}}}
	for _, l := range a.Advice.Learn {
		t.Rows = append(t.Rows, []string{phrase.Lasting(l.After), unit.Significant(l.Half.PerDay(), 2)})
	}
	if a.Advice.Do == regulate.Turn {
		t.Note = "Counted from the touch."
	}
	return t
}

// stepsTable is what each touch did, against what was expected of it.
func stepsTable(a regulate.Answer) doc.Table {
	t := doc.Table{Caption: "Each touch: expected against found", Columns: []doc.Column{{Head: "When"}, {Head: "Touch"}, {Head: "Expected", Unit: "s a day", Number: true}, {Head: "±", Number: true},
		{Head: "Found", Unit: "s a day", Number: true}, {Head: "From", Unit: "s a day", Number: true}, {Head: "To", Unit: "s a day", Number: true}, {Head: "Standing"}},
		Note: "± is one standard uncertainty of what was expected; found lies from–to in 95 of 100 such cases."}
	zone := zoneOf(a)
	named := map[int]regulate.Touch{}
	for _, x := range a.Query.Touches {
		named[x.ID] = x
	}
	for _, s := range a.Steps {
		if s.Touch != 0 && s.Rate == (meas.Interval[unit.Rate]{Set: s.Rate.Set}) && s.Error.Value == 0 {
			continue // it did nothing to the rate, and could not
		}
		words := "not noted"
		if x, ok := named[s.Touch]; ok && s.Touch != 0 {
			words = touchWords(x, a.Query.Known.Divisions)
		}
		row := []string{minuteOf(s.At, zone), words, "", "", "", "", "", stepStanding(s)}
		if f := quantity(s.Expected, "s/d", 2); s.Expected.Set {
			row[2], row[3] = f.value, trimDoubt(f.doubt)
		}
		if inBand(s.Rate) {
			copy(row[4:], rateLimits(s.Rate))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// stepStanding says what to think of a step.
func stepStanding(s regulate.Step) string {
	var say []string
	switch {
	case !s.Expected.Set || !inBand(s.Rate):
	case math.Abs(float64(s.Rate.Value-s.Expected.Value)) <= 2*math.Hypot(float64(s.Rate.U), float64(s.Expected.U)):
		say = append(say, "as expected")
	case math.Abs(float64(s.Rate.Value)) < math.Abs(float64(s.Expected.Value)):
		say = append(say, "less than expected")
	default:
		say = append(say, "more than expected")
	}
	if s.Back {
		say = append(say, "turned the other way")
	}
	if inBand(s.Error) && s.Error.Value != 0 && s.Error.U < unit.Day/2 {
		say = append(say, "hands by "+secondsFast(s.Error.Value))
	}
	return strings.Join(say, "; ")
}

// causesTable is what makes the rate what it is, and what cannot be told.
func causesTable(a regulate.Answer) doc.Table {
	t := doc.Table{Caption: "Causes and what one of each does", Columns: []doc.Column{{Head: "Cause"}, {Head: "For one"}, {Head: "Rate", Unit: "s a day", Number: true}, {Head: "From", Unit: "s a day", Number: true}, {Head: "To", Unit: "s a day", Number: true},
		{Head: "Held before", Unit: "s a day", Number: true}, {Head: "±", Number: true}, {Head: "Standing"}}}
	for _, c := range a.Causes {
		row := []string{phrase.Capital(c.Name), c.Unit, "", "", "", "", "", causeStanding(c)}
		if inBand(c.Value) {
			copy(row[2:], rateLimits(c.Value))
		}
		if f := quantity(c.Before, "s/d", 2); c.Before.Set {
			row[5], row[6] = f.value, trimDoubt(f.doubt)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// causeStanding says how a cause is known.
func causeStanding(c regulate.Cause) string {
	others := ""
	if len(c.With) > 0 {
		others = "cannot be told apart from " + phrase.Listed(c.With)
	}
	switch {
	case others != "" && !c.Told:
		return others
	case c.Told:
		return both("told by the readings", others)
	case c.Value.Set:
		return "as held before; the readings do not tell it"
	}
	return "not known"
}

// groundsTable is what the answer rests on, and how unsteady clock and
// readings are.
func groundsTable(a regulate.Answer) doc.Table {
	t := doc.Table{Caption: "Readings and unsteadiness", Columns: []doc.Column{{Head: "What"}, {Head: "Figure"}, {Head: "Limits"}}}
	words := map[regulate.How]string{regulate.ByHand: "by hand", regulate.ByTap: "by tapping", regulate.ByEar: "by listening", regulate.ByStrike: "by the strike", regulate.Brought: "brought in"}
	counts, out := map[regulate.How]int{}, 0
	for _, r := range a.Query.Readings {
		counts[r.How]++
		if r.Out {
			out++
		}
	}
	for _, h := range regulate.Hows() {
		if counts[h] > 0 {
			t.Rows = append(t.Rows, []string{"Readings " + words[h], phrase.Counted(float64(counts[h])), ""})
		}
	}
	if out > 0 {
		t.Rows = append(t.Rows, []string{"Of them left out, as answered", phrase.Counted(float64(out)), ""})
	}
	asked := 0
	for _, p := range a.Past {
		if p.Asked {
			asked++
		}
	}
	if asked > 0 {
		t.Rows = append(t.Rows, []string{"Of them asked about, not used", phrase.Counted(float64(asked)), ""})
	}
	t.Rows = append(t.Rows, noiseRows(a.Noise)...)
	return t
}

// noiseRows are the sizes of what is unsteady; their limits are not even.
func noiseRows(n regulate.Noise) [][]string {
	var out [][]string
	add := func(what string, set bool, v, low, high float64) {
		if set {
			out = append(out, []string{what, unit.Significant(v, 2), unit.Significant(low, 2) + " to " + unit.Significant(high, 2)})
		}
	}
	r, w, d := n.Reading, n.Wander, n.Drift
	add("Doubts of the readings, times what was stated", inBand(r), float64(r.Value), float64(r.Low), float64(r.High))
	add("The clock's own wander in a day, s", inBand(w), float64(w.Value), float64(w.Low), float64(w.High))
	add("Its rate walks in a day by, s a day", inBand(d), d.Value.PerDay(), d.Low.PerDay(), d.High.PerDay())
	return out
}
