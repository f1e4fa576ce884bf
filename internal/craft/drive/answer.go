package drive

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query    Query                    `json:"query"`
	Weight   Weight                   `json:"weight"`
	Line     Line                     `json:"line"`
	Fall     Fall                     `json:"fall"`
	Power    Power                    `json:"power"`
	Hangs    []Hang                   `json:"hangs,omitempty"`
	Swing    *Window                  `json:"swing,omitempty"` // sympathetic swing; nil where it does not occur or is not known
	Bob      *Window                  `json:"bob,omitempty"`   // the weight beside the bob
	Pendulum meas.Result[unit.Length] `json:"pendulum_length"` // measured, or from its beats
	Spring   Spring                   `json:"spring"`
	Fusee    Fusee                    `json:"fusee"`
	Working  []cite.Step              `json:"working"`
	Findings []meas.Finding           `json:"findings"`

	// Complete: the fall against the case, the turns of the spring or the
	// radii of the fusee could be told, whichever was asked.
	Complete bool `json:"complete"`

	bench *bench
}

// Weight is the mass and what its dimensions say.
type Weight struct {
	Mass         meas.Result[unit.Mass]    `json:"mass"`          // stated, or from the dimensions
	ByDimensions meas.Result[unit.Mass]    `json:"by_dimensions"` // whatever was stated
	Density      meas.Result[unit.Density] `json:"density"`
	MassPerInch  meas.Result[unit.Mass]    `json:"mass_per_inch"` // of a cylinder 1 in long
	Height       meas.Result[unit.Length]  `json:"height_for_wanted"`
	Impact       meas.Result[unit.Energy]  `json:"impact_energy"` // fallen free to the floor
}

// Line is the line, its strength and its place on the barrel.
type Line struct {
	Tension       meas.Result[unit.Force]    `json:"tension"`       // with the weight at rest
	BreakingLoad  meas.Result[unit.Force]    `json:"breaking_load"` // new, as tabulated
	Strength      meas.Result[unit.Pressure] `json:"strength"`      // of the material, brass wire and gut
	WorkingLoad   meas.Result[unit.Force]    `json:"working_load"`
	FactorAsked   meas.Result[unit.Ratio]    `json:"factor_asked"`
	Factor        meas.Result[unit.Ratio]    `json:"factor"`          // breaking load over tension
	BendRatio     meas.Result[unit.Ratio]    `json:"bend_ratio"`      // bare barrel over line
	WireBendRatio meas.Result[unit.Ratio]    `json:"wire_bend_ratio"` // bare barrel over one wire
	OnBarrel      meas.Result[unit.Length]   `json:"on_barrel"`       // wound, with the wraps left
	Length        meas.Result[unit.Length]   `json:"length"`          // whole, without knots
	TurnsThatFit  meas.Result[unit.Ratio]    `json:"turns_that_fit"`  // besides the wraps left
}

// Fall is the way of the weight and its time.
type Fall struct {
	CentreDiameter meas.Result[unit.Length]   `json:"centre_diameter"` // of the line on the barrel, first layer
	LinePerTurn    meas.Result[unit.Length]   `json:"line_per_turn"`
	PerTurn        meas.Result[unit.Length]   `json:"fall_per_turn"`
	TurnTime       meas.Result[unit.Duration] `json:"turn_time"`
	RunningTime    meas.Result[unit.Duration] `json:"running_time"` // by the turns on the barrel
	WindingDue     meas.Result[unit.Duration] `json:"winding_due"`  // wanted, 8 d where not stated
	TurnsNeeded    meas.Result[unit.Ratio]    `json:"turns_needed"` // for WindingDue
	Total          meas.Result[unit.Length]   `json:"fall"`         // over the running time
	PerDay         meas.Result[unit.Length]   `json:"fall_per_day"`
	FallDue        meas.Result[unit.Length]   `json:"fall_when_due"`
	Room           meas.Result[unit.Length]   `json:"room"`         // what the case leaves
	BottomWound    meas.Result[unit.Length]   `json:"bottom_wound"` // depth of the weight's lower end under the seat board
	LeftWhenDue    meas.Result[unit.Length]   `json:"left_when_due"`
	LeftAtEnd      meas.Result[unit.Length]   `json:"left_at_end"` // negative: it would need to go through the floor
	LandsAfter     meas.Result[unit.Duration] `json:"lands_after"` // unset where it does not land
	LandsWhen      string                     `json:"lands_when,omitempty"`
	BarrelForRoom  meas.Result[unit.Length]   `json:"barrel_for_room"` // bare diameter that uses the room exactly
	CentreForRoom  meas.Result[unit.Length]   `json:"centre_for_room"`
	TurnForRoom    meas.Result[unit.Length]   `json:"line_per_turn_for_room"`
}

