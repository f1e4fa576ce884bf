package regulate

import (
	"math"

	"seatboard/internal/kit/unit"
)

// What is held of clocks in general, as standard deviations. It is common
// practice, no source: wide enough for a regulator and for a thirty-hour clock,
// and it counts only until the readings tell better.
const (
	startRate  = 300.0 // s/day, how far from true a clock comes in
	anyTurn    = 60.0  // s/day, one turn of a nut of which nothing is known:
	anyTurnU   = 50.0  // 0.6 mm on a metre are 26, 1 mm on a quarter of one 170
	turnLeastU = 0.05  // of a turn's worth: a thread is not what its gauge says
	lostTurns  = 0.1   // turns of lost motion where the nut is turned back
	lostTurnsU = 0.15
	lostLeastU = 0.02 // turns, of one that is known
	slipShare  = 0.05 // of a turn: how far a turn is not what it was meant to be
	slipLeast  = 0.02 // turns: how well the eye sets a nut
	trayU      = 0.1  // of what the pendulum's sums say of the tray
	driftU     = 0.02 // s/day in a day
	recorderU  = 4.3 / 1.96
	restart    = 0.3   // s/day, by which a clock's rate differs when it is set going again
	gone       = 24942 // s: the hands may stand anywhere, ±12 h
	stepU      = 300   // s/day, a change of rate of which nothing is known

	otherWeek  = 1.2  // K, of a room's days or weeks against those before
	nights     = 0.7  // K, of the day's mean against a line through the hours of waking
	perKelvin  = -0.3 // s/day, a rod of which nothing is known
	perKelvinU = 0.4
	kelvinAtU  = 0.05   // s/day for a kelvin, beyond the rod: suspension, air, oil
	perHPa     = -0.010 // s/day
	perHPaU    = 0.015
	perDegree  = -6.6 // s/day for a degree of arc, at 2°
	perDegreeU = 10
	perCent    = 0.0 // s/day for a hundredth of humidity
	perCentU   = 0.1
)

// shaken is how much the rate may change at a touch, s/day.
func shaken(k Kind) float64 {
	switch k {
	case Moved, Worked:
		return 10
	case Levelled, Oiled:
		return 5
	case OnTray:
		return 10 // where the tray's worth is not known
	case Started, Stopped:
		return restart
	}
	return 0
}

// unstated is the doubt of a reading that says none, s; of a strike it is
// mostly that of the stroke against the hand.
func unstated(h How) float64 {
	switch h {
	case ByTap:
		return 0.1
	case ByStrike:
		return 3
	}
	return 0.5
}

// noise is the three unknown sizes as logarithms: what the stated doubts of
// readings are to be multiplied by, the wander in a day (s), the walk of the
// rate in a day (s/day).
type noise [3]float64

// typical is the middle of what clocks do, spread how far they differ (of the
// logarithm).
func typical() noise { return noise{0, math.Log(0.4), math.Log(0.1)} }

func spread() noise { return noise{0.4, 1.3, 1.3} }

// logPrior is the logarithm of what is held of them beforehand.
func (n noise) logPrior() float64 {
	m, s, sum := typical(), spread(), 0.0
	for i := range n {
		z := (n[i] - m[i]) / s[i]
		sum -= z * z / 2
	}
	return sum
}

// perDay is a rate in s/day.
func perDay(r unit.Rate) float64 { return r.PerDay() }
