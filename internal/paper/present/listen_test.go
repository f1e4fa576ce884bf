package present

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/text"
)

func about[Q unit.Quantity](v, half Q) meas.Interval[Q] {
	return meas.Interval[Q]{Value: v, Low: v - half, High: v + half, U: half / 2, Set: true}
}

func perDayInterval(v, half float64) meas.Interval[unit.Rate] {
	return about(unit.RatePerDay(v), unit.RatePerDay(half))
}

// teeth makes a ring with a ripple, and so many teeth well out.
func teeth(n int, odd ...int) culprit.Answer {
	var a culprit.Answer
	for i := range n {
		late := 6e-6 * math.Sin(float64(i)*1.7)
		chance := 1.0
		for k, o := range odd {
			if o == i {
				late, chance = 104e-6-2*104e-6*float64(k%2), 1/900000.0
				a.Odd = append(a.Odd, i)
			}
		}
		a.Teeth = append(a.Teeth, culprit.Tooth{Number: i, Late: about(unit.Duration(late), 10e-6), Chance: chance})
	}
	return a
}

func suspects() []culprit.Suspect {
	part := func(name string, k culprit.Kind, period float64) culprit.Part {
		return culprit.Part{Name: name, Kind: k, Period: unit.Duration(period), Beats: period}
	}
	return []culprit.Suspect{
		{Part: part("third wheel", culprit.Turn, 450), Harmonic: 1, Amplitude: about[unit.Duration](38e-6, 7e-6), Chance: 1 / 4000.0, Standing: culprit.Found, Smallest: 12e-6},
		{Part: part("escape wheel", culprit.Turn, 60), Harmonic: 2, Amplitude: about[unit.Duration](5e-6, 4e-6), Chance: .4, Standing: culprit.Clear, Smallest: 9e-6},
		{Part: part("third pinion with centre wheel", culprit.Contact, 60), Harmonic: 1, Amplitude: about[unit.Duration](17e-6, 6e-6), Chance: .001, Standing: culprit.Unlike, Smallest: 9e-6, With: []string{"escape wheel"}},
		{Part: part("centre wheel", culprit.Turn, 3600), Harmonic: 1, Amplitude: about[unit.Duration](90e-6, 90e-6), Chance: .9, Standing: culprit.NotYet, Smallest: 400e-6, ListenFor: 2.2 * 3600},
		{Part: part("great wheel", culprit.Turn, 12*3600), Harmonic: 1, Chance: 1, Standing: culprit.NotYet},
	}
}

// heard is a clock that was followed for half an hour.
func heard() listen.Answer {
	h := beat.Hearing{Verdict: beat.Regular, Length: 1800, Rate: 48000, Complete: true, Peak: .6}
	h.Runs = []beat.Run{{From: .4, To: 1799.4, Heard: 1797, Silent: 3, Extra: 1, Beat: 1.0000845, SNR: 30, EndedBy: beat.EndOfSound, ShareKept: .998}}
	c := teeth(30, 21)
	c.Suspects, c.Span, c.TeethStanding = suspects(), 5, culprit.Found
	g := &rate.Answer{Span: 1799, Used: 1797, Beat: about[unit.Duration](1.0000845, 2e-7), PerHour: about[unit.Ratio](3599.6958, .0008),
		Mean: perDayInterval(-7.284, .004), Expect: perDayInterval(-7.284, .017), BeatError: about[unit.Duration](8.985e-3, .07e-3),
		BeatErrorChange: about[unit.Duration](8.985e-3, .005e-3), Scatter: about[unit.Duration](20e-6, 1e-6), Wander: about[unit.Duration](5e-6, 1e-6)}
	a := listen.Answer{
		Query: listen.Query{Clock: sampleclock.Unknown()}, Hearing: h, Going: g, Culprit: &c,
		Mean: perDayInterval(-7.284, 4.32), Expect: perDayInterval(-7.284, 4.33), PerHour: about[unit.Ratio](3599.6958, .18), Complete: true,
		Working: []cite.Step{{Name: "Rate", Formula: "r = T0/T − 1", Numbers: "1 / 1.0000845 − 1", Result: "−7.3 s a day", Ref: cite.Ref{Grade: cite.Exact}}},
	}
	a.Findings = a.Say()
	return a
}

// The document tells all findings, the rate first, and adds no sentence.
func TestListenTellsTheFindings(t *testing.T) {
	for _, a := range []listen.Answer{heard(), broken()} {
		var told []string
		for _, b := range Listen(a).Sections[0].Body {
			switch b := b.(type) {
			case doc.Say:
				told = append(told, b.Text)
			case doc.List:
				told = append(told, b.Items...)
			default:
				t.Errorf("%T among the sentences", b)
			}
		}
		if len(told) != len(a.Findings) || len(told) > 12 || !strings.HasPrefix(told[0], "Over these") {
			t.Errorf("%d sentences for %d findings:\n%s", len(told), len(a.Findings), strings.Join(told, "\n"))
		}
		for _, f := range a.Findings {
			if !slices.Contains(told, strings.TrimSpace(f.Text+" "+f.Next)) {
				t.Errorf("%s is not told", f.Code)
			}
		}
	}
	if s := text.Render(Listen(heard()), text.Options{Width: 100}); !strings.Contains(s, "it lost") || strings.Count(s, "depthing") != 1 {
		t.Error(s)
	}
}

func TestRingKeepsItsWordsApart(t *testing.T) {
	for name, c := range map[string]culprit.Answer{"one odd": teeth(30, 21), "none": teeth(30), "pin wheel": teeth(60, 3, 4, 5, 58), "all": teeth(12, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11), "two": teeth(2), "many": teeth(120, 7)} {
		for _, w := range []float64{320, 340, 500, 640, 700, 760} {
			inside(t, fmt.Sprintf("%s at %.0f", name, w), ringPicture(c, w))
		}
	}
	if _, ok := ringFigure(culprit.Answer{}); ok {
		t.Error("a ring without teeth")
	}
}
