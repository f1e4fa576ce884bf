package regulate

import (
	"math"

	"seatboard/internal/kit/meas"
)

// held is how long a pendulum is held while something is done to the clock,
// s: a standard deviation of what the error may jump by at a touch where
// nobody wrote down that it stood.
const held = 30.0

// pausing tells a touch at which the pendulum is often held.
func (k Kind) pausing() bool {
	switch k {
	case NutTurned, OnTray, Moved, Levelled, Oiled, Worked:
		return true
	}
	return false
}

// long tells a trial in which a reading less is nothing lost.
func (s *search) long() bool { return len(s.q.Readings) > few }

// pauses decides for each touch, by which is likelier with these sizes of
// noise, whether the error went on through it or the pendulum was held
// meanwhile. Where the readings do not tell it went on; in a long trial, where
// a reading less is nothing lost, it may always have been held. It tells
// whether anything is other than before.
func (s *search) pauses(n noise) bool {
	changed := false
	if s.long() {
		return false
	}
	likely := func() float64 {
		if s.run.Filter(&s.line.series, n.variances(), false) != nil {
			return math.Inf(-1)
		}
		return s.run.LogLik
	}
	log := likely()
	for i, h := range s.line.rows {
		if h.touch < 0 || h.setError || !s.q.Touches[h.touch].Kind.pausing() {
			continue
		}
		row := &s.line.series.Rows[i]
		before, was := row.ShakeLevel, s.paused[h.touch]
		if row.ShakeLevel += held * held; was {
			row.ShakeLevel = before - held*held
		}
		other := likely()
		if gain := other - log; !was && gain > surer || was && gain > -surer {
			s.paused[h.touch] = !was
			changed, log = true, other
			continue
		}
		row.ShakeLevel = before
	}
	return changed
}

// surer is by how much, as a logarithm of odds, a pause must be likelier than
// none.
const surer = 1.0

// pausedFindings say at which touches the pendulum was held.
func (s *search) pausedFindings(a *Answer) []meas.Finding {
	var out []meas.Finding
	for i, t := range s.q.Touches {
		if !s.paused[i] {
			continue
		}
		for _, st := range a.Steps {
			if st.Touch == t.ID && st.Error.Set && math.Abs(float64(st.Error.Value)) > 2*float64(st.Error.U) {
				out = append(out, meas.Finding{Level: meas.Note, Code: "regulate.held",
					Text: "The clock " + lost(float64(st.Error.Value)) + " " + seconds(float64(st.Error.Value)) + " at the touch of " + day(t.At) + ", as if its pendulum had been held: this is reckoned with",
					Next: "Take a reading right after a touch, and the rate is known a reading sooner"})
			}
		}
	}
	return out
}

func lost(x float64) string {
	if x < 0 {
		return "lost"
	}
	return "gained"
}
