package mesh

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// clashes are sizes so far apart that one of them must be a slip: both named.
func (q Query) clashes(s sizes) meas.Faults {
	var f meas.Faults
	if r := s.wheel / s.pinion; r > 1.5 || r < 1/1.5 {
		field := "module"
		switch {
		case q.PinionOutside.Set:
			field = "pinion-outside"
		case q.WheelOutside.Set:
			field = "wheel-outside"
		}
		f = append(f, meas.Fault{Field: field, Text: "The wheel comes to a module of " + millimetres(s.wheel) + " and the pinion to " + millimetres(s.pinion) + ": look at the counts and at the units of both sizes"})
	}
	if r := s.distance / s.touching; r > 1.25 || r < 0.8 {
		f = append(f, meas.Fault{Field: "distance", Text: "At these sizes the pitch circles touch at " + millimetres(s.touching) + "; “" + q.Distance.String() + "” was entered. Look at the units of both"})
	}
	if half := math.Pi * s.wheel / 2; q.Bent.Set && !(math.Abs(q.Bent.Value.MM()) < half) {
		f = append(f, meas.Fault{Field: "bent", Text: "A tooth that is bent by half of the way to the next, " + millimetres(half) + ", is no tooth any more; “" + q.Bent.String() + "” was entered"})
	}
	if whole := s.pair.Wheel.Tip.MM() - s.pair.Wheel.Root.MM(); q.Short.Set && !(q.Short.Value.MM() < whole) {
		f = append(f, meas.Fault{Field: "short", Text: "A tooth is " + millimetres(whole) + " high; “" + q.Short.String() + "” cannot be missing of it"})
	}
	f = append(f, q.worndown(s)...)
	low, high := s.touching*0.8, s.touching*1.25
	for _, r := range []struct {
		field string
		d     meas.Reading[unit.Length]
	}{{"deepest", q.Deepest}, {"shallowest", q.Shallowest}} {
		if x := r.d.Value.MM(); r.d.Set && (x < low || x > high) {
			f = append(f, meas.Fault{Field: r.field, Text: "The distance must be between " + millimetres(low) + " and " + millimetres(high) + ", about where the pitch circles touch; “" + r.d.String() + "” was entered"})
		}
	}
	return f
}

// worndown are teeth and leaves that are too thin, or too far worn, to be any.
func (q Query) worndown(s sizes) (f meas.Faults) {
	for _, g := range []struct {
		what, field string
		widths      widths
		usual       float64 // part of the pitch
		module      float64
		worn        meas.Reading[unit.Length]
	}{{"tooth", "worn", q.teeth(), 0.5, s.wheel, q.Worn}, {"leaf", "pit", q.leaves(), 0.4, s.pinion, q.Pit}} {
		part := g.widths.part(g.module)
		if part != 0 && part < 0.1 {
			f = append(f, g.widths.fault(g.what, "it takes a tenth of the pitch here at the least")...)
			continue
		}
		if part == 0 {
			part = g.usual
		}
		if wide := part * math.Pi * g.module; g.worn.Set && !(g.worn.Value.MM() < wide/2) {
			f = append(f, meas.Fault{Field: g.field, Text: "A " + g.what + " is about " + millimetres(wide) + " wide, and “" + g.worn.String() + "” of wear would be more than half of it; look at the unit"})
		}
	}
	return f
}
