package present

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	papercsv "seatboard/internal/paper/csv"
	"seatboard/internal/paper/pdf"
	"seatboard/internal/paper/text"
)

// answered is the invented trial with everything that can be said of one.
func answered() regulate.Answer {
	a := asked()
	a.Query.Known.Divisions = 60
	a.Rate = regulate.Rate{Now: perDay(1.4, .4), Week: perDay(1.6, .9), Drift: perDay(.02, .03), Since: trialDay(19.6), Steady: perDay(1.1, .4)}
	held := func(v, u float64) meas.Result[unit.Rate] {
		return meas.Result[unit.Rate]{Value: unit.RatePerDay(v), U: unit.RatePerDay(u), HasU: true, Set: true}
	}
	a.Causes = []regulate.Cause{
		{Name: "nut", Unit: "turn", Value: perDay(29.4, .7), Before: held(31, 4), Told: true},
		{Name: "temperature", Unit: "K", Value: perDay(-.31, .05), Before: held(-.4, .2), Told: true, With: []string{"humidity"}, Apart: .8},
		{Name: "pressure", Unit: "hPa", With: []string{"temperature", "arc"}, Apart: .97},
		{Name: "lost motion", Unit: "turn", Value: perDay(.1, .05), Before: held(.1, .05)},
		{Name: "arc", Unit: "°"},
	}
	a.Noise = regulate.Noise{Reading: meas.Around(unit.Ratio(1.2), .1, 2), Wander: offBy(.3, .05), Drift: perDay(.08, .03)}
	a.Steps = append([]regulate.Step{
		{Touch: 1, At: trialDay(3.36), Rate: perDay(-144, 1.2), Expected: held(-77, 10)},
		{Touch: 3, At: trialDay(8.68), Rate: perDay(-42, .9), Expected: held(-44, 3)},
		{Touch: 4, At: trialDay(14), Rate: perDay(6.8, .5), Expected: held(7.5, .8), Back: true},
	}, a.Steps...)
	a.Questions = []regulate.Question{
		{About: regulate.HalfDay, Reading: []int{31}, From: trialDay(15), Until: trialDay(15), Text: "The reading of 17 November 09:00 is 12 hours off what those about it say.", Ask: "Say whether it was morning or evening"},
		{About: regulate.SetUnnoted, From: trialDay(25), Until: trialDay(25.5), Error: offBy(4, .5), Chance: 1 / 4000.0, Used: true, Text: "From 27 November on the clock is 4 s further ahead.", Ask: "Say whether the hands were set."},
	}
	a.Advice = regulate.Advice{Do: regulate.Turn, Words: "Turn the nut down by a twentieth of a turn (3 divisions).", Turns: meas.Around(unit.Ratio(-.05), .01, 2), Divisions: -3, After: perDay(-.2, .6), Right: .96, AsIs: .71, Next: trialDay(29.5),
		Learn: []regulate.Learned{{After: 86400, U: unit.RatePerDay(.6), Half: unit.RatePerDay(1.3)}, {After: 3 * 86400, U: unit.RatePerDay(.3), Half: unit.RatePerDay(.62)}, {After: 604800, U: unit.RatePerDay(.15), Half: unit.RatePerDay(.3)}}}
	a.Working = []cite.Step{{Name: "The touch", Formula: "n = (r₀ − r)/c", Numbers: "(0 − 1.6)/29.4", Result: "−0.054 turns"}}
	a.Findings = []meas.Finding{{Level: meas.Doubt, Code: "apart", Text: "Pressure and temperature went up and down together, and cannot be told apart.", Next: "Read on through a change of the weather."},
		{Level: meas.Note, Code: "slip", Text: "The first touch did almost twice what was expected."}}
	return a
}

// The documents of a trial as a terminal shows them.
func TestRegulateGolden(t *testing.T) {
	right := onTrial(21, 1, 2)
	right.Rate.Now, right.Advice = perDay(1.4, .2), regulate.Advice{Do: regulate.Leave, Words: "Leave it: it gains 1.4 ± 0.4 s a day, and right is within 2.", AsIs: .97}
	for file, a := range map[string]regulate.Answer{"regulate-turn.txt": answered(), "regulate-leave.txt": right, "regulate-nothing.txt": {}} {
		check.Golden(t, file, text.Render(Regulate(a), text.Options{Width: 100, Working: true}))
	}
}

// What is told of a clock that nobody read for long is as of then, and the
// picture ends there.
func TestRegulateLongAgo(t *testing.T) {
	a := answered()
	a.Query.Now = a.Now.At.AddDate(100, 0, 0)
	got := text.Render(Regulate(a), text.Options{Width: 100})
	if !strings.Contains(got, "Rate then") || strings.Contains(got, "Rate now") || strings.Contains(got, "Look again") {
		t.Error(got)
	}
	if s := newWeeks(a, wideFigure); s.now > 366*86400 {
		t.Errorf("the picture ends %v s on", s.now)
	}
}

// The advice is read first, the questions stand right under it, and all of it
// prints.
func TestRegulateIsReadInOrder(t *testing.T) {
	d := Regulate(answered())
	body := d.Sections[0].Body
	if _, ok := body[0].(doc.Say); !ok {
		t.Errorf("the first thing read is %T", body[0])
	}
	for i := 1; i <= 2; i++ {
		if n, ok := body[i].(doc.Notice); !ok || n.Title != "Asked" {
			t.Errorf("block %d is %+v, not a question", i, body[i])
		}
	}
	for _, s := range d.Sections {
		for _, b := range s.Body {
			if tab, ok := b.(doc.Table); ok {
				rowsFit(t, s.Heading, tab)
			}
		}
	}
	if b, err := pdf.Render(d, pdf.Options{}); err != nil || len(b) < 1000 {
		t.Errorf("printing: %v, %d bytes", err, len(b))
	}
}

func TestAnyTrialSaysNoNonsense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyTrial(t)
		a.Rate.Now = a.Past[len(a.Past)-1].Rate
		a.Complete = rapid.Bool().Draw(t, "complete")
		d := Regulate(a)
		for _, s := range d.Sections {
			for _, b := range s.Body {
				if _, figure := b.(doc.Figure); figure {
					continue
				}
				if s := fmt.Sprint(b); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
					t.Fatalf("not a number in %s", s)
				}
			}
		}
	})
}

// The log has every reading, touch and look at the air, in order, as a
// spreadsheet reads it.
func TestRegulationLog(t *testing.T) {
	a := answered()
	var b bytes.Buffer
	if err := papercsv.Write(&b, RegulationLog(a)); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := 1 + len(a.Query.Readings) + len(a.Query.Touches) + len(a.Query.Air); len(rows) != want {
		t.Errorf("%d lines, want %d", len(rows), want)
	}
	said := 0
	for i, r := range rows[1:] {
		if i > 0 && r[0] < rows[i][0] {
			t.Fatalf("%s stands after %s", r[0], rows[i][0])
		}
		if r[1] == "reading" && r[17] == "asked about, not used" {
			said++
		}
		if r[1] == "touch" && r[2] == "nut" && r[10] == "" {
			t.Errorf("a turn of the nut has no turns: %v", r)
		}
	}
	if said != 2 {
		t.Errorf("%d readings are asked about, want 2", said)
	}
}

func BenchmarkRegulateDocument(b *testing.B) {
	a := onTrial(365, 24, -40)
	b.ReportAllocs()
	for b.Loop() {
		Regulate(a)
	}
}
