package tap

import (
	"time"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what the taps say.
type Answer struct {
	Query     Query                        `json:"query"`
	At        time.Time                    `json:"at"`    // mean instant of the taps that count
	Error     meas.Interval[unit.Duration] `json:"error"` // of the clock then, fast positive
	U         unit.Duration                `json:"u"`     // half the width of Error over 1.96: what a normal would have it
	Scatter   meas.Interval[unit.Duration] `json:"scatter"`
	Lag       meas.Result[unit.Duration]   `json:"lag"`
	Budget    []meas.Share                 `json:"budget"`
	Rate      meas.Interval[unit.Rate]     `json:"rate"`
	BeatError meas.Interval[unit.Duration] `json:"beat_error"`
	Taps      []Tap                        `json:"taps"`

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"`
}

// Tap is one of them.
type Tap struct {
	At       unit.Duration `json:"at"`       // after Query.Start
	Mark     int           `json:"mark"`     // counted from that of the first tap
	Residual unit.Duration `json:"residual"` // late positive, against all that count
	Odd      string        `json:"odd"`      // "twice", "apart", or "" where it counts
}

// Why a tap has no weight.
const (
	Twice = "twice" // another tap stands at the same mark
	Apart = "apart" // it does not belong to the others
)

// Used counts the taps that have weight.
func (a Answer) Used() int {
	n := 0
	for _, t := range a.Taps {
		if t.Odd == "" {
			n++
		}
	}
	return n
}
