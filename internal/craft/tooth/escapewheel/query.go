package escapewheel

import (
	"fmt"
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Kind is how the escapement acts.
type Kind string

// The kinds.
const (
	DeadBeat Kind = "dead-beat"
	Recoil   Kind = "recoil"
	PinWheel Kind = "pin-wheel"
)

// Back is the shape of the back of a tooth.
type Back string

// The backs.
const (
	StraightBack Back = "straight"
	HollowBack   Back = "hollow"
)

// Counts of teeth that are taken.
const (
	Fewest train.Teeth = 6
	Most   train.Teeth = 120
)

// Query is what is known of a wheel and its pallets. Count is needed; the rest
// as far as it is known.
type Query struct {
	Kind     Kind                      `json:"kind,omitempty"` // dead-beat where empty
	Count    train.Teeth               `json:"count"`
	Diameter meas.Reading[unit.Length] `json:"diameter"` // over the tips
	Spaces   meas.Reading[unit.Ratio]  `json:"spaces"`   // that the anchor embraces
	Distance meas.Reading[unit.Length] `json:"distance"` // of the centres of wheel and pallets
	Span     meas.Reading[unit.Length] `json:"span"`     // of the two tips embraced, or of the edges of the pallets that meet them

	Undercut   meas.Reading[unit.Angle]  `json:"undercut"`
	Land       meas.Reading[unit.Length] `json:"land"`
	Depth      meas.Reading[unit.Length] `json:"depth"`
	Base       meas.Reading[unit.Length] `json:"base"`
	Back       Back                      `json:"back,omitempty"` // straight where empty
	BackRadius meas.Reading[unit.Length] `json:"back_radius"`
	Bore       meas.Reading[unit.Length] `json:"bore"` // of the hole in the middle

	// Of a pin wheel; its diameter is that of the circle through the middles of the pins.
	Pin   meas.Reading[unit.Length] `json:"pin"`             // diameter
	Shape Shape                     `json:"shape,omitempty"` // round where empty
	Reach meas.Reading[unit.Length] `json:"reach"`           // from the arbor of the pallets to the pins that they hold

	Drop meas.Reading[unit.Angle] `json:"drop"` // of a tooth, seen from the wheel
	Lift meas.Reading[unit.Angle] `json:"lift"` // of the pallets, seen from their arbor
}

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if q.Count == 0 {
		add("count", "Enter the count of the teeth")
	} else if q.Count < Fewest || q.Count > Most {
		add("count", "An escape wheel has %d to %d teeth; %d were entered", Fewest, Most, q.Count)
	}
	for _, l := range []struct {
		field, what string
		r           meas.Reading[unit.Length]
	}{{"diameter", "The diameter over the tips", q.Diameter}, {"distance", "The distance of the centres", q.Distance}, {"span", "The span", q.Span},
		{"land", "The land of the tip", q.Land}, {"depth", "The depth of the spaces", q.Depth}, {"base", "The thickness at the root", q.Base},
		{"back-radius", "The radius of the back", q.BackRadius}, {"bore", "The hole", q.Bore}, {"pin", "The diameter of a pin", q.Pin}, {"reach", "The distance of the pins from the arbor", q.Reach}} {
		if l.r.Set && !(l.r.Value > 0 && l.r.Value <= 2) {
			add(l.field, "%s must be above 0 and at most 2 m; %s was entered", l.what, l.r.Entered)
		}
	}
	for _, x := range []struct {
		field, what string
		r           meas.Reading[unit.Angle]
		most        float64
	}{{"undercut", "The undercut", q.Undercut, 40}, {"drop", "The drop", q.Drop, 30}, {"lift", "The lift", q.Lift, 20}} {
		if x.r.Set && !(x.r.Value >= 0 && x.r.Value <= unit.Deg(x.most)) {
			add(x.field, "%s must be from 0° to %g°; %s was entered", x.what, x.most, x.r.Entered)
		}
	}
	f = append(f, q.checkPins()...)
	if n := float64(q.Spaces.Value); q.Spaces.Set && q.Count > 0 && q.Kind != PinWheel {
		if whole := n - 0.5; math.Abs(whole-math.Round(whole)) > 1e-9 || n < 0.5 {
			add("spaces", "An anchor embraces a whole number and a half, like 7.5 or 9.5, so that one pallet is free while the other holds; %s was entered", q.Spaces.Entered)
		} else if n >= float64(q.Count)/2 {
			add("spaces", "%s spaces of %d teeth are half of the wheel or more; the pallets cannot stand outside it", q.Spaces.Entered, q.Count)
		}
	}
	if d, r := q.Distance, q.Diameter; d.Set && r.Set && 2*d.Value <= r.Value {
		add("distance", "The centre of the pallets must lie outside the wheel: more than half of %s", r.Written("mm"))
	}
	if s, r := q.Span, q.Diameter; s.Set && r.Set && s.Value >= r.Value {
		add("span", "The pallets cannot span %s of a wheel of %s", s.Written("mm"), r.Written("mm"))
	}
	if s, d := q.Span, q.Distance; s.Set && d.Set && float64(s.Value) > float64(d.Value)*(1+1e-9) && !q.Diameter.Set && !q.Spaces.Set {
		add("span", "With tangent pallets the span is no more than the distance of the centres; measure both again, or enter the diameter or the spaces")
	}
	return f
}
