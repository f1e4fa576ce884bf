package mesh

import (
	"math"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// widths are what was measured of the teeth of one gear, straight across
// where the pitch circle meets the flanks: a tooth, or the space beside it.
type widths struct {
	count        train.Teeth
	tooth, space meas.Reading[unit.Length]
}

func (q Query) teeth() widths  { return widths{q.Wheel, q.ToothWidth, q.ToothSpace} }
func (q Query) leaves() widths { return widths{q.Leaves, q.LeafWidth, q.LeafSpace} }

// across is the angle at the centre under which a length straight across the
// pitch circle of a module in mm is seen.
func (w widths) across(x unit.Length, module float64) float64 {
	return 2 * math.Asin(min(x.MM()/(module*float64(w.count)), 1))
}

// part is the part of the pitch that a tooth takes at a module in mm; 0 where
// nothing was measured, below it where the space is wider than the pitch.
func (w widths) part(module float64) float64 {
	pitch := 2 * math.Pi / float64(w.count)
	switch {
	case w.tooth.Set:
		return w.across(w.tooth.Value, module) / pitch
	case w.space.Set:
		if part := 1 - w.across(w.space.Value, module)/pitch; part != 0 {
			return part
		}
		return -1
	}
	return 0
}

// stretch is by how much tooth and space together are more than the pitch, in
// mm on the pitch circle of a module in mm; 0 unless both were measured.
func (w widths) stretch(module float64) float64 {
	if !w.tooth.Set || !w.space.Set {
		return 0
	}
	pitch := 2 * math.Pi / float64(w.count)
	return (w.across(w.tooth.Value, module) + w.across(w.space.Value, module) - pitch) * module * float64(w.count) / 2
}

// fault says at its field that a width does not go with the pitch.
func (w widths) fault(what, bounds string) meas.Faults {
	field, r, of := what+"-width", w.tooth, "A "+what
	if !w.tooth.Set {
		field, r, of = what+"-space", w.space, "A space beside a "+what
	}
	return meas.Faults{{Field: field, Text: of + " “" + r.String() + "” wide does not go with the pitch of this module: " + bounds + ". Measure straight across, where the pitch circle meets the flanks; look at the counts and the unit"}}
}

// shape is the pair at a module of 1 mm, with what was measured at a module
// in mm; with nothing of it where that is 0.
func (q Query) shape(module float64) tooth.Design {
	d := tooth.Design{Form: q.Form, Wheel: q.Wheel, Leaves: q.Leaves, Module: unit.Millimetres(1), Height: float64(q.Height.Value)}
	if d.Form == "" {
		d.Form = tooth.Rounded
	}
	if module > 0 {
		d.Tooth, d.Leaf, d.Pin = q.teeth().part(module), q.leaves().part(module), q.Pin.Value/unit.Length(module)
	}
	return d
}

// design is the pair at a module in mm, of which one part is wanted.
func (q Query) design(module float64, of tooth.Part) tooth.Design {
	d := q.shape(module)
	d.Module, d.Pin = unit.Millimetres(module), q.Pin.Value
	d.RootRadius, d.FullRoot, d.Rooted = q.RootRadius.Value, q.Bottom == tooth.RoundBottom, of
	return d
}

// moduleOf is the module that a gear's own size gives, in mm; else the one
// stated, else that of the distance; 0 where only the other gear has a size.
// How high a tooth is depends on how thick it is, and that on the module: the
// two are brought together step by step.
func (q Query) moduleOf(outside meas.Reading[unit.Length], gear func(tooth.Pair) tooth.Gear) (module float64, from string, err error) {
	switch {
	case outside.Set:
		for range 60 {
			p, err := q.shape(module).Pair()
			if err != nil {
				return 0, "", err
			}
			next := outside.Value.MM() / (2 * gear(p).Tip.MM())
			if math.Abs(next-module) <= 1e-14*next {
				return next, "outside", nil
			}
			module = next
		}
		return module, "outside", nil
	case q.Module.Set:
		return q.Module.Value.MM(), "module", nil
	case q.WheelOutside.Set || q.PinionOutside.Set:
		return 0, "", nil
	}
	return 2 * q.Distance.Value.MM() / float64(q.Wheel+q.Leaves), "distance", nil
}
