package mesh

import (
	"errors"
	"strconv"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is a wheel and the pinion that it drives. The counts must be stated
// and one size: a module, an outside diameter, or the distance.
type Query struct {
	Wheel  train.Teeth `json:"wheel"`
	Leaves train.Teeth `json:"leaves"`
	Form   tooth.Form  `json:"form,omitempty"` // Rounded where empty

	Module        meas.Reading[unit.Length] `json:"module"`
	WheelOutside  meas.Reading[unit.Length] `json:"wheel_outside"`  // diameter over the tips; wins over the module
	PinionOutside meas.Reading[unit.Length] `json:"pinion_outside"` // the same
	ToothWidth    meas.Reading[unit.Length] `json:"tooth_width"`    // of the wheel, straight across at its pitch circle
	ToothSpace    meas.Reading[unit.Length] `json:"tooth_space"`    // the same of the space beside it; the tooth wins
	LeafWidth     meas.Reading[unit.Length] `json:"leaf_width"`     // of the pinion, straight across at its pitch circle
	LeafSpace     meas.Reading[unit.Length] `json:"leaf_space"`     // the same of the space beside it; the leaf wins
	Pin           meas.Reading[unit.Length] `json:"pin"`            // diameter of the pins of a lantern
	Height        meas.Reading[unit.Ratio]  `json:"height"`         // of the wheel's tooth over the pitch circle, modules

	RootRadius meas.Reading[unit.Length] `json:"root_radius"` // of the corners at the bottom of the spaces; sharp where empty
	Bottom     tooth.Bottom              `json:"bottom,omitempty"`

	Distance   meas.Reading[unit.Length] `json:"distance"` // of the centres; where the pitch circles touch, if empty
	Deepest    meas.Reading[unit.Length] `json:"deepest"`  // the least and the greatest distance that is tried
	Shallowest meas.Reading[unit.Length] `json:"shallowest"`

	Faces    Faces                     `json:"faces,omitempty"`
	Friction meas.Reading[unit.Ratio]  `json:"friction"` // coefficient; wins over the faces
	Torque   meas.Reading[unit.Torque] `json:"torque"`   // on the wheel

	Pit   meas.Reading[unit.Length] `json:"pit"`   // deepest wear in the leaves, where the teeth run
	Worn  meas.Reading[unit.Length] `json:"worn"`  // the same of the wheel's teeth
	Bent  meas.Reading[unit.Length] `json:"bent"`  // of one tooth, at its tip; positive: forwards
	Short meas.Reading[unit.Length] `json:"short"` // that is missing of one tooth at its tip
}

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	count := func(field, what string, n train.Teeth, least, most int) {
		switch {
		case n == 0:
			f = append(f, meas.Fault{Field: field, Text: "Enter " + what})
		case int(n) < least || int(n) > most:
			f = append(f, meas.Fault{Field: field, Text: "This turns pairs with " + strconv.Itoa(least) + " to " + strconv.Itoa(most) + " " + unitOf(field) + "; " + strconv.Itoa(int(n)) + " were entered"})
		}
	}
	count("wheel", "the count of the wheel", q.Wheel, 6, 400)
	count("leaves", "the count of the pinion", q.Leaves, tooth.Fewest, 30)
	for _, l := range []struct {
		field, what string
		r           meas.Reading[unit.Length]
	}{
		{"module", "The module", q.Module}, {"wheel-outside", "The diameter over the wheel's tips", q.WheelOutside}, {"pinion-outside", "The diameter over the pinion's tips", q.PinionOutside},
		{"tooth-width", "The width of a tooth", q.ToothWidth}, {"tooth-space", "The space between two teeth", q.ToothSpace},
		{"leaf-width", "The width of a leaf", q.LeafWidth}, {"leaf-space", "The space between two leaves", q.LeafSpace}, {"pin", "The diameter of a pin", q.Pin}, {"root-radius", "The radius at the bottom", q.RootRadius}, {"distance", "The distance of the centres", q.Distance},
		{"deepest", "The least distance", q.Deepest}, {"shallowest", "The greatest distance", q.Shallowest}, {"pit", "The depth of the pits", q.Pit}, {"worn", "The wear of the teeth", q.Worn}, {"short", "What is missing of a tooth", q.Short},
	} {
		if l.r.Set && !(l.r.Value > 0 && l.r.Value < 10) {
			f = append(f, meas.Fault{Field: l.field, Text: l.what + " must be more than nought and less than 10 m; “" + l.r.String() + "” was entered"})
		}
	}
	f = append(f, q.checkRest()...)
	if len(f) > 0 {
		return f
	}
	_, f = q.lay()
	return f
}

func unitOf(field string) string {
	if field == "wheel" {
		return "teeth"
	}
	return "leaves"
}

