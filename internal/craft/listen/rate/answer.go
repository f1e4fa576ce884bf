package rate

import (
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is beats, and what a beat should last.
type Query struct {
	Beats   []beat.Beat
	Runs    []beat.Run    // of the beats; nil where they come from elsewhere than sound
	Nominal unit.Duration // of a beat, in true seconds; 0 where not known
}

// Answer is what the beats say of the clock's going. All of it is by the
// recorder's own clock: whoever wants true time adds that clock's error.
type Answer struct {
	Span    unit.Duration                `json:"span"`     // from the first to the last beat used
	Used    int                          `json:"used"`     // beats used
	Beat    meas.Interval[unit.Duration] `json:"beat"`     // mean interval of this stretch
	PerHour meas.Interval[unit.Ratio]    `json:"per_hour"` // beats an hour
	Mean    meas.Interval[unit.Rate]     `json:"mean"`     // rate over this stretch, positive when gaining; unset without Nominal
	Expect  meas.Interval[unit.Rate]     `json:"expect"`   // rate to expect of the next stretch as long
	// BeatError is the interval from tick to tock less that from tock to
	// tick; its size is what is out of beat. The doubt of the two sounds'
	// places is in it.
	BeatError meas.Interval[unit.Duration] `json:"beat_error"`
	// BeatErrorChange is the same without that doubt: good for watching it
	// change within this record.
	BeatErrorChange meas.Interval[unit.Duration] `json:"beat_error_change"`
	Scatter         meas.Interval[unit.Duration] `json:"scatter"` // of each beat by itself (white phase noise), standard deviation
	Wander          meas.Interval[unit.Duration] `json:"wander"`  // of each interval, adding up (random walk of phase), standard deviation
	Allan           []Allan                      `json:"allan"`
	Residuals       []Residual                   `json:"-"`
	Findings        []meas.Finding               `json:"findings"` // what does not fit
}

// Allan is the overlapping Allan deviation at one averaging time.
type Allan struct {
	Tau  unit.Duration `json:"tau"`
	Dev  float64       `json:"dev"` // of the fractional frequency
	Low  float64       `json:"low"` // 95 % limits
	High float64       `json:"high"`
}

// Residual is how far one beat is from the mean rate and the mean place of
// its side.
type Residual struct {
	At     unit.Duration `json:"at"`
	N      int64         `json:"n"`
	Off    unit.Duration `json:"off"`    // positive when late
	Smooth unit.Duration `json:"smooth"` // where the clock itself is thought to be
	Band   unit.Duration `json:"band"`   // half the 95 % band of Smooth
	Odd    bool          `json:"odd"`    // so far out that it was given little weight
}
