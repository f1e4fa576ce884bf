package listen_test

import (
	"math"
	"strings"
	"testing"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
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
func followed() listen.Answer {
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
	}
}

// brokenOff is a record with a stop and a step.
func brokenOff() listen.Answer {
	a := followed()
	r := a.Hearing.Runs[0]
	r.To, r.EndedBy, r.Heard = 601.4, beat.Stopped, 601
	second := r
	second.From, second.To, second.EndedBy, second.Silent, second.Extra, second.Heard = 640.4, 1250.4, beat.Stepped, 0, 0, 611
	a.Hearing.Runs = []beat.Run{r, second}
	return a
}

func words(a listen.Answer) string {
	var b strings.Builder
	for _, f := range a.Say() {
		b.WriteString(strings.TrimSpace(f.Text+" "+f.Next) + "\n")
	}
	return strings.ReplaceAll(b.String(), "\u00a0", " ")
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

func TestSaysWhatToDo(t *testing.T) {
	a := followed()
	mustSay(t, a, "Over these 29 min 59 s it lost 7 ± 4 s a day; the same is to be expected of the next.",
		"has not been compared (± 4.3 s a day); by it the rate is −7.284 ± 0.004 s a day. Compare it for an hour",
		"out of beat by 8.98 ± 0.07 ms: from tick to tock is longer",
		"Third wheel, once a turn (7 min 30 s): ±38 µs (31 to 45), chance that it is nothing 1 in 4,000. Look at its depthing and whether it runs true.",
		"One tooth of the escape wheel is out: tooth 22 by 104 ± 10 µs late (chance that it is nothing 1 in 900,000).",
		"Either third pinion with centre wheel, at each tooth (1 min) or escape wheel: ±17 µs (11 to 23), chance that it is nothing 1 in 1,000.",
		"Nothing as large as 9.0 µs repeats in the escape wheel.",
		"The centre wheel cannot be told yet. The clock's own wander hides the great wheel. Listen 2 h 20 min for the centre wheel, in one record.", "3 beats were silent.", "1 beat was heard where none belongs: a drop")
}

// Every kind of answer has its sentences, and no other's.
func TestSaysWhatIsSo(t *testing.T) {
	change := func(f func(*listen.Answer)) listen.Answer {
		a := followed()
		f(&a)
		return a
	}
	for name, c := range map[string]struct {
		a         listen.Answer
		say, deny []string
	}{
		"no beat":  {listen.Answer{Hearing: beat.Hearing{Verdict: beat.NoBeat, Why: "Nothing repeats as a clock does.", Length: 60}}, []string{"No regular beat is heard. Nothing repeats"}, []string{"Over these", "beats an hour"}},
		"not sure": {listen.Answer{Hearing: beat.Hearing{Verdict: beat.NotSure, Why: "Record a minute."}}, []string{"It is not sure that this is a clock. Record a minute."}, nil},
		"cut":      {change(func(a *listen.Answer) { a.Hearing.Verdict = beat.Edited }), []string{"has been cut or looped"}, nil},
		"looped": {change(func(a *listen.Answer) {
			a.Hearing.Verdict, a.Hearing.Why = beat.Edited, "No rate can be had from it."
			a.Hearing.Marks = append(a.Hearing.Marks, beat.Mark{Kind: beat.Repeat, At: 127.4, Size: 6})
		}), []string{"This recording has been cut or looped: what is heard at 2 min 7 s was heard 6 s before. No rate can be had from it."}, nil},
		"silenced": {listen.Answer{Hearing: beat.Hearing{Verdict: beat.Edited, Marks: []beat.Mark{{Kind: beat.Zeros, At: 3.06, Size: .09}}}}, []string{"looped: at 3.06 s it is exactly silent for 90 ms."}, nil},
		"nothing":  {listen.Answer{Hearing: beat.Hearing{Verdict: beat.Regular}}, []string{"too few beats"}, nil},
		"no train": {change(func(a *listen.Answer) {
			a.Mean, a.Expect, a.Culprit = meas.Interval[unit.Rate]{}, meas.Interval[unit.Rate]{}, nil
		}), []string{"it made 3599.70 ± 0.18 beats an hour. State its train"}, []string{"gained", "lost", "Third"}},
		"other clock": {change(func(a *listen.Answer) { a.Mean.Set, a.Expect.Set, a.Nominal.Set = false, false, true }), []string{"not the beat of this clock"}, []string{"State its train"}},
		"to expect":   {change(func(a *listen.Answer) { a.Mean, a.Expect = perDayInterval(12.3, .2), perDayInterval(12.3, .6) }), []string{"it gained 12.30 ± 0.20 s a day.", "In the next 29 min 59 s expect it to gain 12.3 ± 0.6 s a day."}, []string{"the same"}},
		"either way":  {change(func(a *listen.Answer) { a.Mean, a.Expect = perDayInterval(.3, .2), perDayInterval(.3, .6) }), []string{"expect +0.3 ± 0.6 s a day: it may gain or lose"}, nil},
		"own wander":  {change(func(a *listen.Answer) { a.Query.Clock.Limit = 1e-9 }), []string{"the clock's own wander, 5.0 ± 1.0 µs at each beat", "a record four times as long halves"}, []string{"recorder"}},
		"length":      {change(func(a *listen.Answer) { a.Query.Clock.Limit, a.Going.Wander = 1e-9, about[unit.Duration](0, 1e-6) }), []string{"The limits are set by the length of the record: single beats scatter by 20.0 ± 1.0 µs, and twice the length"}, []string{"recorder"}},
		"calibrated":  {change(func(a *listen.Answer) { a.Query.Clock = sampleclock.Clock{Limit: 1e-6, How: sampleclock.Calibrated} }), []string{"(± 0.086 s a day)", "a longer calibration"}, []string{"not been compared"}},
		"other side":  {change(func(a *listen.Answer) { a.Going.BeatError = about[unit.Duration](-2e-3, 1e-4) }), []string{"out of beat by 2.00 ± 0.10 ms: from tock to tick is longer than from tick to tock"}, nil},
		"in beat":     {change(func(a *listen.Answer) { a.Going.BeatError = about[unit.Duration](5e-5, 1e-4) }), []string{"It is in beat as far as can be told"}, []string{"out of beat"}},
		"stopped":     {brokenOff(), []string{"It stopped at 10 min 1 s.", "From 20 min 50 s on all beats are shifted"}, nil},
		"teeth not yet": {change(func(a *listen.Answer) {
			a.Culprit = &culprit.Answer{Suspects: suspects()[3:4], TeethStanding: culprit.NotYet, TeethFor: 2300}
		}), []string{"The teeth and the centre wheel cannot be told yet. Listen 40 min for the teeth and 2 h 20 min for the centre wheel, in one record."}, []string{"is out:"}},
		"many not yet": {change(func(a *listen.Answer) {
			s := suspects()[3]
			quick, slow := s, s
			quick.Part.Name, quick.ListenFor = "escape wheel", 240
			slow.Part.Name, slow.ListenFor = "great wheel", 90000
			a.Culprit = &culprit.Answer{Suspects: []culprit.Suspect{slow, s, quick}}
		}), []string{"3 parts of the train cannot be told yet. Listen 4 min for the escape wheel, 2 h 20 min for the centre wheel and 1 d 1 h for the great wheel, in one record."}, nil},
		"teeth hidden": {change(func(a *listen.Answer) { a.Culprit = &culprit.Answer{TeethStanding: culprit.NotYet} }), []string{"The clock's own wander hides the teeth of the escape wheel."}, []string{"cannot be told"}},
		"teeth clear":  {change(func(a *listen.Answer) { c := teeth(30); c.TeethStanding, a.Culprit = culprit.Clear, &c }), []string{"No tooth of the escape wheel is out by more than 16 µs."}, []string{"is out:"}},
		"tells which": {change(func(a *listen.Answer) {
			s := suspects()[2]
			s.ListenFor = 7000
			a.Culprit = &culprit.Answer{Suspects: []culprit.Suspect{s}}
		}), []string{"A record of 2 h tells which."}, []string{"No record"}},
		"two clocks": {listen.Answer{Hearing: beat.Hearing{Verdict: beat.TwoClocks, Why: "They are those of two."}}, []string{"No beat can be given. They are those of two."}, []string{"Over these"}},
		"company":    {change(func(a *listen.Answer) { a.Hearing.Second = &beat.Second{Beat: .313, Level: .5} }), []string{"Over these", "Another clock is heard too: it beats every 0.313 s, 6 dB fainter than this one. Stop the other one"}, []string{"kept apart"}},
		"mixed":      {change(func(a *listen.Answer) { a.Hearing.Second = &beat.Second{Level: 1, Mixed: true} }), []string{"Another clock is heard too, as loud as this one. For a time the two could not be kept apart, and no beat of that time is counted."}, []string{"it beats"}},
		"clipped":    {change(func(a *listen.Answer) { a.Hearing.Clipped = .01 }), []string{"The recorder was overdriven. Turn its level down"}, nil},
		"drifting": {change(func(a *listen.Answer) {
			a.Going.Findings = []meas.Finding{{Level: meas.Doubt, Code: "drifting-rate", Text: "The rate is changing."}}
		}), []string{"The rate is changing."}, nil},
		"slightly out": {change(func(a *listen.Answer) { a.Going.BeatError = about[unit.Duration](2e-3, 1e-4) }), []string{"out of beat by 2.00"}, []string{"crutch"}},
		"early tooth":  {change(func(a *listen.Answer) { c := teeth(30, 3, 9); a.Culprit = &c }), []string{"tooth 4 by 104 ± 10 µs late and tooth 10 by 104 ± 10 µs early"}, nil},
		"peak": {change(func(a *listen.Answer) {
			a.Culprit = &culprit.Answer{Peaks: []culprit.Peak{{Period: 97.3, Amplitude: about[unit.Duration](2e-5, 2e-6), Chance: 1e-5}}}
		}), []string{"Something repeats every 1 min 37 s: ±20.0 µs (18.0 to 22.0), chance that it is nothing 1 in 100,000. State the train"}, nil},
		"peak of no part": {change(func(a *listen.Answer) {
			a.Culprit.Suspects = a.Culprit.Suspects[:1]
			a.Culprit.Peaks = []culprit.Peak{{Period: 97.3, Amplitude: about[unit.Duration](2e-5, 2e-6), Chance: 1e-5}}
		}), []string{"Something that is no part of this train repeats"}, []string{"State the train"}},
	} {
		got := words(c.a)
		mustSay(t, c.a, c.say...)
		for _, d := range c.deny {
			if strings.Contains(got, d) {
				t.Errorf("%s: it says %q:\n%s", name, d, got)
			}
		}
		for _, bad := range []string{"NaN", "Inf", "  ", "..", ",.", "%!", "-"} {
			if strings.Contains(got, bad) {
				t.Errorf("%s: %q in\n%s", name, bad, got)
			}
		}
	}
}