func (q Query) checkRest() meas.Faults {
	f := tooth.CheckBottom(q.Bottom, q.RootRadius)
	if !q.Module.Set && !q.WheelOutside.Set && !q.PinionOutside.Set && !q.Distance.Set {
		f = append(f, meas.Fault{Field: "module", Text: "Enter one size at least: the module, a diameter over the tips, or the distance of the centres"})
	}
	if q.Friction.Set && !(q.Friction.Value >= 0 && q.Friction.Value <= 1) {
		f = append(f, meas.Fault{Field: "friction", Text: "The coefficient of friction must be between 0 and 1; “" + q.Friction.String() + "” was entered"})
	}
	if q.Height.Set && !(q.Height.Value > 0 && q.Height.Value <= 3) {
		f = append(f, meas.Fault{Field: "height", Text: "The height of the teeth must be between 0 and 3 modules; “" + q.Height.String() + "” was entered"})
	}
	if q.Torque.Set && !(q.Torque.Value > 0) {
		f = append(f, meas.Fault{Field: "torque", Text: "The torque on the wheel must be more than nought; “" + q.Torque.String() + "” was entered"})
	}
	if q.Deepest.Set && q.Shallowest.Set && q.Deepest.Value >= q.Shallowest.Value {
		f = append(f, meas.Fault{Field: "shallowest", Text: "The greatest distance must be more than the least, " + q.Deepest.String() + "; “" + q.Shallowest.String() + "” was entered"})
	}
	switch q.Form {
	case "", tooth.Exact, tooth.Rounded, tooth.Arcs, tooth.LanternOf:
	default:
		f = append(f, meas.Fault{Field: "form", Text: "The form of the teeth must be one of exact, rounded, arcs, lantern"})
	}
	if _, ok := findFaces(q.Faces); q.Faces != "" && !ok {
		f = append(f, meas.Fault{Field: "faces", Text: "The faces must be one of dry, greasy, oiled, sticking"})
	}
	lantern := q.Form == tooth.LanternOf
	if q.Pin.Set && !lantern {
		f = append(f, meas.Fault{Field: "pin", Text: "Pins belong to a lantern pinion; choose that form or leave the diameter of the pins out"})
	}
	if lantern && q.LeafWidth.Set {
		f = append(f, meas.Fault{Field: "leaf-width", Text: "A lantern pinion has no leaves; enter the diameter of its pins"})
	}
	if lantern && q.LeafSpace.Set {
		f = append(f, meas.Fault{Field: "leaf-space", Text: "A lantern pinion has no leaves; enter the diameter of its pins"})
	}
	if lantern && q.Pit.Set {
		f = append(f, meas.Fault{Field: "pit", Text: "Pins that are worn can be turned round; wear is reckoned in leaves only"})
	}
	return f
}

// sizes is the pair laid out, with the modules that the sizes come to.
type sizes struct {
	pair                  tooth.Pair
	wheel, pinion         float64 // modules, mm
	wheelFrom, pinionFrom string  // "module", "outside", "distance", "other"
	distance              float64 // where it stands, mm
	touching              float64 // where the pitch circles would touch
}

// lay works the shapes out of the sizes; what does not go together is a fault.
func (q Query) lay() (sizes, meas.Faults) {
	var s sizes
	var err error
	if s.wheel, s.wheelFrom, err = q.moduleOf(q.WheelOutside, func(p tooth.Pair) tooth.Gear { return p.Wheel }); err != nil {
		return s, q.unlaid(err)
	}
	if s.pinion, s.pinionFrom, err = q.moduleOf(q.PinionOutside, func(p tooth.Pair) tooth.Gear { return p.Pinion }); err != nil {
		return s, q.unlaid(err)
	}
	if s.wheel == 0 {
		s.wheel, s.wheelFrom = s.pinion, "other"
	}
	if s.pinion == 0 {
		s.pinion, s.pinionFrom = s.wheel, "other"
	}
	wheel, err := q.design(s.wheel, tooth.TheWheel).Pair()
	if err != nil {
		return s, q.unlaid(err)
	}
	pinion, err := q.design(s.pinion, tooth.ThePinion).Pair()
	if err != nil {
		return s, q.unlaid(err)
	}
	s.pair = tooth.Pair{Wheel: wheel.Wheel, Pinion: pinion.Pinion}
	s.touching = wheel.Wheel.Pitch.MM() + pinion.Pinion.Pitch.MM()
	s.pair.Distance = unit.Millimetres(s.touching)
	s.distance = s.touching
	if q.Distance.Set {
		s.distance = q.Distance.Value.MM()
	}
	return s, q.clashes(s)
}

// unlaid says why no pair can be laid out.
func (q Query) unlaid(err error) meas.Faults {
	var round *tooth.RoundError
	switch {
	case errors.As(err, &round):
		return meas.Faults{round.Fault(q.RootRadius.Written("mm"))}
	case errors.Is(err, tooth.ErrHeight) && q.Height.Set:
		return meas.Faults{{Field: "height", Text: "No tooth of this form is so high with this wheel and pinion; leave the height out, or make it less than “" + q.Height.String() + "”"}}
	case errors.Is(err, tooth.ErrLeaf):
		return q.leaves().fault("leaf", "a leaf takes up to seven tenths of the pitch here")
	case errors.Is(err, tooth.ErrTooth):
		return q.teeth().fault("tooth", "a tooth takes up to eight tenths of the pitch here, and its two sides must meet over it")
	case errors.Is(err, tooth.ErrPins):
		return meas.Faults{{Field: "pin", Text: "Pins of “" + q.Pin.String() + "” do not fit the pitch; measure one pin, and the circle that they stand on"}}
	}
	return meas.Faults{{Field: "form", Text: "Teeth of this form cannot be laid out for " + strconv.Itoa(int(q.Wheel)) + " teeth and " + strconv.Itoa(int(q.Leaves)) + " leaves; choose another form"}}
}

func millimetres(x float64) string { return unit.Text(unit.Millimetres(x), "mm", 3) }
