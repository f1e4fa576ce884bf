package listen

import (
	"fmt"
	"math"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// rate tells the mean rate of the stretch that was heard, the rate to expect
// where it is another thing, and what sets their limits.
func (t *telling) rate(a Answer) {
	if a.Going == nil {
		t.add(meas.Doubt, "too-few", "There are too few beats for a rate.", "Record a minute or more.")
		return
	}
	over := "Over these " + phrase.Lasting(stretch(a))
	switch {
	case a.Mean.Set:
		t.add(meas.Note, "rate", over+meanWords(a), "")
	case a.PerHour.Set && a.Nominal.Set:
		t.add(meas.Clash, "other-clock", fmt.Sprintf("%s it made %s beats an hour, which is not the beat of this clock: it lasts %s and should last %s.",
			over, phrase.Within(a.PerHour, ""), unit.Text(a.Going.Beat.Value, "s", 4), unit.Text(a.Nominal.Value, "s", 4)),
			"Look whether it is this clock that was heard, or correct the counts of its train.")
	case a.PerHour.Set:
		t.add(meas.Note, "no-nominal", fmt.Sprintf("%s it made %s beats an hour.", over, phrase.Within(a.PerHour, "")),
			"State its train, or the beats it should make, to have a rate.")
	}
	t.expect(a)
	if a.PerHour.Set || a.Mean.Set {
		t.limits(a)
	}
	*t = append(*t, a.Going.Findings...)
}

// meanWords is the mean rate; the rate to expect is told with it where it is
// the same.
func meanWords(a Answer) string {
	same := "."
	if a.Expect.Set && !differs(a) {
		same = "; the same is to be expected of the next."
	}
	if a.Mean.Has(0) {
		return " it kept time as far as can be told, " + plus(a.Mean) + phrase.PerDay(a.Mean) + same
	}
	return " it " + way(a.Mean, "gained", "lost") + " " + phrase.PerDay(phrase.Size(a.Mean)) + same
}

// differs tells whether the rate to expect is another thing than the mean:
// its limits are wider, or it stands elsewhere.
func differs(a Answer) bool {
	e, m := a.Expect, a.Mean
	return !m.Set || math.Abs(float64(e.Half()-m.Half()))+math.Abs(float64(e.Value-m.Value)) > 0.1*float64(m.Half())
}

func (t *telling) expect(a Answer) {
	if !a.Expect.Set || !differs(a) {
		return
	}
	over := phrase.Lasting(stretch(a))
	text := fmt.Sprintf("In the next %s expect it to %s %s.", over, way(a.Expect, "gain", "lose"), phrase.PerDay(phrase.Size(a.Expect)))
	if a.Expect.Has(0) {
		text = fmt.Sprintf("Of the next %s expect %s: it may gain or lose.", over, plus(a.Expect)+phrase.PerDay(a.Expect))
	}
	t.add(meas.Note, "expect", text, "")
}

func way(i meas.Interval[unit.Rate], gains, loses string) string {
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

// limits says what the limits of the rate come from and what would narrow
// them.
func (t *telling) limits(a Answer) {
	if math.Abs(float64(a.Query.Clock.Limit)) <= ownHalf(*a.Going) {
		t.add(meas.Note, "limits", ownWords(*a.Going), "")
		return
	}
	byIt := ""
	if m := a.Going.Mean; m.Set {
		byIt = "; by it the rate is " + plus(m) + phrase.PerDay(m)
	}
	c := a.Query.Clock
	doubt := "±\u00a0" + unit.Significant(c.Limit.PerDay(), 2) + "\u00a0s a day"
	switch c.How {
	case sampleclock.Calibrated:
		t.add(meas.Note, "recorder", "The limits are set by the doubt of the recorder's own clock ("+doubt+")"+byIt+"; a longer calibration narrows them.", "")
	case sampleclock.Stated:
		t.add(meas.Note, "recorder", "The limits are set by those stated of the recorder's own clock ("+doubt+")"+byIt+".", "")
	default:
		t.add(meas.Note, "recorder", "The limits are set by the recorder's own clock, which has not been compared ("+doubt+")"+byIt+".",
			"Compare it for an hour with a clock set by the network, and state its error.")
	}
}

// ownHalf is half the 95 % interval of the mean rate by the recorder's clock.
func ownHalf(g rate.Answer) float64 {
	if g.Mean.Set {
		return float64(g.Mean.Half())
	}
	if g.PerHour.Set && g.PerHour.Value > 0 {
		return float64(g.PerHour.Half() / g.PerHour.Value)
	}
	return 0
}

// ownWords tells whether the clock's wander or the length is the limit.
func ownWords(g rate.Answer) string {
	scatter, wander := float64(g.Scatter.Value), float64(g.Wander.Value)
	n := math.Max(float64(g.Used), 2)
	// Variances of the mean interval from each, for n beats: 12 r²/n³ of a
	// line through white scatter, q²/n of a sum of steps.
	if g.Wander.Set && g.Wander.Low > 0 && wander*wander/n > 12*scatter*scatter/(n*n*n) {
		return "The limits are set by the clock's own wander, " + phrase.Within(g.Wander, phrase.FineSymbol(g.Wander.High)) + " at each beat, which adds up: a record four times as long halves them."
	}
	if !g.Scatter.Set {
		return "The limits are set by the length of the record."
	}
	size := phrase.Within(g.Scatter, phrase.FineSymbol(g.Scatter.High))
	if !(g.Scatter.Low > 0) {
		size = "less than " + phrase.Fine(g.Scatter.High)
	}
	return "The limits are set by the length of the record: single beats scatter by " + size + ", and twice the length narrows them to about a third."
}
