package drive

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// lineFindings says what the line's strength and material ask for.
func (b *bench) lineFindings(l Line) {
	q := b.q
	tabulated := !q.BreakingLoad.Set && !q.LineStrength.Set && !q.RopeFactor.Set
	if l.Factor.Set && l.Factor.Value < l.FactorAsked.Value {
		b.Say(meas.Danger, "line-weak",
			fmt.Sprintf("The line breaks at %s and carries %s: a factor of %s, less than the %s asked.",
				unit.Text(l.BreakingLoad.Value, "N", 0), unit.Text(l.Tension.Value, "N", 1), num(float64(l.Factor.Value), 1), num(float64(l.FactorAsked.Value), 1)),
			"Take a thicker or stronger line, or hang the weight on a pulley. Local law and licensed practice decide.", b.usualFactor().Ref, "line-diameter", "line-material")
	}
	switch {
	case q.LineMaterial == SteelLine && tabulated && q.LineConstruction == "":
		b.Say(meas.Doubt, "rope-unknown", "The strength of a steel line needs its construction.", "Count strands and wires (7x7, 7x19) or state the breaking load.", Ropes().Ref, "line-construction")
	case q.LineMaterial == SteelLine && tabulated && b.N.line < leastTabulated:
		b.Say(meas.Note, "rope-extended", "The rope tables begin at 6 mm; the strength of this line is their rule carried on to its size by us.", "Use the maker's breaking load where there is one.", Ropes().Ref, "line-diameter")
	case q.LineMaterial == BrassLine && tabulated && known(b.N.line) && !known(b.N.wireRm):
		b.Say(meas.Doubt, "wire-unknown", "The table of brass wire has no row for this size and temper.", "State another temper or the breaking load.", BrassWires().Ref, "brass-temper")
	case q.LineMaterial == Synthetic && tabulated:
		b.Say(meas.Note, "cord-from-memory", "The strength of synthetic cord here is from memory.", "State the maker's breaking load.", cordStrength.Ref, "breaking-load")
	}
	if q.LineMaterial == SteelLine && (q.BarrelMaterial == "brass" || q.BarrelMaterial == "" && q.BarrelDiameter.Set) {
		b.Say(meas.Note, "steel-on-brass", "A steel line marks and wears a brass barrel.", "Use gut or synthetic cord on an old brass barrel; brass wire on one that was made for it.",
			cite.Ref{Grade: cite.CommonPractice}, "line-material")
	}
	if l.WireBendRatio.Set && l.WireBendRatio.Value < unit.Ratio(leastBend.V) {
		b.Say(meas.Note, "bend", fmt.Sprintf("The barrel is %s times as thick as a wire of the line; wire asks %.0f times.", num(float64(l.WireBendRatio.Value), 0), leastBend.V),
			"Take a line of finer wires, or gut.", leastBend.Ref, "line-diameter")
	}
	if !known(b.N.line) && known(b.N.barrel) && !b.N.endless {
		b.Say(meas.Doubt, "line-unmeasured", "The line's diameter was not stated, so the fall is that of the bare barrel.", "Measure the line: it adds its own diameter to the barrel's.", cite.Ref{Grade: cite.Exact}, "line-diameter")
	}
}

// fitFindings says whether the line has room on the barrel.
func (b *bench) fitFindings(l Line) {
	used := b.N.used()
	if !l.TurnsThatFit.Set || !known(used) {
		return
	}
	fit := float64(l.TurnsThatFit.Value)
	if fit < used {
		next := "Use a thinner line, or fewer turns."
		if b.N.layers < 2 && !b.N.grooved {
			next = "Use a thinner line or fewer turns, or allow a second layer."
		}
		b.Say(meas.Clash, "barrel-full",
			fmt.Sprintf("The barrel has room for %s turns of this line besides the %s left on, but %s are needed.", num(fit, 1), num(b.N.wraps, 1), num(used, 1)),
			next, usualWraps.Ref, "barrel-length", "line-diameter", "turns")
		return
	}
	if b.N.stacked() {
		b.Say(meas.Note, "second-layer", "The line lies on itself when wound, so the weight falls faster in the first turns.", "", cite.Ref{Grade: cite.Exact}, "layers")
	}
	if b.N.grooved && !b.q.GroovePitch.Set {
		b.Say(meas.Doubt, "groove-pitch", "The pitch of the grooves was not stated; turns are counted as if the lines touched.", "Measure over ten grooves.", cite.Ref{Grade: cite.Exact}, "groove-pitch")
	}
}
