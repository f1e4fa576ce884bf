package tooth

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// body settles the wheel inside its teeth: what was stated, and what is
// supposed where it is crossed out and was not.
func (q Query) body(wheel Gear) (Body, error) {
	root := wheel.Root
	b := Body{Hole: q.Hole.Value, Crossings: q.Crossings}
	var faults meas.Faults
	if b.Hole >= 2*root {
		faults = append(faults, meas.Fault{Field: "hole", Text: "The hole (" + q.Hole.Written("mm") + ") is wider than the wheel under its teeth, " + unit.Text(2*root, "mm", 2)})
	}
	if q.Crossings == 0 {
		if len(faults) > 0 {
			return b, faults
		}
		return b, nil
	}
	depth := wheel.Tip - wheel.Root
	rim := taken(q.Rim, 1.5*depth, "rim", &b.Supposed)
	b.Arm = taken(q.Arm, min(rim, 1.5*depth), "crossings", &b.Supposed)
	hub := taken(q.Hub, max(2.5*b.Hole, 4*b.Arm), "middle", &b.Supposed)
	b.Rim, b.Hub = root-rim, hub/2
	switch {
	case b.Rim <= b.Hub+b.Arm/2:
		field := "crossings"
		for _, x := range []struct {
			field string
			set   bool
		}{{"arm", q.Arm.Set}, {"hub", q.Hub.Set}, {"rim", q.Rim.Set}} {
			if x.set {
				field = x.field
			}
		}
		text := fmt.Sprintf("The wheel is %s wide under its teeth: a rim of %s, crossings of %s and a middle of %s leave nothing to cross out", unit.Text(2*root, "mm", 2), unit.Text(rim, "mm", 2), unit.Text(b.Arm, "mm", 2), unit.Text(hub, "mm", 2))
		if len(b.Supposed) > 0 {
			text += " (supposed: " + strings.Join(b.Supposed, ", ") + ")"
		}
		faults = append(faults, meas.Fault{Field: field, Text: text + "; make one of them smaller, or leave it solid"})
	case 2*b.Hub <= b.Hole:
		faults = append(faults, meas.Fault{Field: "hub", Text: "The middle must be wider than the hole"})
	case float64(q.Crossings)*float64(b.Arm) >= 5*float64(b.Hub):
		faults = append(faults, meas.Fault{Field: "arm", Text: fmt.Sprintf("%d crossings of %s do not fit round a middle of %s", q.Crossings, unit.Text(b.Arm, "mm", 2), unit.Text(hub, "mm", 2))})
	}
	if len(faults) > 0 {
		return b, faults
	}
	return b, nil
}

// taken is a length as stated, else one that is supposed, and named so.
func taken(r meas.Reading[unit.Length], supposed unit.Length, what string, names *[]string) unit.Length {
	if r.Set {
		return r.Value
	}
	*names = append(*names, what)
	return supposed
}
