package sampleclock

import (
	"math"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Clock is what is known of the clock that numbers a recorder's samples.
type Clock struct {
	Error  unit.Rate `json:"error"` // positive when it runs fast: it makes more samples in a true second than it says
	Limit  unit.Rate `json:"limit"` // half the 95 % interval of Error
	How    How       `json:"how"`
	When   time.Time `json:"when,omitzero"` // of the calibration
	Device string    `json:"device,omitempty"`
}

// How says where the knowledge comes from.
type How string

// The ways.
const (
	Supposed   How = "supposed"   // nothing is known: ±50 ppm
	Calibrated How = "calibrated" // against the host's disciplined clock
	Compared   How = "compared"   // against a host clock that nothing disciplines: never better than ±50 ppm
	Stated     How = "stated"     // by the user
)

// Unknown is a recorder of which nothing is known: 0 ± 50 ppm, ±4.3 s/day
// (IEC 60958 level I; common sound hardware can be worse).
func Unknown() Clock { return Clock{Limit: supposed.V, How: Supposed} }

// k95 is the coverage factor between a standard uncertainty and a limit.
const k95 = 1.959964

// Correct turns a rate measured by the recorder's clock into the true rate.
// The limits are combined in quadrature at 95 %, each side for itself.
//
// A recorder whose clock runs fast by e makes F(1+e)T samples in a true time
// T and calls that T(1+e): a true interval looks long, and the clock under
// test slow. N beats meant to take N seconds give 1 + measured = N/(T(1+e))
// and 1 + true = N/T, so
//
//	1 + true = (1 + measured)(1 + e): the error is added.
//
// A Clock that says nothing (the zero Clock) is taken as [Unknown]; where
// nothing was measured nothing comes back.
func (c Clock) Correct(measured meas.Interval[unit.Rate]) meas.Interval[unit.Rate] {
	if !measured.Set {
		return measured
	}
	if c.How == "" {
		c = Unknown()
	}
	turn := func(r unit.Rate) unit.Rate { return r + c.Error*(1+r) } // (1+r)(1+e) − 1 without loss of figures
	v := turn(measured.Value)
	own := float64(c.Limit * (1 + measured.Value))
	side := func(r unit.Rate) unit.Rate { return unit.Rate(math.Hypot(float64(turn(r)-v), own)) }
	return meas.Interval[unit.Rate]{
		Value: v, Low: v - side(measured.Low), High: v + side(measured.High),
		U: unit.Rate(math.Hypot(float64(measured.U)*(1+float64(c.Error)), own/k95)), Set: true,
	}
}

// Later is the clock on another day in the same room: the crystal's
// temperature has changed by an amount that nobody wrote down, for which 1
// ppm is allowed (95 %, from memory). Use it where a kept calibration is
// applied to a record that was not made during it.
func (c Clock) Later() Clock {
	if c.How == Calibrated || c.How == Compared {
		c.Limit = unit.Rate(math.Hypot(float64(c.Limit), float64(another.V)))
	}
	return c
}
