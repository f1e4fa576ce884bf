package desk

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/dxf"
	"seatboard/internal/paper/svg"
	"seatboard/internal/paper/text"
)

// shown is all that a person sees of an outcome.
func shown(o Outcome) string {
	said := text.Render(o.Doc, text.Options{Width: 90, Working: true})
	for _, f := range o.Doc.Figures() {
		said += string(svg.File(f.Wide)) + string(svg.File(f.Narrow))
	}
	for _, d := range o.Doc.Drawings() {
		b, err := dxf.File(d)
		said += string(b) + fmt.Sprint(err)
	}
	if o.Log != nil {
		for _, r := range o.Log().Rows {
			said += strings.Join(r, " ")
		}
	}
	return said
}

var noNumber = regexp.MustCompile(`NaN|[+−-]?\bInf\b`)

// answered fails where what was typed comes to neither an answer of numbers
// nor a list of mistakes. What takes longer than is waited for is not judged.
func answered(t *rapid.T, c Calculation, values map[string][]string) {
	ctx, done := context.WithTimeout(context.Background(), time.Second) // of a search the best so far
	defer done()
	o, err := c.Work(ctx, values)
	var faults meas.Faults
	switch {
	case errors.As(err, &faults):
		for _, f := range faults {
			if f.Text == "" || f.Field == "" {
				t.Fatalf("a mistake that says nothing: %+v of\n%v", f, values)
			}
		}
	case errors.Is(err, context.DeadlineExceeded):
	case err != nil:
		t.Fatalf("%v of\n%v", err, values)
	default:
		if _, err := json.Marshal(o.Answer); err != nil {
			t.Fatalf("%v of the answer to\n%s %v", err, c.Name, values)
		}
		if said := shown(o); noNumber.MatchString(said) {
			at := noNumber.FindStringIndex(said)[0]
			t.Fatalf("not a number in the answer to\n%s %v\n…%s", c.Name, values, said[max(0, at-300):min(len(said), at+60)])
		}
	}
}

// paper is lines of a trial, as uneven as paper can be.
type paper struct {
	strings.Builder
	at     time.Time
	fast   float64 // s
	rate   float64 // s/day
	layout string
	zone   *time.Location
	shift  time.Duration // not written: one line alone is off by so much
}

func (p *paper) step(d time.Duration) {
	p.at, p.fast = p.at.Add(d), math.Remainder(p.fast+p.rate*d.Hours()/24, 43200) // as a dial shows it
}

func (p *paper) line(format string, a ...any) {
	p.WriteString(p.at.Add(p.shift).In(p.zone).Format(p.layout) + " " + fmt.Sprintf(format, a...) + "\n")
	p.shift = 0
}

var anyTouch = []string{"nut up 1/2", "nut down 12 divisions", "nut up 40", "tray 2 g on", "tray 0.001 g off", "set right", "set 3 h slow", "stopped", "started 3 s fast", "moved: to the case", "levelled", "oiled", "wound", "worked: new suspension"}

// write puts one line of the kind that is drawn.
func (p *paper) write(t *rapid.T, what int) {
	switch what {
	case 0:
		p.line("%s", rapid.SampledFrom(anyTouch).Draw(t, "touch"))
	case 1:
		p.line("%+.2f ± %s s/d over %s", p.rate, rapid.SampledFrom([]string{"0.1", "0", "0.000001", "9000"}).Draw(t, "doubt"), rapid.SampledFrom([]string{"20 min", "1 s", "40 d"}).Draw(t, "over"))
	case 2:
		p.line("%+.1f s, %d °C, 1013 hPa, 55 %%, arc 2.1°", p.fast, rapid.IntRange(5, 30).Draw(t, "warmth"))
	case 3:
		p.line("%+.1f s", p.fast+rapid.SampledFrom([]float64{43200, -43200, 3600, -60, 20000, 3e7, 1e-9}).Draw(t, "slip"))
	case 4:
		p.shift = rapid.SampledFrom([]time.Duration{-time.Hour, 12 * time.Hour, -26 * time.Hour, 20 * time.Second, -400 * 24 * time.Hour}).Draw(t, "shift")
		p.line("%+.1f s", p.fast)
	case 5:
		p.line("%+.1f ± %s s", p.fast, rapid.SampledFrom([]string{"0", "0.0000001", "30", "90000"}).Draw(t, "doubt"))
	case 6:
		p.line("%d °C", rapid.IntRange(-30, 60).Draw(t, "warmth"))
	default:
		p.line("%+.1f s", p.fast)
	}
}

