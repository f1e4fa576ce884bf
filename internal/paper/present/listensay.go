package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// listenSentences says what a restorer can act on: the one sentence that
// matters, then the others in the order of their use.
func listenSentences(a listen.Answer) (say string, more []string) {
	for _, s := range [...]string{
		verdictSentence(a), rateSentence(a), stopSentence(a), expectSentence(a), limitSentence(a), next(a, beatErrorSentence(a), "out-of-beat"),
	} {
		if s != "" {
			more = append(more, s)
		}
	}
	more = append(more, faultSentences(a)...)
	more = append(more, breakSentences(a)...)
	if len(more) == 0 {
		return next(a, "There are too few beats for a rate.", "too-few"), nil
	}
	return more[0], more[1:]
}

// toldInSentences are the codes of findings that the opening sentences tell
// with their limits; what to do about them stands at the end of the sentence.
const toldInSentences = " no-beat too-few no-nominal recorder out-of-beat culprit tooth stopped stepped silent extra "

// untold are the findings that no sentence tells.
func untold(all []meas.Finding) []meas.Finding {
	var out []meas.Finding
	for _, f := range all {
		if !strings.Contains(toldInSentences, " "+f.Code+" ") {
			out = append(out, f)
		}
	}
	return out
}

// next adds what the first finding of a code says to do.
func next(a listen.Answer, sentence, code string) string {
	for _, f := range a.Findings {
		if f.Code == code && f.Next != "" && sentence != "" {
			return sentence + " " + f.Next
		}
	}
	return sentence
}

// verdictSentence is empty where a regular beat was heard.
func verdictSentence(a listen.Answer) string {
	words := map[beat.Verdict]string{
		beat.NoBeat:  "No regular beat is heard.",
		beat.NotSure: "It is not sure that this is a clock.",
		beat.Edited:  "This recording has been cut or looped.",
	}[a.Hearing.Verdict]
	if words == "" || a.Hearing.Why == "" {
		return words
	}
	return words + " " + a.Hearing.Why
}

// rateSentence tells the mean rate of the stretch that was heard; the rate to
// expect has a sentence of its own unless it is the same.
func rateSentence(a listen.Answer) string {
	over := "Over these " + lasting(stretch(a))
	same := "."
	if a.Expect.Set && !differs(a) {
		same = "; the same is to be expected of the next."
	}
	switch {
	case a.Mean.Set && !a.Mean.Has(0):
		return fmt.Sprintf("%s it %s %s%s", over, wayWord(a.Mean, "gained", "lost"), perDay(size(a.Mean)), same)
	case a.Mean.Set:
		return fmt.Sprintf("%s it kept time as far as can be told, %s%s", over, plus(a.Mean)+perDay(a.Mean), same)
	case a.PerHour.Set && a.Nominal.Set:
		return fmt.Sprintf("%s it made %s beats an hour, which is not the beat of this clock.", over, within(a.PerHour, ""))
	case a.PerHour.Set:
		return fmt.Sprintf("%s it made %s beats an hour. State its train, or the beats it should make, to have a rate.", over, within(a.PerHour, ""))
	}
	return ""
}

// differs tells whether the rate to expect is another thing than the mean:
// its limits are wider, or it stands elsewhere.
func differs(a listen.Answer) bool {
	e, m := a.Expect, a.Mean
	return !m.Set || math.Abs(float64(e.Half()-m.Half()))+math.Abs(float64(e.Value-m.Value)) > 0.1*float64(m.Half())
}

// expectSentence tells the rate to expect where it is another thing.
func expectSentence(a listen.Answer) string {
	if !a.Expect.Set || !differs(a) {
		return ""
	}
	over := lasting(stretch(a))
	if a.Expect.Has(0) {
		return fmt.Sprintf("Of the next %s expect %s: it may gain or lose.", over, plus(a.Expect)+perDay(a.Expect))
	}
	return fmt.Sprintf("In the next %s expect it to %s %s.", over, wayWord(a.Expect, "gain", "lose"), perDay(size(a.Expect)))
}

func wayWord(i meas.Interval[unit.Rate], gains, loses string) string {
	if i.Value < 0 {
		return loses
	}
	return gains
}

func plus(i meas.Interval[unit.Rate]) string {
	if i.Value > 0 {
		return "+"
	}
	return ""
}

// perDay writes a rate with its limits: "7.28 ± 0.02 s a day".
func perDay(i meas.Interval[unit.Rate]) string {
	d := func(r unit.Rate) unit.Ratio { return unit.Ratio(r.PerDay()) }
	r := meas.Interval[unit.Ratio]{Value: d(i.Value), Low: d(i.Low), High: d(i.High), U: d(i.U), Set: i.Set}
	if even(r) {
		return within(r, "") + "\u00a0s a day"
	}
	value, low, high := limits(r, "")
	return fmt.Sprintf("%s\u00a0s a day (%s to %s)", value, low, high)
}

// limitSentence says what the limits of the rate come from and what would
// narrow them.
func limitSentence(a listen.Answer) string {
	if a.Going == nil || !a.PerHour.Set && !a.Mean.Set {
		return ""
	}
	recorder := math.Abs(float64(a.Query.Clock.Limit))
	if recorder > ownHalf(a) {
		byIt := ""
		if m := a.Going.Mean; m.Set {
			byIt = "; by it the rate is " + plus(m) + perDay(m)
		}
		return recorderSentence(a.Query.Clock, byIt)
	}
	return ownSentence(a)
}

