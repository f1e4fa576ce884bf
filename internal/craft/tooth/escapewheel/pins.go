package escapewheel

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Shape is that of a pin in a pin wheel.
type Shape string

// The shapes of pins.
const (
	RoundPins Shape = "round"
	HalfPins  Shape = "half" // the half that leads is left
)

// Pins are those of a pin wheel, as drawn.
type Pins struct {
	Pin    meas.Result[unit.Length] `json:"pin"`   // diameter
	Angle  unit.Angle               `json:"angle"` // of the pin, seen from the centre
	Shape  Shape                    `json:"shape"`
	Thick  unit.Length              `json:"thick"` // of the pin along its way: the diameter, or half of it
	Rim    unit.Length              `json:"rim"`   // radius outside
	Inner  unit.Length              `json:"inner"` // radius of the rim inside
	Gap    unit.Length              `json:"gap"`   // between two pins, straight across
	Chosen []string                 `json:"chosen"`

	Circle float64 `json:"-"` // radius through the middles of the pins, mm
	Count  int     `json:"-"`
}

// Proportions of a pin wheel where nothing was measured.
var (
	usualPin = cite.Value[float64]{V: 0.25, Ref: cite.Ref{Source: "goodrich", Place: "chapter on the pin wheel escapement", Note: "3° of 12°"}} // of the angle from pin to pin
	rimPins  = cite.Value[float64]{V: 1.5, Ref: chosen}                                                                                         // diameters of a pin that the rim is wide on either side
)

// checkPins has the mistakes of a pin wheel: sizes of teeth and anchors that
// it does not have; and pins where there are none.
func (q Query) checkPins() meas.Faults {
	var f meas.Faults
	if q.Kind != PinWheel {
		for _, x := range []struct {
			field string
			set   bool
		}{{"pin", q.Pin.Set}, {"shape", q.Shape != ""}, {"reach", q.Reach.Set}} {
			if x.set {
				f = append(f, meas.Fault{Field: x.field, Text: "Pins belong to a pin wheel; choose it as the way it acts, or leave this empty"})
			}
		}
		return f
	}
	if q.Shape != "" && q.Shape != RoundPins && q.Shape != HalfPins {
		f = append(f, meas.Fault{Field: "shape", Text: "The pins must be one of round, half"})
	}
	if q.Spaces.Set {
		f = append(f, meas.Fault{Field: "spaces", Text: "The pallets of a pin wheel embrace no spaces: both act on one pin after the other at the same place. Leave it empty"})
	}
	if q.Span.Set {
		f = append(f, meas.Fault{Field: "span", Text: "The pallets of a pin wheel have no span; enter how far their arbor is from the pins that they hold"})
	}
	for _, x := range []struct {
		field string
		set   bool
	}{{"undercut", q.Undercut.Set}, {"land", q.Land.Set}, {"depth", q.Depth.Set}, {"base", q.Base.Set}, {"back-radius", q.BackRadius.Set}} {
		if x.set {
			f = append(f, meas.Fault{Field: x.field, Text: "A pin wheel has no cut teeth; leave this empty"})
		}
	}
	if d, p := q.Distance, q.Reach; d.Set && p.Set && p.Value >= d.Value {
		f = append(f, meas.Fault{Field: "reach", Text: "The pins are nearer to the arbor of the pallets than the wheel's centre is: less than " + d.Written("mm")})
	}
	return f
}

// pins lays a pin wheel out: its circle, and where the arbor of the pallets is
// on the tangent at the pin that is held.
func (b *bench) pins(a *Answer) {
	n, q := b.N, b.q
	switch {
	case known(n.diameter):
		a.DiameterFrom = FromTyped
		b.circle = func(n numbers) float64 { return n.diameter / 2 }
	case known(n.distance) && known(n.reach):
		a.DiameterFrom = FromDistance
		b.circle = func(n numbers) float64 { return math.Sqrt(n.distance*n.distance - n.reach*n.reach) }
	default:
		b.Say(meas.Doubt, "no-size", "The size of the wheel cannot be told yet.", "Enter the diameter of the circle through the middles of the pins; or, of a lost wheel, the distance of the centres and the distance of the pins from the arbor of the pallets.", exact, "diameter")
		return
	}
	a.Diameter = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return 2 * b.circle(n) })
	if a.DiameterFrom == FromDistance {
		b.Step("Diameter of the circle of pins", "2 √(d² − p²)", fmt.Sprintf("2 √(%s² − %s²)", q.Distance.Written("mm"), q.Reach.Written("mm")), a.Diameter.Text("mm", 3), exact)
	}
	b.pinPlace(a)
	p := b.layPins(a)
	if !b.pinsFit(a, p) {
		return
	}
	a.Pins = &p
	if len(p.Chosen) > 0 {
		b.Say(meas.Note, "chosen", "Not measured, and chosen here: "+strings.Join(p.Chosen, ", ")+".", "Measure a pin that is left, or one of a like wheel of the maker.", usualPin.Ref)
	}
	b.Say(meas.Note, "pins", "Pins stand square to the wheel, all at one radius and of one length; drill from one side on the dividing head and fit them before the rim is turned true.", "", practice)
}

