package escapewheel

import (
	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query    Query      `json:"query"`
	PerTooth unit.Angle `json:"per_tooth"`

	Spaces         float64    `json:"spaces"`
	SpacesFrom     string     `json:"spaces_from"`
	SpacesMeasured float64    `json:"spaces_measured"`
	HalfAngle      unit.Angle `json:"half_angle"`

	Diameter     meas.Result[unit.Length] `json:"diameter"`
	DiameterFrom string                   `json:"diameter_from"`
	Distance     meas.Result[unit.Length] `json:"distance"`
	PalletRadius meas.Result[unit.Length] `json:"pallet_radius"`
	Span         meas.Result[unit.Length] `json:"span"`

	DistanceRatio float64 `json:"distance_ratio"` // of the wheel's radius
	PalletRatio   float64 `json:"pallet_ratio"`
	SpanRatio     float64 `json:"span_ratio"`

	PalletWidth meas.Result[unit.Length] `json:"pallet_width"`
	LiftTravel  meas.Result[unit.Length] `json:"lift_travel"`

	Tooth    *Tooth         `json:"tooth"`
	Pins     *Pins          `json:"pins"` // of a pin wheel
	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // the wheel can be drawn
}

// Where the spaces and the diameter come from.
const (
	FromTyped    = "typed"
	FromDistance = "distance"
	FromSpan     = "span"
	FromBoth     = "distance-and-span"
)

// Tooth is the form of the teeth, as drawn.
type Tooth struct {
	Undercut   unit.Angle  `json:"undercut"` // of the face behind the radius
	Land       unit.Length `json:"land"`
	Depth      unit.Length `json:"depth"`
	Base       unit.Length `json:"base"`        // thickness on the root circle
	BackRadius unit.Length `json:"back_radius"` // 0: straight
	Bottom     unit.Length `json:"bottom"`      // between two teeth, on the root circle
	Root       unit.Length `json:"root"`        // radius
	Cutter     unit.Angle  `json:"cutter"`      // between the two sides of a space
	Chosen     []string    `json:"chosen"`      // not typed: proportions of this program

	// Teeth is the wheel as drawn.
	Teeth saw.Teeth `json:"-"`
}
