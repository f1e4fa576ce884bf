package mesh

import (
	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query        Query                    `json:"query"`
	WheelModule  meas.Result[unit.Length] `json:"wheel_module"`
	PinionModule meas.Result[unit.Length] `json:"pinion_module"`
	Touching     meas.Result[unit.Length] `json:"touching"` // distance at which the pitch circles touch
	Distance     meas.Result[unit.Length] `json:"distance"` // at which the pair is turned
	Friction     meas.Result[unit.Ratio]  `json:"friction"`

	State     State                    `json:"state"`
	Lead      meas.Result[unit.Angle]  `json:"lead"`    // of the pinion, from where a tooth takes its leaf to the line of centres; negative: behind it
	After     meas.Result[unit.Angle]  `json:"after"`   // from there to where the next tooth takes over
	Drop      meas.Result[unit.Angle]  `json:"drop"`    // of the wheel
	Slowest   meas.Result[unit.Ratio]  `json:"slowest"` // of the pinion's turning, over the ratio of the counts
	Fastest   meas.Result[unit.Ratio]  `json:"fastest"`
	Weakest   meas.Result[unit.Ratio]  `json:"weakest"`   // torque passed on, over an even pair's without friction
	Strongest meas.Result[unit.Ratio]  `json:"strongest"` // the greatest
	Mean      meas.Result[unit.Ratio]  `json:"mean"`      // work passed on
	Play      meas.Result[unit.Length] `json:"play"`      // on the pitch circle of the pinion; negative: they bind
	Bottom    meas.Result[unit.Length] `json:"bottom"`    // between tips and bottoms

	LeastTorque meas.Result[unit.Torque] `json:"least_torque"` // on the pinion
	EvenTorque  meas.Result[unit.Torque] `json:"even_torque"`  // of an even pair without friction

	Best     meas.Result[unit.Length] `json:"best"` // distance
	BestLow  meas.Result[unit.Length] `json:"best_low"`
	BestHigh meas.Result[unit.Length] `json:"best_high"`
	AtBest   *Depth                   `json:"at_best"`
	Depths   []Depth                  `json:"depths"`

	Turn    Turn     `json:"-"`
	Moments []Moment `json:"moments"` // of the turn, one pitch
	Carries []Span   `json:"carries"` // over which a tooth carries
	Two     *Two     `json:"two"`     // where either of two pairs may carry; nil where there is one at a time
	Unworn  *Depth   `json:"unworn"`  // the same pair before it was worn
	Roots   []Root   `json:"roots"`   // roundings at the bottoms, the wheel's first
	Odd     *Odd     `json:"odd"`     // one tooth that is not like the others

	Pair   tooth.Pair      `json:"-"` // as it is drawn, unworn
	Flanks [2][]geom.Curve `json:"-"` // that meet, of wheel and pinion, worn as stated

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // the pair works at the distance
}