// ownHalf is half the 95 % interval of the mean rate by the recorder's clock.
func ownHalf(a listen.Answer) float64 {
	g := a.Going
	if g.Mean.Set {
		return float64(g.Mean.Half())
	}
	if g.PerHour.Set && g.PerHour.Value > 0 {
		return float64(g.PerHour.Half() / g.PerHour.Value)
	}
	return 0
}

func recorderSentence(c sampleclock.Clock, byIt string) string {
	doubt := "±\u00a0" + unit.Significant(c.Limit.PerDay(), 2) + "\u00a0s a day"
	switch c.How {
	case sampleclock.Calibrated:
		return "The limits are the doubt of the recorder's own clock (" + doubt + ")" + byIt + "; a longer calibration narrows them."
	case sampleclock.Stated:
		return "The limits are those stated of the recorder's own clock (" + doubt + ")" + byIt + "."
	}
	return "The limits are the recorder's own clock, which has not been compared (" + doubt + ")" + byIt +
		". Compare it for an hour with a clock set by the network, and state its error."
}

// ownSentence tells whether the clock's wander or the length is the limit.
func ownSentence(a listen.Answer) string {
	g := a.Going
	scatter, wander := float64(g.Scatter.Value), float64(g.Wander.Value)
	n := math.Max(float64(g.Used), 2)
	// Variances of the mean interval from each, for n beats: 12 r²/n³ of a
	// line through white scatter, q²/n of a sum of steps.
	if g.Wander.Set && g.Wander.Low > 0 && wander*wander/n > 12*scatter*scatter/(n*n*n) {
		return fmt.Sprintf("The limits are the clock's own wander, %s at each beat, which adds up: four times as long halves them.", within(g.Wander, fineSymbol(g.Wander.High)))
	}
	if g.Scatter.Set && !(g.Scatter.Low > 0) {
		return fmt.Sprintf("The limits are the length: each beat is out by less than %s of itself, and twice as long narrows them to about a third.", fine(g.Scatter.High))
	}
	if g.Scatter.Set {
		return fmt.Sprintf("The limits are the length: each beat is out by %s of itself, and twice as long narrows them to about a third.", within(g.Scatter, fineSymbol(g.Scatter.High)))
	}
	return "The limits are the length of the record."
}

// beatErrorSentence says how far the clock is out of beat and which side is
// longer.
func beatErrorSentence(a listen.Answer) string {
	if a.Going == nil || !a.Going.BeatError.Set {
		return ""
	}
	e := a.Going.BeatError
	symbol := "ms"
	if e.Has(0) {
		return fmt.Sprintf("It is in beat as far as can be told: tick and tock differ by %s.", within(size(e), symbol))
	}
	long, short := "from tick to tock", "from tock to tick"
	if e.Value < 0 {
		long, short = short, long
	}
	first := ", the tick being the first beat heard"
	if next(a, "s", "out-of-beat") != "s" { // what to do says it too
		first = ""
	}
	s := fmt.Sprintf("It is out of beat by %s: %s is longer than %s%s.", within(size(e), symbol), long, short, first)
	if c := a.Going.BeatErrorChange; c.Set && float64(c.Half()) < 0.2*float64(e.Half()) {
		s += fmt.Sprintf(" A change of %s would show.", fine(c.Half()))
	}
	return s
}

// fine is a time with two figures in the unit that suits it.
func fine(d unit.Duration) string {
	symbol := fineSymbol(d)
	return unit.Significant(unit.In(d, symbol), 2) + "\u00a0" + symbol
}

// endings are the times at which the stretches that were heard ended so.
func endings(h beat.Hearing, how beat.Ending) []string {
	var at []string
	for _, r := range h.Runs {
		if r.EndedBy == how && r.Heard > 0 {
			at = append(at, atTime(r.To))
		}
	}
	return at
}

func stopSentence(a listen.Answer) string {
	if at := endings(a.Hearing, beat.Stopped); len(at) > 0 {
		return next(a, "It stopped at "+someOf(at, 4)+".", "stopped")
	}
	return ""
}

// breakSentences tell of steps, cuts, silent and extra beats.
func breakSentences(a listen.Answer) []string {
	var out []string
	if at := endings(a.Hearing, beat.Stepped); len(at) > 0 {
		out = append(out, next(a, "From "+someOf(at, 4)+" on all beats are shifted: the recorder lost sound or put some in, or the clock was moved. That is kept out of the rate.", "stepped"))
	}
	if at := endings(a.Hearing, beat.Silence); len(at) > 0 {
		out = append(out, "The sound was cut off at "+someOf(at, 4)+".")
	}
	silent, extra := 0, 0
	for _, r := range a.Hearing.Runs {
		silent, extra = silent+r.Silent, extra+r.Extra
	}
	var odd []string
	if silent > 0 {
		odd = append(odd, times(silent, "beat was silent", "beats were silent"))
	}
	if extra > 0 {
		odd = append(odd, times(extra, "beat was heard where none belongs", "beats were heard where none belong"))
	}
	if len(odd) > 0 {
		out = append(out, capital(strings.Join(odd, ", "))+".")
	}
	return out
}

// atTime is a place in the record: "3 min 2 s".
func atTime(d unit.Duration) string {
	if d > 60 {
		d = unit.Duration(math.Round(float64(d)))
	}
	return lasting(d)
}

// someOf lists so many words and counts the others.
func someOf(words []string, n int) string {
	if len(words) <= n+1 {
		return listed(words)
	}
	return strings.Join(words[:n], ", ") + fmt.Sprintf(" and %d more", len(words)-n)
}
