package listen

import (
	"errors"
	"math"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Solve works out what the beats say. What cannot be told is left out; the
// error is meas.Faults where the query itself is wrong.
func Solve(q Query) (Answer, error) {
	if q.Clock.How == "" {
		q.Clock = sampleclock.Unknown()
	}
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	a := Answer{Query: q, Hearing: q.Hearing, Complete: q.Hearing.Complete}
	a.Train, a.Nominal = q.speed()
	if q.Hearing.Verdict == beat.Regular {
		if err := a.goes(); err != nil {
			return a, err
		}
	}
	a.Findings = a.Say()
	return a, nil
}

// goes works out rate and evenness.
func (a *Answer) goes() error {
	h := a.Query.Hearing
	nominal := a.Nominal.Value
	if !a.alike(h) {
		nominal = 0 // it is not the beat of this train: a rate would mean nothing
	}
	g, err := rate.Solve(rate.Query{Beats: h.Beats, Runs: h.Runs, Nominal: nominal})
	if errors.Is(err, rate.ErrTooFew) {
		return nil
	}
	if err != nil {
		return err
	}
	a.Going = &g
	a.Mean, a.Expect = a.Query.Clock.Correct(g.Mean), a.Query.Clock.Correct(g.Expect)
	a.PerHour = trueCount(g.PerHour, a.Query.Clock)
	a.workRate()
	return a.blame()
}

// mostApart is how far the beat heard may be from the beat expected, as a
// share of it, before it is taken for another clock's: a pendulum that is
// wrong by so much is wrong by more than an hour a day.
const mostApart = 0.05

// alike tells whether the beat heard is that of the clock; it is where the
// clock's is not known.
func (a *Answer) alike(h beat.Hearing) bool {
	if !a.Nominal.Set || len(h.Runs) == 0 || h.Runs[0].Beat == 0 {
		return true
	}
	return math.Abs(float64(h.Runs[0].Beat/a.Nominal.Value)-1) < mostApart
}

// trueCount takes the error of the recorder's clock off a number of beats an
// hour by that clock.
func trueCount(n meas.Interval[unit.Ratio], c sampleclock.Clock) meas.Interval[unit.Ratio] {
	if !n.Set {
		return n
	}
	v := n.Value * unit.Ratio(1+c.Error)
	slack := float64(v) * float64(c.Limit)
	return meas.Interval[unit.Ratio]{
		Value: v,
		Low:   v - unit.Ratio(math.Hypot(float64(n.Value-n.Low), slack)),
		High:  v + unit.Ratio(math.Hypot(float64(n.High-n.Value), slack)),
		U:     unit.Ratio(math.Hypot(float64(n.U), slack/1.96)),
		Set:   true,
	}
}
