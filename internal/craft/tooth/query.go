package tooth

import (
	"fmt"
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is what is known of a wheel and the pinion that it drives. Both counts
// are wanted, since each gives the other's teeth their shape; and one size or
// several.
type Query struct {
	Wheel  train.Teeth `json:"wheel"`
	Leaves train.Teeth `json:"leaves"`
	Form   Form        `json:"form"`           // Rounded where none is stated
	Part   Part        `json:"part,omitempty"` // which is to be made; both where none is stated

	Module         meas.Reading[unit.Length] `json:"module"`          // pitch diameter over count; wins, as the next two do
	DiametralPitch meas.Reading[unit.Ratio]  `json:"diametral_pitch"` // teeth to an inch of pitch diameter
	CircularPitch  meas.Reading[unit.Length] `json:"circular_pitch"`  // from tooth to tooth on the pitch circle
	WheelOutside   meas.Reading[unit.Length] `json:"wheel_outside"`   // over the tips
	PinionOutside  meas.Reading[unit.Length] `json:"pinion_outside"`  // over the tips, or over the pins
	WheelPitch     meas.Reading[unit.Length] `json:"wheel_pitch_diameter"`
	PinionPitch    meas.Reading[unit.Length] `json:"pinion_pitch_diameter"` // of a lantern: through the middles of the pins
	Distance       meas.Reading[unit.Length] `json:"distance"`              // of the centres

	Height meas.Reading[unit.Ratio]  `json:"height"` // of the wheel's teeth above the pitch circle, in modules
	Leaf   meas.Reading[unit.Ratio]  `json:"leaf"`   // width of a leaf as a part of the pitch
	Pin    meas.Reading[unit.Length] `json:"pin"`    // diameter of the pins of a lantern

	TipRadius  meas.Reading[unit.Length] `json:"tip_radius"`  // of the corners at the tips of the wheel
	RootRadius meas.Reading[unit.Length] `json:"root_radius"` // of the corners at the bottom of the spaces
	Bottom     Bottom                    `json:"bottom,omitempty"`

	// The body of the wheel, for its drawing.
	Hole      meas.Reading[unit.Length] `json:"hole"` // for arbor or collet
	Crossings int                       `json:"crossings,omitempty"`
	Rim       meas.Reading[unit.Length] `json:"rim"` // under the bottoms of the teeth
	Arm       meas.Reading[unit.Length] `json:"arm"` // width of a crossing
	Hub       meas.Reading[unit.Length] `json:"hub"` // diameter in the middle
}

// Bottom is that of the spaces.
type Bottom string

// The bottoms; none is square, its corners rounded where a radius is stated.
const (
	SquareBottom Bottom = "square"
	RoundBottom  Bottom = "round" // one round from flank to flank, as a cutter with a round edge leaves it
)

// Part is which of the pair is to be made.
type Part string

// The parts; none is both.
const (
	TheWheel  Part = "wheel"
	ThePinion Part = "pinion"
)

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	f = append(f, q.checkCounts()...)
	for _, l := range q.lengths() {
		positive(&f, l.field, l.what, l.r)
		if mm := l.r.Value.MM(); l.r.Set && mm > 5000 {
			f = append(f, meas.Fault{Field: l.field, Text: l.what + " cannot be more than 5 m; “" + l.r.String() + "” was entered"})
		}
	}
	within(&f, "diametral-pitch", "The diametral pitch", q.DiametralPitch, 2.5, 500, "2.5", "500 teeth to the inch")
	within(&f, "height", "The height of the teeth", q.Height, 0.2, 3, "0.2", "3 modules")
	within(&f, "leaf", "The width of a leaf", q.Leaf, 0.2, 0.5, "0.2", "0.5 of the pitch")
	if q.Crossings != 0 && (q.Crossings < 2 || q.Crossings > 12) {
		f = append(f, meas.Fault{Field: "crossings", Text: "A wheel is crossed out with 2 to 12 arms; leave it empty for a solid one"})
	}
	if q.Pin.Set && q.Form != LanternOf {
		f = append(f, meas.Fault{Field: "pin", Text: "Only a lantern has pins; choose the form lantern, or leave the pins empty"})
	}
	if q.Leaf.Set && q.Form == LanternOf {
		f = append(f, meas.Fault{Field: "leaf", Text: "A lantern has pins in the place of leaves; enter the diameter of a pin instead"})
	}
	f = append(f, q.checkRounds()...)
	if len(f) == 0 && !q.sized() {
		f = append(f, meas.Fault{Field: "module", Text: "Enter a size: the module, a diameter or the distance of the centres"})
	}
	return f
}

// CheckBottom returns what is wrong with a bottom and the radius in its
// corners; the fields are "bottom" and "root-radius".
func CheckBottom(b Bottom, radius meas.Reading[unit.Length]) meas.Faults {
	var f meas.Faults
	if b != "" && b != SquareBottom && b != RoundBottom {
		f = append(f, meas.Fault{Field: "bottom", Text: "The bottom of the spaces must be square or round"})
	}
	if b == RoundBottom && radius.Set {
		f = append(f, meas.Fault{Field: "root-radius", Text: "A round bottom has the radius that the space gives it; leave the radius empty, or choose a square bottom"})
	}
	return f
}

