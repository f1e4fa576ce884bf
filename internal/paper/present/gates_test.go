package present

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// triedFacts is a clock in the fifth day of its first week, read once or twice a
// day, gaining 2 s/d.
func triedFacts() (trial.Aim, trial.Facts) {
	a := trial.DefaultAim()
	a.Strikes, a.Promise = true, "right to a minute a week"
	from := time.Date(2026, 11, 2, 9, 14, 0, 0, time.UTC)
	f := trial.Facts{Now: from.Add(110 * time.Hour), Answer: &regulate.Answer{}, Promise: "2026-12-24", Marks: []trial.Mark{{N: 1, Kind: trial.Began, Gate: "stand", At: from.Add(-24 * time.Hour), Who: "restorer"}}}
	for i, h := range []float64{-24, 0, 8, 24, 31, 48, 72, 97, 105} {
		at := from.Add(time.Duration(h * float64(time.Hour)))
		f.Readings = append(f.Readings, regulate.Reading{ID: i + 1, At: at, How: regulate.ByHand})
		f.Answer.Past = append(f.Answer.Past, regulate.Point{At: at, Reading: i + 1, Error: meas.Around(unit.Duration(2*h/24), 0.4, 1.96)})
	}
	f.Touches = []regulate.Touch{{ID: 1, At: from, Kind: regulate.NutTurned, Turns: -0.25}}
	for _, h := range []int{10, 11, 12, 3} {
		f.Strikes = append(f.Strikes, trial.Strike{At: from.Add(time.Duration(h) * time.Hour), Hour: h, Blows: h})
	}
	return a, f
}

func TestGatesGolden(t *testing.T) {
	a, f := triedFacts()
	c := job.Clock{Number: "2026-011", Title: "Wall regulator"}
	under := shownWhole(Gates(c, trial.Judge(a, f), f.Now))
	f.Now = f.Now.Add(5 * 24 * time.Hour)
	f.Marks = append(f.Marks, trial.Mark{N: 2, Kind: trial.Passed, Gate: "stand", At: f.Now, Who: "restorer", Why: "the owner travels on Monday"})
	check.Golden(t, "gates.txt", under+"\n\n"+shownWhole(Acceptance(c, trial.Judge(a, f), f.Now))+"\n\n"+shownWhole(Gates(c, trial.Judge(trial.Aim{}, trial.Facts{}), f.Now)))
}

func TestGatesInShort(t *testing.T) {
	a, f := triedFacts()
	a.Strikes, a.BeatError = false, 0
	say := func() string { return GatesInShort(trial.Judge(a, f), f.Now) }
	if got := say(); !strings.Contains(got, "day 5 of 7, and nothing is against it") {
		t.Error(got)
	}
	last := f.Answer.Past[len(f.Answer.Past)-1]
	f.Now = last.At.Add(63 * time.Hour)
	f.Readings = append(f.Readings, regulate.Reading{ID: 20, At: f.Now, How: regulate.ByHand})
	f.Answer.Past = append(f.Answer.Past, regulate.Point{At: f.Now, Reading: 20, Error: meas.Around(last.Error.Value+5, 0.4, 1.96)})
	if got := say(); !strings.Contains(got, "ready to be signed") {
		t.Error(got)
	}
	f.Answer.Past[len(f.Answer.Past)-1].Error = meas.Around(last.Error.Value+60, 0.4, 1.96)
	if got := say(); !strings.Contains(got, "not so. Rate within") {
		t.Error(got)
	}
}

// TestWeekPicture: every word stands in the picture, at both widths, and a
// stretch of four weeks is four rows.
func TestWeekPicture(t *testing.T) {
	a, f := triedFacts()
	for _, days := range []float64{1, 7, 28} {
		a.Gates[0].Days = days
		g := trial.Judge(a, f).Gates[0]
		for _, w := range []float64{350, 700} {
			p := weekPicture(g, f.Now, w)
			if p.Desc == "" || strings.Count(p.Desc, "Day ") != len(g.Days) {
				t.Errorf("%v days: words %q", days, p.Desc)
			}
			for _, x := range p.Items {
				if words, ok := x.(pic.Text); ok {
					half := pic.TextWidth(words.S, words.Style) / 2
					if words.P.X-half < -6 || words.P.X+half > w+6 || words.P.Y > p.H {
						t.Errorf("%v days at %v: %q stands at %v of %v × %v", days, w, words.S, words.P, p.W, p.H)
					}
				}
			}
		}
	}
}
