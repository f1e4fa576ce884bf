package strikework

import (
	"fmt"
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Kind is what is laid out.
type Kind string

// The kinds.
const (
	RackAndSnail Kind = "rack"
	CountWheel   Kind = "count-wheel"
)

// Blows is what is struck.
type Blows string

// What is struck.
const (
	Hours     Blows = "hours"
	HalfHours Blows = "half-hours" // and one at each half
)

// Query is what is known of the work.
type Query struct {
	Kind Kind `json:"kind,omitempty"` // rack where empty

	// Rack and snail.
	Teeth    int                       `json:"teeth,omitempty"` // of the rack; as many as steps where 0
	Radius   meas.Reading[unit.Length] `json:"radius"`          // from the rack's pivot to the tips of its teeth
	Tail     meas.Reading[unit.Length] `json:"tail"`            // to the pin of the tail
	Centres  meas.Reading[unit.Length] `json:"centres"`         // to the centre of the snail
	Pin      meas.Reading[unit.Length] `json:"pin"`             // diameter of the pin; an edge where not stated
	Largest  meas.Reading[unit.Length] `json:"largest"`         // radius of the snail at 1 o'clock
	Smallest meas.Reading[unit.Length] `json:"smallest"`        // at 12 o'clock
	Pitch    meas.Reading[unit.Length] `json:"pitch"`           // of the rack along its tips, measured
	Undercut meas.Reading[unit.Angle]  `json:"undercut"`        // of the faces of the rack

	// What carries the teeth of the rack.
	Between meas.Reading[unit.Angle]  `json:"between"` // at the pivot, from the middle of the teeth to the tail the way the rack falls; negative: the other way
	Arm     meas.Reading[unit.Length] `json:"arm"`     // width of the arms
	Hole    meas.Reading[unit.Length] `json:"hole"`    // of the rack's pivot

	// Count wheel.
	Blows    Blows                     `json:"blows,omitempty"` // hours where empty
	Diameter meas.Reading[unit.Length] `json:"diameter"`
	Slot     meas.Reading[unit.Length] `json:"slot"` // width at the rim
	Pins     int                       `json:"pins,omitempty"`

	Depth meas.Reading[unit.Length] `json:"depth"` // of a rack's tooth, or of a slot
	Bore  meas.Reading[unit.Length] `json:"bore"`  // of snail or count wheel
}

// steps of a snail.
const steps = 12

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	for _, l := range []struct {
		field, what string
		r           meas.Reading[unit.Length]
	}{{"radius", "The radius of the rack", q.Radius}, {"tail", "The length of the tail", q.Tail}, {"centres", "The distance of the centres", q.Centres}, {"pin", "The pin", q.Pin},
		{"largest", "The largest radius of the snail", q.Largest}, {"smallest", "The smallest radius of the snail", q.Smallest}, {"pitch", "The pitch of the rack", q.Pitch},
		{"diameter", "The diameter of the count wheel", q.Diameter}, {"slot", "The width of a slot", q.Slot}, {"depth", "The depth", q.Depth}, {"bore", "The hole", q.Bore}, {"arm", "The width of the arms", q.Arm}, {"hole", "The hole of the rack's pivot", q.Hole}} {
		if l.r.Set && !(l.r.Value > 0 && l.r.Value <= 2) {
			add(l.field, "%s must be above 0 and at most 2 m; %s was entered", l.what, l.r.Entered)
		}
	}
	if u := q.Undercut; u.Set && !(u.Value >= 0 && u.Value <= unit.Deg(30)) {
		add("undercut", "The undercut must be from 0° to 30°; %s was entered", u.Entered)
	}
	if q.Kind == CountWheel {
		if !q.Diameter.Set {
			add("diameter", "Enter the diameter of the count wheel")
		}
		if q.Pins < 0 || q.Pins > 90 {
			add("pins", "A pin wheel has up to 90 pins; %d were entered", q.Pins)
		}
		return f
	}
	return append(f, q.checkRack()...)
}

func (q Query) checkRack() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if x := math.Abs(q.Between.Value.Degrees()); q.Between.Set && !(x >= 10 && x <= 180) {
		add("between", "The angle from the teeth to the tail must be from 10° to 180°, or as much the other way; %s was entered", q.Between.Entered)
	}
	if q.Teeth != 0 && (q.Teeth < steps || q.Teeth > 20) {
		add("teeth", "A rack for twelve hours has %d to 20 teeth; %d were entered", steps, q.Teeth)
	}
	for _, n := range []struct {
		field, what string
		set         bool
	}{{"radius", "Enter the radius from the rack's pivot to the tips of its teeth", q.Radius.Set}, {"tail", "Enter the length of the tail, from the rack's pivot to its pin", q.Tail.Set},
		{"largest", "Enter the radius of the snail at 1 o'clock, its largest", q.Largest.Set}} {
		if !n.set {
			add(n.field, "%s", n.what)
		}
	}
	if !q.Smallest.Set && !q.Pitch.Set {
		add("pitch", "Enter the pitch of a rack that is left, or the radius of the snail at 12 o'clock")
	}
	if q.Smallest.Set && q.Largest.Set && q.Smallest.Value >= q.Largest.Value {
		add("smallest", "The radius at 12 o'clock must be smaller than that at 1 o'clock, %s", q.Largest.Written("mm"))
	}
	return f
}