// pinPlace tells where the arbor of the pallets is.
func (b *bench) pinPlace(a *Answer) {
	q, r := b.q, float64(a.Diameter.Value)/2
	switch {
	case q.Reach.Set:
		far := func(n numbers) float64 { return math.Hypot(b.circle(n), n.reach) }
		a.Distance = meas.Find[unit.Length](&b.Bench, far)
		a.PalletRadius = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.reach })
		b.Step("Distance of the centres", "d = √(R² + p²)", fmt.Sprintf("√(%s² + %s²)", unit.Text(unit.Length(r), "mm", 3), q.Reach.Written("mm")), a.Distance.Text("mm", 3), exact)
		if q.Distance.Set && a.DiameterFrom == FromTyped {
			b.compare("distance", "The centres", q.Distance, a.Distance)
		}
	case q.Distance.Set && float64(q.Distance.Value) > r:
		a.Distance = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.distance })
		a.PalletRadius = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return math.Sqrt(n.distance*n.distance - b.circle(n)*b.circle(n)) })
		b.Step("Radius to the pallets", "p = √(d² − R²)", fmt.Sprintf("√(%s² − %s²)", q.Distance.Written("mm"), unit.Text(unit.Length(r), "mm", 3)), a.PalletRadius.Text("mm", 3), exact)
	default:
		return
	}
	a.DistanceRatio, a.PalletRatio = float64(a.Distance.Value)/r, float64(a.PalletRadius.Value)/r
	if q.Lift.Set {
		a.LiftTravel = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 {
			if q.Reach.Set {
				return n.reach * float64(q.Lift.Value)
			}
			return math.Sqrt(n.distance*n.distance-b.circle(n)*b.circle(n)) * float64(q.Lift.Value)
		})
		b.Step("Travel of the lift at the pallet", "p · lift", a.PalletRadius.Text("mm", 2)+" · "+q.Lift.Written("°"), a.LiftTravel.Text("mm", 3), tangents)
	}
}

// layPins lays the pins out, and what they and the drop leave of half the way
// from pin to pin.
func (b *bench) layPins(a *Answer) Pins {
	q, r := b.q, a.Diameter.Value/2
	p := Pins{Shape: q.Shape, Circle: r.MM(), Count: int(q.Count)}
	if p.Shape == "" {
		p.Shape = RoundPins
	}
	pin := func(n numbers) float64 { return n.pin }
	if !q.Pin.Set {
		p.Chosen = append(p.Chosen, "diameter of the pins (a quarter of the way from pin to pin)")
		pin = func(n numbers) float64 { return 2 * b.circle(n) * math.Sin(usualPin.V*float64(a.PerTooth)/2) }
		b.Step("Diameter of a pin", "2 R sin(360°/8N)", fmt.Sprintf("2 · %s · sin %s", unit.Text(r, "mm", 3), unit.Text(a.PerTooth/8, "°", 3)), unit.Text(unit.Length(pin(b.N)), "mm", 3), usualPin.Ref)
	}
	p.Pin = meas.Find[unit.Length](&b.Bench, pin)
	p.Angle = unit.Angle(2 * math.Asin(min(float64(p.Pin.Value/(2*r)), 1)))
	part := 1.0
	if p.Shape == HalfPins {
		part = 0.5
	}
	p.Thick = unit.Length(part) * p.Pin.Value
	p.Rim, p.Inner = r+unit.Length(rimPins.V)*p.Pin.Value, r-unit.Length(rimPins.V)*p.Pin.Value
	p.Gap = unit.Length(2*float64(r)*math.Sin(float64(a.PerTooth)/2)) - p.Pin.Value
	width := func(n numbers) float64 {
		return b.circle(n)*(float64(a.PerTooth)/2-float64(q.Drop.Value)) - part*pin(n)
	}
	if q.Drop.Set && width(b.N) > 0 {
		a.PalletWidth = meas.Find[unit.Length](&b.Bench, width)
		b.Step("Thickness of a pallet where the pins pass", "R (180°/N − drop) − pin", fmt.Sprintf("%s (%s − %s) − %s", unit.Text(r, "mm", 3), unit.Text(a.PerTooth/2, "°", 2), q.Drop.Written("°"), unit.Text(p.Thick, "mm", 3)), a.PalletWidth.Text("mm", 3), exact)
	}
	return p
}

// pinsFit tells whether the pins can be as stated; else it says what clashes.
func (b *bench) pinsFit(a *Answer, p Pins) bool {
	q, r := b.q, a.Diameter.Value/2
	half := unit.Length(float64(r) * float64(a.PerTooth) / 2)
	say := func(field, text, next string) bool {
		b.Say(meas.Clash, "pins-"+field, text, next, exact, field)
		return false
	}
	switch {
	case p.Thick >= half || !(p.Gap > 0):
		return say("pin", fmt.Sprintf("Pins of %s leave nothing for the pallets: half of the way from pin to pin is %s.", p.Pin.Text("mm", 2), unit.Text(half, "mm", 2)), "Measure one pin, and the circle that they stand on; count them again.")
	case q.Drop.Set && !a.PalletWidth.Set:
		return say("drop", fmt.Sprintf("A drop of %s and pins of %s leave no pallet: half of the way from pin to pin is %s.", q.Drop.Written("°"), unit.Text(p.Thick, "mm", 2), unit.Text(half, "mm", 2)), "Enter the drop as seen from the wheel.")
	case p.Inner <= 0 || q.Bore.Set && q.Bore.Value >= 2*p.Inner:
		return say("bore", "The hole of "+q.Bore.Written("mm")+" reaches into the rim that the pins stand in.", "Enter the diameter of the hole in the middle.")
	}
	return true
}

// Outline is one pin, numbered from 0 on the x axis, drawn with y downwards as
// it stands: the wheel turns clockwise, and of a half pin the half is left that
// leads.
func (p Pins) Outline(i int) geom.Path {
	at := 2 * math.Pi * float64(i) / float64(p.Count)
	c, r := geom.Polar(p.Circle, at), p.Pin.Value.MM()/2
	if p.Shape != HalfPins {
		return geom.Round(c, r)
	}
	out := geom.Polar(r, at)
	return geom.Path{From: c.Plus(out), Segs: []geom.Seg{{To: c.Minus(out), Bulge: 1}, {To: c.Plus(out)}}, Closed: true}
}
