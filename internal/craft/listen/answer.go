package listen

import (
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is what was heard, and what is known of the clock and the recorder.
type Query struct {
	Train        train.Query              `json:"train"`          // may be empty
	BeatsPerHour meas.Reading[unit.Ratio] `json:"beats_per_hour"` // that it should make; from the train where not stated
	Clock        sampleclock.Clock        `json:"sample_clock"`
	Notes        []string                 `json:"notes,omitempty"` // sentences on what is odd of the recording itself
	Hearing      beat.Hearing             `json:"-"`
}

// Answer is what the clock's beats say. The rates here are true rates: the
// recorder's own error is taken off and its doubt is in the limits. Going has
// them by the recorder's clock.
type Answer struct {
	Query   Query                      `json:"query"`
	Hearing beat.Hearing               `json:"hearing"`
	Train   *train.Answer              `json:"train"`        // null where none is known
	Nominal meas.Result[unit.Duration] `json:"nominal_beat"` // what a beat should last

	Going   *rate.Answer              `json:"going"`    // null where there are too few beats
	Mean    meas.Interval[unit.Rate]  `json:"mean"`     // true rate over this stretch, positive when gaining
	Expect  meas.Interval[unit.Rate]  `json:"expect"`   // true rate to expect
	PerHour meas.Interval[unit.Ratio] `json:"per_hour"` // beats in a true hour
	Culprit *culprit.Answer           `json:"culprit"`  // null where the record is too short for any

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"` // what a restorer can act on, the most urgent first
	Complete bool           `json:"complete"`
}
