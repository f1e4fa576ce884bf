package pendulum

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Sources lists every constant and table that the chapter leans on.
func Sources() []cite.Entry {
	var out []cite.Entry
	for _, e := range []ellipsoid{wgs84, grs80} {
		n := e.normal()
		out = append(out,
			cite.Entry{Name: "ellipsoid " + e.name + ", a, 1/f, GM, ω", Value: fmt.Sprintf("%.0f m, %.9f, %.9g m³/s², %.7g rad/s", e.a, 1/e.f, e.gm, e.spin), Ref: e.ref},
			cite.Entry{Name: "gravity at equator and pole, " + e.name, Value: fmt.Sprintf("%.10f, %.10f m/s²", n.equator, n.pole), Ref: cite.Ref{Source: e.ref.Source, Grade: cite.Computed, Note: "from the four constants"}})
	}
	out = append(out,
		cite.Entry{Name: "doubt of gravity from a place", Value: "1 in 10 000", Ref: placeDoubt.Ref},
		cite.Entry{Name: "doubt of gravity from no place", Value: "0.15 %", Ref: nowhereDoubt.Ref},
		cite.Entry{Name: "most that the ground is off normal gravity", Value: "5 in 10 000", Ref: groundOff.Ref},
		cite.Entry{Name: "conventional gravity", Value: "9.80665 m/s²", Ref: cite.Ref{Source: "si", Grade: cite.Exact}},
		cite.Entry{Name: "series of the circular error", Value: "six terms", Ref: cite.Ref{Source: "gmu", Grade: cite.Exact, Note: "confirmed by an independent expansion"}},
		cite.Entry{Name: "density of moist air", Value: "CIPM-2007", Ref: cipm},
		cite.Entry{Name: "law of the pendulum, L = g (t/π)²", Value: "closed form", Ref: pendulumRule},
		cite.Entry{Name: "compound pendulum, l = k²/h", Value: "closed form", Ref: compoundRule},
		cite.Entry{Name: "weight on a tray, 43 200 (m/M)(d/L − d²/L²)", Value: "closed form", Ref: cite.Ref{Source: "beckett", Place: "p. 51", Note: "his figures for a third of the length are wrong"}},
		cite.Entry{Name: "effect of pressure, measured", Value: "0.2 to 0.4 s/d an inch of mercury", Ref: cite.Ref{Source: "matthys", Place: "ch. 30"}},
		cite.Entry{Name: "standard threads", Value: fmt.Sprintf("%d pitches", len(Threads())), Ref: cite.Ref{Place: "BS 93:1951, BS 84:2007, ISO 262, ASME B18.6.3"}},
	)
	for _, m := range Materials() {
		out = append(out,
			cite.Entry{Name: "density of " + m.Name, Value: unit.Text(m.Density, "kg/m³", 0) + span(m.DensitySpan, "kg/m³", 0), Ref: m.DensityOf})
		if m.Expansion > 0 {
			out = append(out, cite.Entry{Name: "expansion of " + m.Name, Value: unit.Text(m.Expansion, "µm/m/K", 2) + span(m.ExpansionSpan, "µm/m/K", 2), Ref: m.Ref})
		}
	}
	return out
}

// span writes what the sources span, where they differ.
func span[Q unit.Quantity](s [2]Q, symbol string, decimals int) string {
	if s[0] == s[1] {
		return ""
	}
	return " (" + unit.Number(unit.In(s[0], symbol), decimals) + " to " + unit.Number(unit.In(s[1], symbol), decimals) + ")"
}