// Power is the work of the weight.
type Power struct {
	Power       meas.Result[unit.Power]  `json:"power"`
	PerDay      meas.Result[unit.Energy] `json:"energy_per_day"`
	Beats       meas.Result[unit.Ratio]  `json:"beats_per_hour"`
	PerBeat     meas.Result[unit.Energy] `json:"energy_per_beat"`
	FallPerBeat meas.Result[unit.Length] `json:"fall_per_beat"`
	Q           meas.Result[unit.Ratio]  `json:"q_with_train"` // of the pendulum with the whole train's losses
}

// Hang is where the weight hangs at one time.
type Hang struct {
	After      unit.Duration            `json:"after_s"`        // since winding
	Label      string                   `json:"label"`          // "wound", "day 3"
	When       string                   `json:"when,omitempty"` // weekday and hour
	Fallen     meas.Result[unit.Length] `json:"fallen"`
	Below      meas.Result[unit.Length] `json:"bottom_below_seat"`
	AboveFloor meas.Result[unit.Length] `json:"above_floor"`
	Free       meas.Result[unit.Length] `json:"free_length"`
}

// Window is a stretch of time in the running.
type Window struct {
	From  meas.Result[unit.Duration] `json:"from"`
	Level meas.Result[unit.Duration] `json:"level"` // lengths equal, or middle to middle
	To    meas.Result[unit.Duration] `json:"to"`
	Words string                     `json:"words"` // "day 5, 7 h to day 6, 20 h (Friday to Saturday)"
}

// Spring is the mainspring in its barrel.
type Spring struct {
	Fill          meas.Result[unit.Ratio]    `json:"fill"`      // part of the free space
	MaxTurns      meas.Result[unit.Ratio]    `json:"max_turns"` // with the best length
	BestLength    meas.Result[unit.Length]   `json:"best_length"`
	Coils         meas.Result[unit.Ratio]    `json:"coils_wound"`
	CoilsDown     meas.Result[unit.Ratio]    `json:"coils_down"`
	Turns         meas.Result[unit.Ratio]    `json:"turns"` // coils wound less coils down
	Band          meas.Result[unit.Length]   `json:"band"`  // thickness of the coil when down
	BestBand      meas.Result[unit.Length]   `json:"best_band"`
	WoundRadius   meas.Result[unit.Length]   `json:"wound_radius"`
	TorquePerTurn meas.Result[unit.Torque]   `json:"torque_per_turn"`
	Torque        meas.Result[unit.Torque]   `json:"torque"` // at spring_turns
	Stress        meas.Result[unit.Pressure] `json:"stress"` // at spring_turns
	StressPerTurn meas.Result[unit.Pressure] `json:"stress_per_turn"`
	Energy        meas.Result[unit.Energy]   `json:"energy"`           // stored at spring_turns
	NewTorque     meas.Result[unit.Ratio]    `json:"torque_ratio_new"` // with the other thickness
	NewTurns      meas.Result[unit.Ratio]    `json:"turns_new"`
	NewMaxTurns   meas.Result[unit.Ratio]    `json:"max_turns_new"`
	NewBest       meas.Result[unit.Length]   `json:"best_length_new"`
}

// Fusee is the profile that evens out a spring.
type Fusee struct {
	Points     []FuseePoint               `json:"points,omitempty"`
	Chain      meas.Result[unit.Length]   `json:"chain"`      // that lies on the fusee
	Turns      meas.Result[unit.Ratio]    `json:"turns"`      // of the fusee
	Torque     meas.Result[unit.Torque]   `json:"torque"`     // on the fusee, with the barrel's diameter
	Unevenness meas.Result[unit.Ratio]    `json:"unevenness"` // largest over smallest torque, without the fusee
	Running    meas.Result[unit.Duration] `json:"running_time"`
}

// FuseePoint is one place of the profile.
type FuseePoint struct {
	Turn      float64                  `json:"turn"` // as entered
	FuseeTurn meas.Result[unit.Ratio]  `json:"fusee_turn"`
	Torque    meas.Result[unit.Torque] `json:"torque"`
	Pull      meas.Result[unit.Force]  `json:"pull"`   // of the chain, with the barrel's diameter
	Radius    meas.Result[unit.Length] `json:"radius"` // to the middle of the chain
}
