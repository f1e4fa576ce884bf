package present

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/kit/doc"
)

// Gates says how a clock stands with the gates it must pass before it goes
// home. Instants are told in the zone of now.
func Gates(c job.Clock, s trial.Standing, now time.Time) doc.Doc {
	d := doc.Doc{Title: "Gates of " + c.Number}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: GatesInShort(s, now)}}}
	if f := gateFacts(s, now); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	for _, g := range s.Gates {
		if g.State == trial.InDoubt {
			open.Body = append(open.Body, doc.Notice{Kind: doc.ClashNotice, Title: "Signed, and in doubt", Text: g.Gate.Name + ", signed by " + g.Sign.Who + " on " + gateDay(g.Sign.At, now) + ". By what is known now: " + g.Doubt + ".",
				Next: "Begin the gate anew with the reason, or put right what was written down."})
		}
	}
	open.Margin = []doc.Block{doc.Para{Text: trial.PresetWords}, doc.Para{Text: "A rate is right or not right where its 95 % limits lie wholly within the band or outside it; else it cannot be told yet. " +
		"The limits of single days are wider, so that all of them together hold in 95 of 100 cases. Whatever is done to the clock but winding begins the week anew."}}
	d.Sections = append(d.Sections, open)
	for i, g := range s.Gates {
		d.Sections = append(d.Sections, gateSection(i, g, s, now))
	}
	return d
}

// Acceptance is the sheet that goes with the clock: its gates, with lines to
// sign on.
func Acceptance(c job.Clock, s trial.Standing, now time.Time) doc.Doc {
	d := Gates(c, s, now)
	d.Title, d.Lead = "Acceptance of "+c.Number, c.Title
	d.Sections = append(d.Sections, doc.Section{Heading: "Signed", Body: []doc.Block{
		doc.Para{Text: "The figures are those of this shop's readings, on the stand and in the case as said above. Another place and another room change the rate of any clock."},
		doc.Blanks{Rows: [][]string{{"Passed by (name and signature)", "Day"}, {"Seen by the owner", "Day"}}},
	}})
	return d
}

// GatesInShort is the one sentence of how a clock stands with its gates.
func GatesInShort(s trial.Standing, now time.Time) string {
	switch {
	case len(s.Gates) == 0:
		return "No gate is asked of this clock."
	case s.Passed:
		return "Every gate is signed; it may go home."
	case s.Current >= len(s.Gates):
		return "Every gate is signed, and one is in doubt."
	}
	g := s.Gates[s.Current]
	switch g.State {
	case trial.NotBegun:
		return g.Gate.Name + " has not begun."
	case trial.Ready:
		return g.Gate.Name + ": all is right, and it is ready to be signed."
	case trial.Missed:
		for _, t := range g.Tests {
			if t.Verdict == trial.NotRight {
				return g.Gate.Name + ": not so. " + t.Name + ": " + strings.ToLower(t.Found[:1]) + t.Found[1:] + "."
			}
		}
	}
	return g.Gate.Name + ": " + dayCount(g, now) + ", and nothing is against it so far."
}

// dayCount says on which day of a gate it is.
func dayCount(g trial.GateStanding, now time.Time) string {
	day := int(now.Sub(g.From)/(24*time.Hour)) + 1
	return fmt.Sprintf("day %d of %s", day, trimmed(g.Gate.Days))
}

func trimmed(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func gateFacts(s trial.Standing, now time.Time) doc.Facts {
	var f doc.Facts
	for _, p := range s.Promised {
		f = append(f, doc.Fact{Label: "Promised", Value: p})
	}
	if !s.Earliest.IsZero() {
		f = append(f, doc.Fact{Label: "Soonest", Value: gateDay(s.Earliest, now), Note: "if all goes well from now on"})
	}
	if s.Current < len(s.Gates) {
		if g := s.Gates[s.Current]; g.State == trial.UnderWay && !g.Due.IsZero() {
			f = append(f, doc.Fact{Label: "Next reading", Value: gateMinute(g.Due, now), Note: "at the latest; the week begins anew without one"})
		}
	}
	return f
}

func gateDay(t, now time.Time) string    { return t.In(now.Location()).Format("2 January 2006") }
func gateMinute(t, now time.Time) string { return t.In(now.Location()).Format("Mon 2 January, 15:04") }

func gateSection(i int, g trial.GateStanding, s trial.Standing, now time.Time) doc.Section {
	out := doc.Section{Heading: g.Gate.Name}
	if g.State == trial.NotBegun {
		wants := fmt.Sprintf("%s days on end", trimmed(g.Gate.Days))
		if g.Gate.Least > 0 {
			wants += fmt.Sprintf(" with %d readings or more", g.Gate.Least)
		}
		if i != s.Current {
			wants += "; it comes after the gate before it"
		}
		out.Body = []doc.Block{doc.Para{Text: "Not begun: " + wants + "."}}
		return out
	}
	out.Body = append(out.Body, doc.Para{Text: gateState(g, now)}, weekFigure(i, g, now), testTable(g))
	if len(g.Resets) > 0 {
		t := doc.Table{Caption: "Why it began anew", Columns: []doc.Column{{Head: "From"}, {Head: "Reason"}, {Head: "Written down"}}}
		for _, r := range g.Resets {
			by := "not yet"
			if r.Written {
				by = "by " + r.Who
			}
			t.Rows = append(t.Rows, []string{gateMinute(r.At, now), r.Words, by})
		}
		out.Body = append(out.Body, t)
	}
	return out
}

func gateState(g trial.GateStanding, now time.Time) string {
	from := "It counts from " + gateMinute(g.From, now)
	if g.Sign == nil {
		return from + " to " + gateMinute(g.Until, now) + "."
	}
	words := fmt.Sprintf("Signed by %s on %s, for the time from %s.", g.Sign.Who, gateMinute(g.Sign.At, now), gateMinute(g.Sign.From, now))
	if g.Sign.Why != "" {
		words += " Signed though not all was right: " + g.Sign.Why + "."
	}
	return words
}

func testTable(g trial.GateStanding) doc.Table {
	t := doc.Table{Caption: "What is asked of it", Columns: []doc.Column{{Head: "Asked"}, {Head: "Verdict"}, {Head: "Found"}, {Head: "Still wanted"}}}
	for _, x := range g.Tests {
		t.Rows = append(t.Rows, []string{x.Name, string(x.Verdict), x.Found, x.Wanted})
	}
	return t
}

// gateDayWords is a day of a gate in a sentence.
func gateDayWords(i int, d trial.Day, now time.Time) string {
	at := fmt.Sprintf("Day %d, from %s: ", i+1, gateMinute(d.From, now))
	if !d.Begun {
		return at + "still to come."
	}
	words := []string{strconv.Itoa(d.Readings) + " readings"}
	switch d.Readings {
	case 0:
		words[0] = "no reading"
	case 1:
		words[0] = "one reading"
	}
	if d.Rate.Set {
		words = append(words, d.Rate.Text("s/d"), string(d.Verdict))
	}
	if len(d.Hours) > 0 {
		words = append(words, fmt.Sprintf("%d hours struck right", len(d.Hours)))
	}
	return at + strings.Join(words, ", ") + "."
}
