package drive

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Sources lists every number and table of the package.
func Sources() []cite.Entry {
	exact := cite.Ref{Grade: cite.Exact}
	e := []cite.Entry{
		{Name: "fall in a turn", Value: "π (D + d) / falls", Ref: exact},
		{Name: "standard gravity", Value: "9.80665 m/s²", Ref: cite.Ref{Source: "si", Place: "conventional value", Grade: cite.Exact}},
		{Name: "turns left on the barrel", Value: num(usualWraps.V, 1), Ref: usualWraps.Ref},
		{Name: "running time, weight on a barrel", Value: Span(usualRun.V), Ref: usualRun.Ref},
		{Name: "running time, endless rope", Value: Span(usualEndless.V), Ref: usualEndless.Ref},
		{Name: "sympathetic swing", Value: "described", Ref: swingRef},
		{Name: "zone of sympathetic swing", Value: "± " + unit.Text(unit.Ratio(usualBand.V), "%", 0), Ref: usualBand.Ref},
		{Name: "hour of winding where none is stated", Value: "noon", Ref: cite.Ref{Grade: cite.CommonPractice}},
		{Name: "factor asked of wire line", Value: num(ropeFactor.V, 0), Ref: ropeFactor.Ref},
		{Name: "factor asked of gut and cord", Value: num(cordFactor.V, 0), Ref: cordFactor.Ref},
		{Name: "least barrel for wire", Value: num(leastBend.V, 0) + " times the wire", Ref: leastBend.Ref},
		{Name: "grade of wire rope where none is stated", Value: unit.Text(usualGrade.V, "MPa", 0), Ref: usualGrade.Ref},
		{Name: "wires side by side across a rope", Value: "9, 15 or 21", Ref: cite.Ref{Grade: cite.Computed, Note: "by the geometry of three strands across"}},
		{Name: "class of a rope construction", Value: "6x25F with 6x19, 6x36WS with 6x36 …", Ref: classRef},
		{Name: "breaking index of gut", Value: "260 (240 to 280) Hz m", Ref: gutIndex.Ref},
		{Name: "density of gut", Value: "1300 kg/m³", Ref: gutDensity.Ref},
		{Name: "strength of synthetic cord", Value: "200 N/mm² · d²", Ref: cordStrength.Ref},
		{Name: "steel line marks a brass barrel", Value: "", Ref: cite.Ref{Grade: cite.CommonPractice}},
		{Name: "modulus of spring steel", Value: unit.Text(usualModulus.V, "GPa", 0), Ref: usualModulus.Ref},
		{Name: "turns and length of a mainspring", Value: "half of the space", Ref: halfFilled},
		{Name: "torque and stress of a mainspring", Value: "M = E b t³ θ/(12 L)", Ref: bentStrip},
		{Name: "radii of a fusee", Value: "r M the same", Ref: fuseeRef},
		{Name: "printed weights of cylinders", Value: fmt.Sprintf("%d rows", len(records(cylindersCSV))), Ref: cite.Ref{Source: "goodrich", Place: "ch. XV, table of weights"}},
		{Name: "printed strengths of wire rope", Value: fmt.Sprintf("%d rows", len(records(ropesCSV))), Ref: cite.Ref{Source: "api9a", Place: "table C.1"}},
	}
	for _, m := range Materials() {
		ref := m.Ref
		if m.Others != "" {
			ref.Note = "others print " + m.Others
		}
		e = append(e, cite.Entry{Name: "density of " + m.Name, Value: unit.Text(m.Value, "kg/m³", 0), Ref: ref})
	}
	for _, r := range Ropes().Rows {
		e = append(e, cite.Entry{Name: "factor K of " + r.Name, Value: num(r.K, 3), Ref: Ropes().Ref})
	}
	for _, w := range BrassWires().Rows {
		e = append(e, cite.Entry{Name: fmt.Sprintf("brass wire, %s, %s to %s", w.Temper, unit.Text(w.Over, "mm", 1), unit.Text(w.To, "mm", 1)), Value: unit.Text(w.Rm, "MPa", 0), Ref: BrassWires().Ref})
	}
	return e
}
