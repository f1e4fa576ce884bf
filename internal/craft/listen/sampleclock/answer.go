package sampleclock

import (
	"time"

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
	Stated     How = "stated"     // by the user
)

// Unknown is a recorder of which nothing is known: 0 ± 50 ppm, ±4.3 s/day
// (IEC 60958 level I; common sound hardware can be worse).
func Unknown() Clock { return Clock{Limit: 50e-6, How: Supposed} }
