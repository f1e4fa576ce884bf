package regulate

import (
	"time"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what follows from a Query.
type Answer struct {
	Query     Query      `json:"query"`
	Now       Point      `json:"now"`  // at Query.Now
	Rate      Rate       `json:"rate"` // what the clock does now
	Causes    []Cause    `json:"causes"`
	Noise     Noise      `json:"noise"`
	Past      []Point    `json:"past"`  // at every reading, by all readings
	Ahead     []Point    `json:"ahead"` // after Now, as it stands
	Steps     []Step     `json:"steps"` // what each touch did to the rate
	Questions []Question `json:"questions"`
	Advice    Advice     `json:"advice"`

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // there is a rate
}

// Point is the clock at an instant. Residual and Weight are of the reading
// there, where Reading is its ID.
type Point struct {
	At       time.Time                    `json:"at"`
	Error    meas.Interval[unit.Duration] `json:"error"` // fast positive
	Rate     meas.Interval[unit.Rate]     `json:"rate"`
	Reading  int                          `json:"reading,omitempty"`
	Seen     unit.Duration                `json:"seen"`     // what was read
	Residual unit.Duration                `json:"residual"` // read less reckoned
	Asked    bool                         `json:"asked"`    // it has no weight until a question about it is answered
}

// Rate is what a clock does.
type Rate struct {
	Now    meas.Interval[unit.Rate] `json:"now"`    // in the air of now; where that is not read, of the whole day
	Week   meas.Interval[unit.Rate] `json:"week"`   // mean of the Wanted.Days to come, in like air
	Drift  meas.Interval[unit.Rate] `json:"drift"`  // change of the rate in a day
	Since  time.Time                `json:"since"`  // the last touch that changed it
	Steady meas.Interval[unit.Rate] `json:"steady"` // what it would do at the mean temperature of the readings
}

// Cause is something that makes the rate what it is.
type Cause struct {
	Name   string                   `json:"name"`   // "temperature", "pressure", "arc", "humidity", "nut", "lost motion", "tray", "recorder"
	Unit   string                   `json:"unit"`   // of what: "K", "hPa", "°", "%", "turn", "g"
	Value  meas.Interval[unit.Rate] `json:"value"`  // rate for one of Unit
	Before meas.Result[unit.Rate]   `json:"before"` // what was held beforehand
	Told   bool                     `json:"told"`   // the readings tell it; else Value is what was held beforehand, or nothing
	With   []string                 `json:"with"`   // the causes it cannot be told apart from
	Apart  float64                  `json:"apart"`  // greatest correlation with another, −1 to 1
}

// Noise is how unsteady clock and readings are, by likelihood.
type Noise struct {
	Reading meas.Interval[unit.Ratio]    `json:"reading"` // what the stated doubts of readings must be multiplied by
	Wander  meas.Interval[unit.Duration] `json:"wander"`  // of the error in a day, beyond its rate (white noise of the rate)
	Drift   meas.Interval[unit.Rate]     `json:"drift"`   // by which the rate walks in a day
	LogLik  float64                      `json:"log_likelihood"`
}

// Step is what one touch did.
type Step struct {
	Touch    int                          `json:"touch"` // its ID; 0 for one that nobody wrote down
	At       time.Time                    `json:"at"`
	Rate     meas.Interval[unit.Rate]     `json:"rate"`
	Error    meas.Interval[unit.Duration] `json:"error"`
	Expected meas.Result[unit.Rate]       `json:"expected"` // by what was held beforehand
	Back     bool                         `json:"back"`     // the nut was turned the other way than before
}

// Doubtful is what a question is about.
type Doubtful string

// What is asked.
const (
	HalfDay     Doubtful = "half-day"     // twelve hours off: morning taken for evening
	WrongHalf   Doubtful = "wrong-half"   // the hour was written in the other half of the day
	SummerTime  Doubtful = "summer-time"  // one hour off
	WrongMinute Doubtful = "minute"       // one or more whole minutes off
	Stray       Doubtful = "stray"        // does not agree with those about it
	Disagree    Doubtful = "disagree"     // two within a minute differ
	SetUnnoted  Doubtful = "set-unnoted"  // from here on all are off by so much: hands set, or it stood?
	RateUnnoted Doubtful = "rate-unnoted" // the rate changed here, and nothing is written of it
	HostStepped Doubtful = "host-stepped" // the computer's clock was set between them
	Twice       Doubtful = "twice"        // the same thing written twice
	Order       Doubtful = "order"        // written down in another order than they were taken
	Ahead       Doubtful = "ahead"        // taken after now
)

// Question is what was noticed and is asked, in words. What it is about is
// not used until it is answered, unless Used.
type Question struct {
	About   Doubtful                     `json:"about"`
	Reading []int                        `json:"readings"` // IDs
	From    time.Time                    `json:"from"`     // between these two
	Until   time.Time                    `json:"until"`
	Error   meas.Interval[unit.Duration] `json:"error"`  // of a set
	Rate    meas.Interval[unit.Rate]     `json:"rate"`   // of a change of rate
	Later   unit.Duration                `json:"later"`  // of a WrongHalf: it fits if it was taken so much later
	Chance  float64                      `json:"chance"` // that it is nothing, family-wise; 0 where it is plain
	Used    bool                         `json:"used"`
	Text    string                       `json:"text"` // one sentence
	Ask     string                       `json:"ask"`  // what to do
}

// Do is what is advised.
type Do string

// The advice.
const (
	Leave  Do = "leave"  // it is right, or nothing is to be won
	Wait   Do = "wait"   // more must be known first
	Turn   Do = "turn"   // the nut
	Settle Do = "settle" // the questions come first
)

// Advice is what to do now.
type Advice struct {
	Do        Do                        `json:"do"`
	Words     string                    `json:"words"` // "Turn the nut up by half a turn (30 divisions)."
	Turns     meas.Interval[unit.Ratio] `json:"turns"` // up positive
	Divisions float64                   `json:"divisions"`
	Mass      unit.Mass                 `json:"mass"`  // instead, where there is a tray
	After     meas.Interval[unit.Rate]  `json:"after"` // the rate to expect of it, here
	Right     float64                   `json:"right"` // chance that it is within the band after it; at home, where it is set for that
	AsIs      float64                   `json:"as_is"` // and if it is left alone
	Next      time.Time                 `json:"next"`  // before this another reading tells nothing
	Learn     []Learned                 `json:"learn"`
	Home      *AtHome                   `json:"home,omitempty"` // where it is set for its home (Wanted.Move)
}

// Learned is what will be known after so many hours of readings like the last.
type Learned struct {
	After unit.Duration `json:"after"`
	U     unit.Rate     `json:"u"`    // standard uncertainty of the rate then
	Half  unit.Rate     `json:"half"` // half width of the 95 % limits
}
