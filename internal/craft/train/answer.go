package train

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what the trains come to. A figure that could not be reckoned is
// null in JSON; Complete is false where a count is missing or nothing fixes
// the speed.
type Answer struct {
	Query  Query    `json:"query"`
	Anchor Anchor   `json:"anchor"`
	Trains []Turned `json:"trains"` // as in the query, empty ones left out

	BeatsPerHour   Exact                          `json:"beats_per_hour"`
	BeatsPerMinute Exact                          `json:"beats_per_minute"`
	SecondsPerBeat Exact                          `json:"seconds_per_beat"`
	Pendulum       meas.Result[unit.Length]       `json:"pendulum_length"`  // to the centre of swing, for small arcs: L = g s²/π²
	Gravity        meas.Result[unit.Acceleration] `json:"gravity"`          // that was used
	Standard       bool                           `json:"standard_gravity"` // gravity was not stated: 9.80665 m/s²
	Rate           meas.Result[unit.Rate]         `json:"rate"`             // of the train on the pendulum or the beats that were stated; positive when gaining
	SecondsHand    *int                           `json:"seconds_hand"`     // arbor of one turn a minute, from 0; null where there is none

	Motion   *Motion        `json:"motion_work"` // null where none was entered
	Wanted   []Wanted       `json:"wanted,omitempty"`
	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"`
}

// Anchor is what fixes the speed of the going train.
type Anchor struct {
	Kind     string `json:"kind"`             // "hour-arbor", "beats", "motion-work", "pendulum", "none"
	Arbor    *int   `json:"arbor"`            // from 0, of the first two kinds where there is one
	Supposed bool   `json:"supposed"`         // found by rule, not stated
	Others   []int  `json:"others,omitempty"` // arbors that would do as well, from 0
}

// The kinds of anchor.
const (
	ByHourArbor = "hour-arbor"
	ByBeats     = "beats"
	ByMotion    = "motion-work"
	ByPendulum  = "pendulum"
	ByNothing   = "none"
)

// Turned is one train with the speed of its arbors.
type Turned struct {
	Name   string        `json:"name"`
	Arbors []ArborAnswer `json:"arbors"`
	Meshes []Mesh        `json:"meshes"`

	BarrelTurns      Exact                      `json:"barrel_turns"`
	RunningHours     Exact                      `json:"running_hours"`
	RunningDays      Exact                      `json:"running_days"`
	Running          meas.Result[unit.Duration] `json:"running_time"` // the same with the doubt of the turns
	GreatTurnsPer12h Exact                      `json:"great_wheel_turns_per_12h"`
	BeatsPerTurn     Exact                      `json:"beats_per_great_wheel_turn"` // the going train

	// The strike, where pins were stated.
	PinArbor      *int  `json:"pin_arbor,omitempty"` // from 0
	BlowsPerTurn  Exact `json:"blows_per_great_wheel_turn"`
	BlowsInAll    Exact `json:"blows_in_all"` // in one winding
	BlowsPer12h   int   `json:"blows_per_12h,omitempty"`
	BlowsOfReport Exact `json:"blows_per_count_wheel_turn"`
}

// ArborAnswer is an arbor with its speed.
type ArborAnswer struct {
	Arbor
	TurnsPerHour  Exact `json:"turns_per_hour"`  // of a strike: the mean
	Period        Exact `json:"period_s"`        // seconds for one turn
	TurnsPerFirst Exact `json:"turns_per_first"` // in one turn of the first arbor
}

// Mesh is a wheel with the pinion that it drives.
type Mesh struct {
	Driver          int      `json:"driver"`             // arbor of the wheel, from 0; the pinion is on the next
	Ratio           Exact    `json:"ratio"`              // turns of the pinion for one of the wheel
	ContactsPerHour Exact    `json:"contacts_per_hour"`  // teeth that come into mesh
	ContactPeriod   Exact    `json:"contact_period_s"`   // seconds from one tooth to the next
	RepeatWheel     int      `json:"repeat_wheel_turns"` // until the same tooth meets the same leaf
	RepeatPinion    int      `json:"repeat_pinion_turns"`
	RepeatPeriod    Exact    `json:"repeat_period_s"`
	Hunting         bool     `json:"hunting"`          // every tooth meets every leaf
	ModuleWheel     *Bracket `json:"module_wheel_mm"`  // from the diameter of the wheel
	ModulePinion    *Bracket `json:"module_pinion_mm"` // from the diameter of the pinion
	ModuleDepth     *Bracket `json:"module_depth_mm"`  // from the centre distance
}

// Bracket is a number that lies between two others, in the unit of its name.
type Bracket struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Motion is the work between its carrier and the hour hand.
type Motion struct {
	Carrier      int    `json:"carrier"` // arbor of the going train, from 0
	Pairs        []Pair `json:"pairs"`
	Product      Exact  `json:"product"`        // turns of the carrier for one of the hour hand
	HoursPerTurn Exact  `json:"hours_per_turn"` // of the hour hand
	DialHours    int    `json:"dial_hours"`
	Right        bool   `json:"right"` // the hour hand goes round as the dial wants
}

// Pair is a wheel and the pinion that drives it.
type Pair struct {
	Wheel  Count `json:"wheel"`
	Pinion Count `json:"pinion"`
}

// Wanted is what missing counts must make.
type Wanted struct {
	Train   string  `json:"train"`
	From    int     `json:"from"`        // arbors, from 0: the first whose wheel is concerned
	To      int     `json:"to"`          // the last whose pinion is concerned; the escape wheel where From and To are the same
	Product Exact   `json:"product"`     // of wheels over pinions, or teeth of the escape wheel
	U       float64 `json:"u,omitempty"` // standard uncertainty of the product where it rests on a pendulum
	Example string  `json:"example"`     // counts that would do: "60/8"; "" where none of usual size does
	What    string  `json:"what"`        // in words: "the wheel of arbor 3"
}