// The papers are: some of each, touches only, rates only, air only, all within
// a minute, all in the same minute, years apart, an hour that comes twice or
// never, and a year of one value.
func anyPaper(t *rapid.T) (lines, zone string) {
	p := paper{at: time.Date(2026, 11, 3, 9, 0, 0, 0, time.UTC), layout: "2006-01-02 15:04", zone: time.UTC}
	p.rate = rapid.OneOf(rapid.Float64Range(-200, 200), rapid.SampledFrom([]float64{0, 1e-9, 40000, -40000})).Draw(t, "rate")
	zone = "UTC"
	steps, what := rapid.IntRange(0, 3000), rapid.IntRange(0, 11)
	unit := time.Minute
	n := rapid.IntRange(1, 14).Draw(t, "lines")
	switch rapid.IntRange(0, 9).Draw(t, "kind of paper") {
	case 0:
		what = rapid.Just(0)
	case 1:
		what = rapid.Just(1)
	case 2:
		what = rapid.Just(6)
	case 3:
		steps, unit, p.layout = rapid.IntRange(0, 30), time.Second, "2006-01-02 15:04:05"
	case 4:
		steps = rapid.Just(0)
	case 5:
		steps, unit = rapid.IntRange(0, 1500), 24*time.Hour
	case 6, 7: // about a change of the hour
		zone = rapid.SampledFrom([]string{"Europe/London", "America/New_York", "Australia/Lord_Howe", "Pacific/Apia", "+05:45"}).Draw(t, "zone")
		if loc, err := time.LoadLocation(zone); err == nil {
			p.zone = loc
		}
		p.at = rapid.SampledFrom([]time.Time{time.Date(2026, 3, 28, 22, 0, 0, 0, time.UTC), time.Date(2026, 10, 24, 22, 0, 0, 0, time.UTC)}).Draw(t, "change")
		steps = rapid.IntRange(0, 90)
	case 8:
		if rapid.IntRange(0, 9).Draw(t, "whole year") > 0 {
			break
		}
		p.rate = 0
		for range rapid.SampledFrom([]int{60, 365}).Draw(t, "days") {
			p.step(24 * time.Hour)
			p.line("+5 s")
		}
	}
	for range n {
		p.step(time.Duration(steps.Draw(t, "step")) * unit)
		p.write(t, what.Draw(t, "what"))
	}
	return p.String(), zone
}

// Whatever lines are typed in, there is an answer that can be read, or a list
// of mistakes.
func TestAnyTrialIsAnswered(t *testing.T) {
	c, ok := Find("regulate")
	if !ok {
		t.Fatal("there is no regulation on the desk")
	}
	rapid.Check(t, func(t *rapid.T) {
		lines, zone := anyPaper(t)
		values := map[string][]string{"lines": {lines}, "zone": {zone}, "divisions": {"60"}}
		if rapid.Bool().Draw(t, "known") {
			values["per-turn"], values["rod"], values["per-gram"] = []string{"30 ± 3"}, []string{"steel"}, []string{"0.5"}
		}
		if rapid.Bool().Draw(t, "going home") {
			values["move"], values["band"] = []string{rapid.SampledFrom([]string{"-12 ± 4", "0", "3", "4000 ± 400"}).Draw(t, "move")}, []string{"0.001"}
		}
		answered(t, c, values)
	})
}
