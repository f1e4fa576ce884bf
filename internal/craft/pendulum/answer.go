package pendulum

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query           Query                          `json:"query"`
	Gravity         meas.Result[unit.Acceleration] `json:"gravity"`
	GravityFrom     string                         `json:"gravity_from"` // one of the From words
	Length          meas.Result[unit.Length]       `json:"length"`       // to the centre of swing
	LengthFrom      string                         `json:"length_from"`  // one of the From words, "" where there is none
	Beat            meas.Result[unit.Duration]     `json:"beat"`
	Period          meas.Result[unit.Duration]     `json:"period"` // there and back
	BeatsPerHour    meas.Result[unit.Ratio]        `json:"beats_per_hour"`
	BeatsPerMinute  meas.Result[unit.Ratio]        `json:"beats_per_minute"`
	SecondsPendulum meas.Result[unit.Length]       `json:"seconds_pendulum"`
	Rate            meas.Result[unit.Rate]         `json:"rate"`             // length as typed against beat as typed, at the arc where one was stated
	OneSecond       meas.Result[unit.Length]       `json:"one_second_a_day"` // of length, for 1 s a day

	Compound Compound `json:"compound"`
	Nut      Nut      `json:"nut"`
	Move     Move     `json:"move"`
	Place    Place    `json:"place"`
	Arc      Arc      `json:"arc"`
	Warmth   Warmth   `json:"warmth"`
	Air      Air      `json:"air"`
	Tray     Tray     `json:"tray"`

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // length and beat are both known
}

// Where the gravity is from.
const (
	FromTyped    = "typed"
	FromSeconds  = "seconds-pendulum"
	FromPlace    = "place"
	FromStandard = "standard"
)

// Where the length is from; FromTyped is one of these too.
const (
	FromBeat  = "beat"
	FromParts = "rod-and-bob"
)

// Compound is the pendulum made of rod, bob and nut.
type Compound struct {
	RodMass   meas.Result[unit.Mass]   `json:"rod_mass"`
	BobMass   meas.Result[unit.Mass]   `json:"bob_mass"`
	Mass      meas.Result[unit.Mass]   `json:"mass"`
	Gravity   meas.Result[unit.Length] `json:"centre_of_gravity"`  // below the suspension
	Gyration  meas.Result[unit.Length] `json:"radius_of_gyration"` // about the suspension
	Length    meas.Result[unit.Length] `json:"length"`             // to the centre of swing
	BobCentre meas.Result[unit.Length] `json:"bob_centre"`         // as stated, or where it must sit
	ToBottom  meas.Result[unit.Length] `json:"to_bottom"`          // suspension to the lowest point of the bob
	Found     bool                     `json:"bob_centre_found"`   // it was not stated

	// Where the place of the bob was stated and a beat or length too:
	Rate   meas.Result[unit.Rate]   `json:"rate"`              // of rod and bob as they are, against that
	Wanted meas.Result[unit.Length] `json:"bob_centre_wanted"` // where the bob would have to sit
	Raise  meas.Result[unit.Length] `json:"raise"`             // to bring it there; negative: lower
}

// Nut is what the rating nut is worth.
type Nut struct {
	Pitch       meas.Result[unit.Pitch] `json:"pitch"`
	PerTurn     meas.Result[unit.Rate]  `json:"per_turn"`        // gained by one turn up; by the compound pendulum where it is known
	Simple      meas.Result[unit.Rate]  `json:"per_turn_simple"` // as if the whole length moved
	PerDivision meas.Result[unit.Rate]  `json:"per_division"`
	Threads     []Thread                `json:"threads,omitempty"` // standard threads of about this pitch
}

// Move is what to do at the nut for a wanted change of rate.
type Move struct {
	Raise     meas.Result[unit.Length] `json:"raise"` // negative: lower the bob
	Turns     meas.Result[unit.Ratio]  `json:"turns"` // positive: nut up
	Divisions meas.Result[unit.Ratio]  `json:"divisions"`
}

// Place is what another place does.
type Place struct {
	Gravity meas.Result[unit.Acceleration] `json:"gravity"`
	Rate    meas.Result[unit.Rate]         `json:"rate"`  // of the clock as it is, there
	Raise   meas.Result[unit.Length]       `json:"raise"` // to make it right there; negative: lower
	Turns   meas.Result[unit.Ratio]        `json:"turns"` // of the nut for that, up positive
}

// Arc is the circular error.
type Arc struct {
	Loss   meas.Result[unit.Rate]     `json:"loss"`        // exact, against a very small arc; negative
	Series meas.Result[unit.Rate]     `json:"loss_series"` // the same by seven terms
	Length meas.Result[unit.Length]   `json:"length"`      // that keeps the beat at this arc
	Ratio  meas.Result[unit.Ratio]    `json:"ratio"`       // exact period at this arc over that at a very small one
	Period meas.Result[unit.Duration] `json:"period"`      // exact, there and back, of the length at this arc
	ToLoss meas.Result[unit.Rate]     `json:"to_loss"`
	Change meas.Result[unit.Rate]     `json:"change"` // going from one arc to the other
}

// Warmth is what a change of temperature does to a plain rod.
type Warmth struct {
	Expansion meas.Result[unit.Expansion] `json:"expansion"`
	PerKelvin meas.Result[unit.Rate]      `json:"per_kelvin"` // for 1 °C warmer; negative
	Effect    meas.Result[unit.Rate]      `json:"effect"`     // of the change that was stated
}

// Air is what the air's density does, as buoyancy alone.
type Air struct {
	Density  meas.Result[unit.Density] `json:"density"`
	Buoyancy meas.Result[unit.Rate]    `json:"buoyancy"` // against no air; negative
	PerHPa   meas.Result[unit.Rate]    `json:"per_hpa"`
	PerInHg  meas.Result[unit.Rate]    `json:"per_inhg"`
}

// Tray is small weights laid on the pendulum.
type Tray struct {
	PerGram   meas.Result[unit.Rate] `json:"per_gram"`                  // gained by 1 g on the tray
	OneSecond meas.Result[unit.Mass] `json:"mass_for_one_second_a_day"` // on the tray
	AtMiddle  meas.Result[unit.Mass] `json:"at_middle"`                 // the same at half the length, where it does most
}
