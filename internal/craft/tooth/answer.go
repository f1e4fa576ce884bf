package tooth

import (
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query          Query                    `json:"query"`
	Form           Form                     `json:"form"`
	Module         meas.Result[unit.Length] `json:"module"`
	DiametralPitch meas.Result[unit.Ratio]  `json:"diametral_pitch"`
	CircularPitch  meas.Result[unit.Length] `json:"circular_pitch"`
	Distance       meas.Result[unit.Length] `json:"distance"` // of the centres, pitch circles touching
	Measured       []Measured               `json:"measured"` // what each size says of the module
	Rules          []Rule                   `json:"rules"`    // for the height of the wheel's teeth

	Wheel  Sizes  `json:"wheel"`
	Pinion Sizes  `json:"pinion"`
	Action Action `json:"action"`
	Body   Body   `json:"body"`
	Pair   Pair   `json:"-"` // as it is to be cut

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // the sizes that were stated agree
}

// Measured is a size as stated and the module that follows from it.
type Measured struct {
	Field  string                   `json:"field"`
	What   string                   `json:"what"`
	Size   string                   `json:"size"` // as entered, with its unit
	Module meas.Result[unit.Length] `json:"module"`
	Low    unit.Length              `json:"low_m"`  // by the rules for the height of teeth, and two doubts
	High   unit.Length              `json:"high_m"` // the same
	Used   bool                     `json:"used"`
}

// Rule is one way to tell how high the teeth of the wheel are over its pitch
// circle.
type Rule struct {
	Name   string   `json:"name"`
	Height float64  `json:"modules"`
	Ref    cite.Ref `json:"source"`
}

// Sizes are those of one part.
type Sizes struct {
	Count       train.Teeth              `json:"count"`
	Pitch       meas.Result[unit.Length] `json:"pitch_diameter"`
	Over        meas.Result[unit.Length] `json:"diameter"` // over the tips: the blank
	Root        meas.Result[unit.Length] `json:"root_diameter"`
	Addendum    meas.Result[unit.Length] `json:"addendum"`
	Dedendum    meas.Result[unit.Length] `json:"dedendum"`
	Depth       meas.Result[unit.Length] `json:"depth_of_cut"`
	Tooth       meas.Result[unit.Length] `json:"tooth"`           // width on the pitch circle, along it
	Space       meas.Result[unit.Length] `json:"space"`           // the same of the space
	SpaceBottom meas.Result[unit.Length] `json:"space_at_bottom"` // along the root circle
	RunOut      meas.Result[unit.Length] `json:"run_out"`         // of the blank's edge on its arbor, most that is allowed
	Cutter      Cutter                   `json:"cutter"`

	RootRadius unit.Length              `json:"root_radius_m"` // of the roundings; 0: sharp
	TipRadius  unit.Length              `json:"tip_radius_m"`  // 0: as the form has it
	RootRoom   meas.Result[unit.Length] `json:"root_room"`     // between the rounding and the tips of the mate, the least
}

// Cutter is the space between two teeth, for who grinds the cutter: a point
// where its straight side begins, one in its middle, one on the pitch circle,
// and on to the tips. A lantern pinion has none.
type Cutter struct {
	Widths    []Width     `json:"widths,omitempty"` // from the bottom to the tips
	Arc       unit.Length `json:"arc_radius_m"`     // of the one arc through its ends that comes nearest to the curve beyond the pitch circle; 0 where none is
	Deviation unit.Length `json:"arc_deviation_m"`  // by which it misses it
}

// Width is how wide a cutter is at a height over the corners of its edge.
// Where the top of a tooth is round the height may fall again.
type Width struct {
	Height unit.Length `json:"height_m"`
	Wide   unit.Length `json:"wide_m"`
}

// Action is where a tooth drives a leaf; angles are of the pinion.
type Action struct {
	Known       bool        `json:"known"`  // the form has an action that can be told without turning the pair
	Needed      unit.Angle  `json:"needed"` // from leaf to leaf
	Begins      unit.Angle  `json:"begins"` // past the line of centres; only pins begin later than on it
	After       unit.Angle  `json:"after"`  // a tooth drives to so far past the line
	Before      unit.Angle  `json:"before"` // where the next leaf must be met before the line; 0 or less: nowhere
	LeastLeaves train.Teeth `json:"least_leaves"`
	LeastWheel  train.Teeth `json:"least_wheel"` // 0: none
	Ways        []Way       `json:"ways"`
}

// Way is a correction and what it does.
type Way struct {
	What   string      `json:"what"`
	Wheel  train.Teeth `json:"wheel"`
	Leaves train.Teeth `json:"leaves"`
	Height float64     `json:"height_modules"`
	Before unit.Angle  `json:"before"`
}

// Body is the wheel inside its teeth.
type Body struct {
	Hole      unit.Length `json:"hole_m"`
	Crossings int         `json:"crossings"`
	Rim       unit.Length `json:"rim_m"` // radius inside the rim
	Arm       unit.Length `json:"arm_m"`
	Hub       unit.Length `json:"hub_m"` // radius
	Supposed  []string    `json:"supposed,omitempty"`
}
