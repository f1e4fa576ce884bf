package regulate

import (
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Limits of a question.
const (
	MaxReadings = 1 << 17 // fourteen years of hours
	MaxTouches  = 4096
)

// Query is a clock's time on trial: what was read, what was done to it, what
// the air was, and what is known of it beforehand. Readings, touches and air
// need not be in order.
type Query struct {
	Readings []Reading `json:"readings"`
	Touches  []Touch   `json:"touches"`
	Air      []Air     `json:"air"`
	Known    Known     `json:"known"`
	Wanted   Wanted    `json:"wanted"`
	Now      time.Time `json:"now"` // for which moment the answer is; the last reading where zero
}

// How says how a reading was taken.
type How string

// The ways to read a clock.
const (
	ByHand   How = "hand"    // hands against a time of day, by eye
	ByTap    How = "tap"     // several taps as the hand passed a mark
	ByEar    How = "ear"     // from a stretch of listening
	ByStrike How = "strike"  // the blow of the hour heard
	Brought  How = "brought" // from a table made elsewhere
)

// Hows lists the ways.
func Hows() []How { return []How{ByHand, ByTap, ByEar, ByStrike, Brought} }

// Reading is one look at the clock: either what it was wrong by at an instant
// (Error), or the rate it had from From to At (Rate, where From is set).
type Reading struct {
	ID    int           `json:"id"` // what the asker knows it by, above nought and unlike others
	At    time.Time     `json:"at"`
	From  time.Time     `json:"from,omitzero"`
	How   How           `json:"how"`
	Error unit.Duration `json:"error"` // the clock's time less the true time: positive is fast
	Rate  unit.Rate     `json:"rate"`  // of a reading with From; gaining positive
	U     float64       `json:"u"`     // one standard uncertainty of Error in s, or of Rate in s/s; 0 where not known
	Clock unit.Rate     `json:"clock"` // standard uncertainty of the recorder's own clock, common to all readings with a Rate
	Taken bool          `json:"taken"` // someone looked at a question about it and said that it is right
	Out   bool          `json:"out"`   // or that it is wrong: it is shown and has no weight
}

// Kind is what a touch was.
type Kind string

// The touches.
const (
	NutTurned Kind = "nut"      // Turns of the rating nut
	OnTray    Kind = "tray"     // Mass put on the tray, or taken off
	HandsSet  Kind = "set"      // the hands were moved; Error is what the clock was wrong by afterwards, where HasError
	Stopped   Kind = "stopped"  // it stood from At until Until, or until a later touch Started
	Started   Kind = "started"  // it was set going; Error as with HandsSet
	Moved     Kind = "moved"    // to another place, or hung again
	Levelled  Kind = "levelled" // put in beat or upright
	Oiled     Kind = "oiled"
	Wound     Kind = "wound"
	Worked    Kind = "worked" // anything else that may change the rate; Words say what
)

// Kinds lists the touches.
func Kinds() []Kind {
	return []Kind{NutTurned, OnTray, HandsSet, Stopped, Started, Moved, Levelled, Oiled, Wound, Worked}
}

// Touch is one thing done to the clock.
type Touch struct {
	ID       int           `json:"id"`
	At       time.Time     `json:"at"`
	Until    time.Time     `json:"until,omitzero"` // of Stopped, where known; the touch was between At and Until where it is not known better
	Kind     Kind          `json:"kind"`
	Turns    float64       `json:"turns"` // positive: nut up, the clock gains
	Mass     unit.Mass     `json:"mass"`  // positive: put on
	Error    unit.Duration `json:"error"`
	U        unit.Duration `json:"u"` // of Error
	HasError bool          `json:"has_error"`
	Words    string        `json:"words"`
}

// Air is what surrounds the clock at an instant; what was not read is not Set.
type Air struct {
	At          time.Time                     `json:"at"`
	Temperature meas.Result[unit.Temperature] `json:"temperature"`
	Pressure    meas.Result[unit.Pressure]    `json:"pressure"`
	Humidity    meas.Result[unit.Ratio]       `json:"humidity"` // 0 to 1
	Arc         meas.Result[unit.Angle]       `json:"arc"`      // half arc
	Weight      meas.Result[unit.Length]      `json:"weight"`   // how far the weight has still to fall
}

// Known is what is known of the clock before it is read, each with its doubt;
// what is not Set is taken from the spread of clocks in general.
type Known struct {
	PerTurn   meas.Result[unit.Rate]  `json:"per_turn"`   // one turn of the nut up
	Divisions int                     `json:"divisions"`  // marks round the nut; 0 for none
	PerGram   meas.Result[unit.Rate]  `json:"per_gram"`   // a gram on the tray; Set false where there is no tray
	PerKelvin meas.Result[unit.Rate]  `json:"per_kelvin"` // by the rod; negative for a bare rod
	Lost      meas.Result[unit.Ratio] `json:"lost"`       // turns of lost motion at the nut when it is turned the other way
}

// Wanted is what counts as right.
type Wanted struct {
	Rate unit.Rate              `json:"rate"` // to be aimed at, 0 for true; the owner may like it fast
	Band unit.Rate              `json:"band"` // good enough, each way; 0 for ±2 s/day
	Days float64                `json:"days"` // how long it shall be right, for the forecast; 0 for 7
	Move meas.Result[unit.Rate] `json:"move"` // what it will gain by going to its home, where that is known
}
