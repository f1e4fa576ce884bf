package stops

import (
	"time"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what the stops say.
type Answer struct {
	Query    Query     `json:"query"`
	Places   []Place   `json:"places"`   // of the stops, in the order in which they came
	Suspects []Suspect `json:"suspects"` // the most telling first
	Untold   []Untold  `json:"untold"`   // what the hands cannot tell
	Verdict  string    `json:"verdict"`  // in one sentence
	Next     string    `json:"next"`     // what to do first, "" where nothing is known
	Wanted   []string  `json:"wanted"`   // to be written down at the next stop
	Draws    int       `json:"draws"`    // that the chances were simulated with

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // there were stops enough to test
}

// Place is one stop, as it was taken.
type Place struct {
	Stop    int           `json:"stop"`             // its ID
	Dial    unit.Duration `json:"dial"`             // of the hands, from twelve
	Stopped time.Time     `json:"stopped,omitzero"` // by the hands, had they shown the right time; the latest that it can be
	Joined  bool          `json:"joined"`           // the train can be followed from the stop before
	By      unit.Duration `json:"by"`               // the hands were set by so much since then
	U       unit.Duration `json:"u"`                // of By
	Ran     unit.Duration `json:"ran"`              // the train ran so long since then, 0 where that is not known
	Wound   unit.Duration `json:"wound"`            // since winding, 0 where not known
	After   string        `json:"after,omitempty"`  // the touch it followed within a day
}

// Kind is what a suspect is.
type Kind string

// The kinds of suspect.
const (
	Wheel       Kind = "wheel"        // an arbor of the going train with its wheel and pinion
	Mesh        Kind = "mesh"         // one tooth with one leaf
	Dial        Kind = "dial"         // what turns with the hands: motion work, lifting, the hands themselves
	StrikeWheel Kind = "strike wheel" // an arbor of the strike that counts by a wheel
	Height      Kind = "height"       // the weight at one height: its line, or what it touches there
	Blow        Kind = "strike"       // the load of the strike: lifting and warning
	Warning     Kind = "warning"      // the rack let fall, from the warning to the strike
	RackHour    Kind = "rack hour"    // the rack at one hour
	RackFall    Kind = "rack fall"    // the rack far fallen, at many blows
	RackStep    Kind = "rack step"    // its tail left on the snail, from twelve to one
	Low         Kind = "low"          // the weight low, the spring run down
	Swing       Kind = "swing"        // the weight swings with the pendulum
	Cold        Kind = "cold"         // thick oil
	Touch       Kind = "touch"        // what was done to the clock before
)

// Suspect is a possible cause with the evidence.
type Suspect struct {
	Kind   Kind          `json:"kind"`
	Names  []string      `json:"names"`            // more than one where they cannot be told apart
	Period unit.Duration `json:"period"`           // one turn; 0 for what does not turn
	Teeth  int           `json:"teeth,omitempty"`  // of its wheel, where known
	Stops  int           `json:"stops"`            // that could be tested
	Hold   int           `json:"hold"`             // of them in the place
	Width  float64       `json:"width"`            // of the place: part of a turn with the reading's doubt, or the share of the time
	Doubt  float64       `json:"doubt,omitempty"`  // half the reading's doubt, in turns
	Marks  []Mark        `json:"marks,omitempty"`  // of what turns
	Spread *Spread       `json:"spread,omitempty"` // the mean direction, where the train can be followed through all stops
	Before int           `json:"before,omitempty"` // teeth of the place before the one in mesh at the last stop
	Beyond int           `json:"after,omitempty"`  // and after it
	Own    float64       `json:"own"`              // chance of as much in this part, looked at alone
	Chance float64       `json:"chance"`           // chance of as much anywhere among all that was looked at
	Needed int           `json:"needed,omitempty"` // stops in all to be sure, should those to come be in the place; 0 where that cannot be told
	Found  bool          `json:"found"`            // Chance is at most 1 in 20
	Words  string        `json:"words"`            // "three of four stops with …"
	Next   string        `json:"next"`             // what to look at
}

// Mark is a stop on the ring of a suspect.
type Mark struct {
	Stop    int     `json:"stop"`    // ID
	Turn    float64 `json:"turn"`    // 0 to under 1
	Stretch int     `json:"stretch"` // stops of one stretch can be compared with one another, from 0
	In      bool    `json:"in"`      // in the place
}

// Spread is the classical test of the same marks.
type Spread struct {
	Direction float64 `json:"direction"` // turns
	Length    float64 `json:"length"`    // 0 to 1
	Chance    float64 `json:"chance"`    // Rayleigh's
}

// Untold is something that turns too fast, or too unevenly with the dial, to
// be told.
type Untold struct {
	Name   string        `json:"name"`
	Period unit.Duration `json:"period"`
	Why    string        `json:"why"` // a sentence, with what to look at instead
}

// Sure is the chance at which a cause counts as sure, and Likely that at
// which it counts as found.
const (
	Sure   = 0.01
	Likely = 0.05
)
