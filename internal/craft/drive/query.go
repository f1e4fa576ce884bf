package drive

import (
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is what is known of a drive. Every field may be left out.
type Query struct {
	Name string `json:"name,omitempty"` // "going", "strike"

	// The weight. WeightMass is all that hangs on the line.
	WeightMass     meas.Reading[unit.Mass]    `json:"weight_mass"`
	WeightMaterial string                     `json:"weight_material,omitempty"` // a name of Materials
	WeightDensity  meas.Reading[unit.Density] `json:"weight_density"`            // wins over the material
	WeightDiameter meas.Reading[unit.Length]  `json:"weight_diameter"`
	WeightHeight   meas.Reading[unit.Length]  `json:"weight_height"` // of the cylinder alone
	WeightBore     meas.Reading[unit.Length]  `json:"weight_bore"`   // hole right through
	WeightWanted   meas.Reading[unit.Mass]    `json:"weight_wanted"` // find the height for it
	WeightLength   meas.Reading[unit.Length]  `json:"weight_length"` // with hook and pulley

	// The barrel and its line.
	Barrel         string                    `json:"barrel,omitempty"`          // plain, grooved, endless
	BarrelDiameter meas.Reading[unit.Length] `json:"barrel_diameter"`           // bare, or bottom of the groove
	BarrelLength   meas.Reading[unit.Length] `json:"barrel_length"`             // between the flanges
	BarrelMaterial string                    `json:"barrel_material,omitempty"` // brass, steel, iron, wood
	Turns          meas.Reading[unit.Ratio]  `json:"turns"`                     // used from wound to down
	Layers         int                       `json:"layers,omitempty"`          // allowed; 0 means 1
	Wraps          meas.Reading[unit.Ratio]  `json:"wraps"`                     // left on when down
	GroovePitch    meas.Reading[unit.Length] `json:"groove_pitch"`
	LineDiameter   meas.Reading[unit.Length] `json:"line_diameter"`
	Falls          int                       `json:"falls,omitempty"` // lines that carry the weight

	LineMaterial     string                      `json:"line_material,omitempty"` // steel, brass, gut, synthetic
	LineConstruction string                      `json:"line_construction,omitempty"`
	RopeGrade        meas.Reading[unit.Pressure] `json:"rope_grade"`
	BrassTemper      string                      `json:"brass_temper,omitempty"`
	RopeFactor       meas.Reading[unit.Ratio]    `json:"rope_factor"`   // K of the maker's table; wins over the construction
	LineStrength     meas.Reading[unit.Pressure] `json:"line_strength"` // tensile, of a wire or cord of full section
	BreakingLoad     meas.Reading[unit.Force]    `json:"breaking_load"` // wins over all of them
	Factor           meas.Reading[unit.Ratio]    `json:"factor"`

	// Time.
	TurnTime     meas.Reading[unit.Duration] `json:"turn_time"`
	TurnsPerHour meas.Reading[unit.Ratio]    `json:"turns_per_hour"`
	RunningTime  meas.Reading[unit.Duration] `json:"running_time"`
	BeatsPerHour meas.Reading[unit.Ratio]    `json:"beats_per_hour"`

	// The case. Depths are counted down from the under side of the seat board.
	Fall            meas.Reading[unit.Length] `json:"fall"`
	Room            meas.Reading[unit.Length] `json:"room"`
	SeatToFloor     meas.Reading[unit.Length] `json:"seat_to_floor"`
	TopGap          meas.Reading[unit.Length] `json:"top_gap"`           // seat board to the hook, wound
	BarrelAboveSeat meas.Reading[unit.Length] `json:"barrel_above_seat"` // where the line hangs free from

	// The pendulum.
	PendulumLength      meas.Reading[unit.Length] `json:"pendulum_length"`
	SuspensionAboveSeat meas.Reading[unit.Length] `json:"suspension_above_seat"`
	BobHalfHeight       meas.Reading[unit.Length] `json:"bob_half_height"`
	BobMass             meas.Reading[unit.Mass]   `json:"bob_mass"`
	Amplitude           meas.Reading[unit.Angle]  `json:"amplitude"` // half arc
	SwingBand           meas.Reading[unit.Ratio]  `json:"swing_band"`

	WoundOn  string                          `json:"wound_on,omitempty"` // weekday
	WoundAt  meas.Reading[unit.Duration]     `json:"wound_at"`           // since midnight
	Gravity  meas.Reading[unit.Acceleration] `json:"gravity"`
	Friction meas.Reading[unit.Ratio]        `json:"friction"`

	// The mainspring, in its barrel.
	SpringBarrel       meas.Reading[unit.Length]   `json:"spring_barrel"` // inside diameter
	SpringArbor        meas.Reading[unit.Length]   `json:"spring_arbor"`  // diameter
	SpringThickness    meas.Reading[unit.Length]   `json:"spring_thickness"`
	SpringHeight       meas.Reading[unit.Length]   `json:"spring_height"`
	SpringLength       meas.Reading[unit.Length]   `json:"spring_length"`
	SpringModulus      meas.Reading[unit.Pressure] `json:"spring_modulus"`
	SpringTurns        meas.Reading[unit.Ratio]    `json:"spring_turns"` // wound up from free, for the torque
	CoilsWound         meas.Reading[unit.Ratio]    `json:"coils_wound"`  // counted
	CoilsDown          meas.Reading[unit.Ratio]    `json:"coils_down"`   // counted
	SpringNewThickness meas.Reading[unit.Length]   `json:"spring_new_thickness"`

	// The fusee.
	FuseeTorque   Torques                   `json:"fusee_torque,omitempty"`
	FuseeBarrel   meas.Reading[unit.Length] `json:"fusee_barrel"`
	FuseeLargest  meas.Reading[unit.Length] `json:"fusee_largest"`
	FuseeSmallest meas.Reading[unit.Length] `json:"fusee_smallest"`
}

// The kinds of barrel.
const (
	Plain   = "plain"
	Grooved = "grooved"
	Endless = "endless"
)

// Line materials.
const (
	SteelLine = "steel"
	BrassLine = "brass"
	GutLine   = "gut"
	Synthetic = "synthetic"
)
