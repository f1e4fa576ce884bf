package escapewheel

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Proportions where nothing was measured: of the pitch over the tips, the base
// of the pitch on the root circle.
var (
	usualUndercut = cite.Value[map[Kind]float64]{V: map[Kind]float64{DeadBeat: 10, Recoil: 0}, Ref: chosen} // degrees
	usualLand     = cite.Value[float64]{V: 0.04, Ref: chosen}
	usualDepth    = cite.Value[float64]{V: 1.2, Ref: chosen}
	usualBase     = cite.Value[float64]{V: 0.5, Ref: chosen}
)

// tooth lays the teeth out.
func (b *bench) tooth(a *Answer) {
	q := b.q
	radius := float64(a.Diameter.Value) / 2
	pitch := radius * float64(a.PerTooth)
	t := Tooth{}
	t.Undercut = unit.Deg(usualUndercut.V[q.Kind])
	if q.Undercut.Set {
		t.Undercut = q.Undercut.Value
	} else {
		t.Chosen = append(t.Chosen, "undercut")
	}
	pick := func(name string, r meas.Reading[unit.Length], usual float64) unit.Length {
		if r.Set {
			return r.Value
		}
		t.Chosen = append(t.Chosen, name)
		return unit.Length(usual)
	}
	t.Land = pick("land of the tip", q.Land, usualLand.V*pitch)
	t.Depth = pick("depth", q.Depth, math.Min(usualDepth.V*pitch, 0.5*radius))
	t.Root = unit.Length(radius) - t.Depth
	t.Base = pick("thickness at the root", q.Base, usualBase.V*float64(t.Root)*float64(a.PerTooth))
	if q.Back == HollowBack {
		t.BackRadius = pick("radius of the back", q.BackRadius, 2.5*float64(t.Depth))
	}
	t.Bottom = unit.Length(float64(t.Root)*float64(a.PerTooth)) - t.Base
	t.Teeth = saw.Teeth{Count: int(q.Count), Tip: unit.Length(radius).MM(), Root: t.Root.MM(), Undercut: float64(t.Undercut), Land: t.Land.MM(), Base: t.Base.MM(), Back: t.BackRadius.MM()}
	t.Cutter = unit.Angle(t.Teeth.Opening())
	if !b.cuts(t, pitch) {
		return
	}
	a.Tooth = &t
	b.Step("Radius at the root", "R − depth", unit.Number(t.Teeth.Tip, 3)+" − "+unit.Text(t.Depth, "mm", 3), unit.Text(t.Root, "mm", 3), exact)
	if len(t.Chosen) > 0 {
		b.Say(meas.Note, "chosen", "Not measured, and chosen here: "+strings.Join(t.Chosen, ", ")+".", "Measure a tooth that is left, or one of a like wheel of the maker.", chosen)
	}
	b.Say(meas.Note, "tips", "Cut the tips too long rather than too short, and bring them to length by turning the wheel true on its own arbor.", "", practice)
}

// cuts tells whether the teeth can be as stated; else it says what clashes.
func (b *bench) cuts(t Tooth, pitch float64) bool {
	say := func(field, text, next string) bool {
		b.Say(meas.Clash, "tooth-"+field, text, next, exact, field)
		return false
	}
	switch {
	case float64(t.Depth) >= 0.9*t.Teeth.Tip/1e3:
		return say("depth", fmt.Sprintf("A depth of %s leaves no wheel of a radius of %s.", unit.Text(t.Depth, "mm", 2), unit.Number(t.Teeth.Tip, 2)+"\u00a0mm"), "Enter the depth of a space, from the tips to the root.")
	case float64(t.Land) >= 0.5*pitch:
		return say("land", fmt.Sprintf("A land of %s is half or more of the pitch of %s.", unit.Text(t.Land, "mm", 2), unit.Text(unit.Length(pitch), "mm", 2)), "The land is the flat of the tip alone.")
	case !(t.Bottom > 0):
		return say("base", fmt.Sprintf("Teeth %s thick at the root leave no space there: the pitch at the root is %s.", unit.Text(t.Base, "mm", 2), unit.Text(t.Base+t.Bottom, "mm", 2)), "Enter a smaller thickness or a smaller depth.")
	}
	if b.q.Bore.Set && b.q.Bore.Value >= 2*t.Root {
		return say("bore", "The hole of "+b.q.Bore.Written("mm")+" is as large as the root circle.", "Enter the diameter of the hole in the middle.")
	}
	if t.Teeth.Thin() {
		return say("base", "With this undercut, depth and thickness the back of a tooth runs through its face or into the root circle.", "Enter a smaller undercut or depth, a greater thickness at the root, or a greater radius of the back.")
	}
	if !(t.Cutter > 0) {
		return say("base", "The spaces would be wider at the bottom than at the tips; no cutter makes that.", "Enter a greater thickness at the root, or a smaller undercut.")
	}
	return true
}
