package present

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/cite"
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
		{Part: part("centre wheel into third pinion", culprit.Contact, 60), Harmonic: 1, Amplitude: about[unit.Duration](7e-6, 6e-6), Chance: .5, Standing: culprit.Unlike, Smallest: 9e-6, With: []string{"escape wheel"}},
		{Part: part("centre wheel", culprit.Turn, 3600), Harmonic: 1, Amplitude: about[unit.Duration](90e-6, 90e-6), Chance: .9, Standing: culprit.NotYet, Smallest: 400e-6, ListenFor: 2.2 * 3600},
		{Part: part("great wheel", culprit.Turn, 12*3600), Harmonic: 1, Chance: 1, Standing: culprit.NotYet},
	}
}

// heard is a clock that was followed for half an hour.
func heard() listen.Answer {
	h := beat.Hearing{Verdict: beat.Regular, Length: 1800, Rate: 48000, Complete: true, Peak: .6}
	h.Runs = []beat.Run{{From: .4, To: 1799.4, Heard: 1797, Silent: 3, Extra: 1, Beat: 1.0000845, SNR: 30, EndedBy: beat.EndOfSound, ShareKept: .998}}
	c := teeth(30, 21)
	c.Suspects, c.Span = suspects(), 5
	g := &rate.Answer{Span: 1799, Used: 1797, Beat: about[unit.Duration](1.0000845, 2e-7), PerHour: about[unit.Ratio](3599.6958, .0008),
		Mean: perDayInterval(-7.284, .004), Expect: perDayInterval(-7.284, .017), BeatError: about[unit.Duration](8.985e-3, .07e-3),
		BeatErrorChange: about[unit.Duration](8.985e-3, .005e-3), Scatter: about[unit.Duration](20e-6, 1e-6), Wander: about[unit.Duration](5e-6, 1e-6)}
	return listen.Answer{
		Query: listen.Query{Clock: sampleclock.Unknown()}, Hearing: h, Going: g, Culprit: &c,
		Mean: perDayInterval(-7.284, 4.32), Expect: perDayInterval(-7.284, 4.33), PerHour: about[unit.Ratio](3599.6958, .18), Complete: true,
		Working: []cite.Step{{Name: "Rate", Formula: "r = T0/T − 1", Numbers: "1 / 1.0000845 − 1", Result: "−7.3 s a day", Ref: cite.Ref{Grade: cite.Exact}}},
		Findings: []meas.Finding{{Level: meas.Clash, Code: "culprit", Text: "Third wheel.", Next: "Look at its depthing and whether it runs true."},
			{Level: meas.Doubt, Code: "clipped", Text: "The recorder was overdriven.", Next: "Turn its level down."}},
	}
}

func words(a listen.Answer) string {
	say, more := listenSentences(a)
	return strings.ReplaceAll(say+"\n"+strings.Join(more, "\n"), "\u00a0", " ")
}

func mustSay(t *testing.T, a listen.Answer, want ...string) {
	t.Helper()
	got := words(a)
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("it does not say %q:\n%s", w, got)
		}
	}
}

func TestListenSaysWhatToDo(t *testing.T) {
	a := heard()
	mustSay(t, a, "Over these 29 min 59 s it lost 7 ± 4 s a day.", "Of the next 29 min 59 s the same is to be expected.",
		"has not been compared (± 4.3 s a day); by it the rate is −7.284 ± 0.004 s a day. Compare it for an hour",
		"out of beat by 8.98 ± 0.07 ms: from tick to tock takes longer",
		"Third wheel, once a turn (7 min 30 s): ±38 µs (31 to 45), chance that it is nothing 1 in 4,000. Look at its depthing and whether it runs true.",
		"One tooth of the escape wheel is out: tooth 22 by 104 ± 10 µs late (chance that it is nothing 1 in 900,000).",
		"Nothing as large as 9.0 µs in the escape wheel.",
		"listen 2 h 20 min for the centre wheel.", "hides the great wheel", "3 beats were silent, 1 beat was heard where none belongs.")
	if s := text.Render(Listen(a), text.Options{Width: 100}); !strings.Contains(s, "it lost") || !strings.Contains(s, "overdriven") || strings.Count(s, "depthing") != 1 {
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