func (q Query) checkRounds() meas.Faults {
	f := CheckBottom(q.Bottom, q.RootRadius)
	if q.TipRadius.Set && (q.Form == "" || q.Form == Rounded) {
		f = append(f, meas.Fault{Field: "tip-radius", Text: "Teeth of this form are rounded at the tip without a corner; leave the radius empty, or choose a form that runs to a land or a point"})
	}
	return f
}

func (q Query) checkCounts() meas.Faults {
	var f meas.Faults
	switch {
	case q.Wheel == 0:
		f = append(f, meas.Fault{Field: "wheel", Text: "Enter the teeth of the wheel; the shape of the leaves depends on them"})
	case q.Wheel < leastTeeth || q.Wheel > mostTeeth:
		f = append(f, meas.Fault{Field: "wheel", Text: fmt.Sprintf("A wheel of %d to %d teeth can be laid out; %d were entered", leastTeeth, mostTeeth, q.Wheel)})
	}
	switch {
	case q.Leaves == 0:
		f = append(f, meas.Fault{Field: "leaves", Text: "Enter the leaves of the pinion; the shape of the wheel's teeth depends on them"})
	case q.Leaves < Fewest:
		f = append(f, meas.Fault{Field: "leaves", Text: fmt.Sprintf("A pinion of %d leaves cannot be driven by a toothed wheel without a stop from leaf to leaf; it takes %d at the least. Count the leaves again", q.Leaves, Fewest)})
	case q.Leaves > mostLeaves:
		f = append(f, meas.Fault{Field: "leaves", Text: fmt.Sprintf("A pinion of up to %d leaves can be laid out; %d were entered", mostLeaves, q.Leaves)})
	}
	switch q.Form {
	case "", Exact, Rounded, Arcs, LanternOf:
	default:
		f = append(f, meas.Fault{Field: "form", Text: "The form must be one of exact, rounded, arcs, lantern"})
	}
	if q.Part != "" && q.Part != TheWheel && q.Part != ThePinion {
		f = append(f, meas.Fault{Field: "part", Text: "The part must be wheel or pinion; leave it empty for both"})
	}
	return f
}

// named is a length of the query with its field and its name.
type named struct {
	field, what string
	r           meas.Reading[unit.Length]
}

func (q Query) lengths() []named {
	return []named{
		{"module", "The module", q.Module}, {"circular-pitch", "The circular pitch", q.CircularPitch},
		{"wheel-outside", "The diameter of the wheel", q.WheelOutside}, {"pinion-outside", "The diameter of the pinion", q.PinionOutside},
		{"wheel-pitch-diameter", "The pitch diameter of the wheel", q.WheelPitch}, {"pinion-pitch-diameter", "The pitch diameter of the pinion", q.PinionPitch},
		{"distance", "The distance of the centres", q.Distance}, {"pin", "The diameter of a pin", q.Pin},
		{"tip-radius", "The radius at the tips", q.TipRadius}, {"root-radius", "The radius at the bottom", q.RootRadius},
		{"hole", "The hole", q.Hole}, {"rim", "The width of the rim", q.Rim}, {"arm", "The width of a crossing", q.Arm}, {"hub", "The diameter in the middle", q.Hub},
	}
}

// sized tells whether any size is stated.
func (q Query) sized() bool {
	return q.Module.Set || q.DiametralPitch.Set || q.CircularPitch.Set || q.WheelOutside.Set || q.PinionOutside.Set || q.WheelPitch.Set || q.PinionPitch.Set || q.Distance.Set
}

// design is the pair of a module in mm.
func (q Query) design(module float64) Design {
	d := Design{Form: q.Form, Wheel: q.Wheel, Leaves: q.Leaves, Module: unit.Millimetres(module), Height: float64(q.Height.Value), Leaf: float64(q.Leaf.Value), Pin: q.Pin.Value,
		TipRadius: q.TipRadius.Value, RootRadius: q.RootRadius.Value, FullRoot: q.Bottom == RoundBottom, Rooted: q.Part}
	if d.Form == "" {
		d.Form = Rounded
	}
	return d
}

// positive refuses a length that is not above nought.
func positive(f *meas.Faults, field, what string, r meas.Reading[unit.Length]) {
	if r.Set && !(r.Value > 0 && !math.IsInf(float64(r.Value), 0)) {
		*f = append(*f, meas.Fault{Field: field, Text: what + " must be more than nought; “" + r.String() + "” was entered"})
	}
}

// within refuses a quantity outside a range, named in words.
func within[Q unit.Quantity](f *meas.Faults, field, what string, r meas.Reading[Q], low, high float64, lowWords, highWords string) {
	if r.Set && !(float64(r.Value) >= low && float64(r.Value) <= high) {
		*f = append(*f, meas.Fault{Field: field, Text: what + " must be between " + lowWords + " and " + highWords + "; “" + r.String() + "” was entered"})
	}
}
