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
		cite.Entry{Name: "conventional gravity", Value: "9.80665 m/s²", Ref: cite.Ref{Source: "si", Grade: cite.Exact}},
		cite.Entry{Name: "series of the circular error", Value: "six terms", Ref: cite.Ref{Source: "gmu", Grade: cite.Exact, Note: "confirmed by an independent expansion"}},
		cite.Entry{Name: "density of moist air", Value: "CIPM-2007", Ref: cipm},
		cite.Entry{Name: "standard threads", Value: fmt.Sprintf("%d pitches", len(Threads())), Ref: cite.Ref{Place: "BS 93:1951, BS 84:2007, ISO 262, ASME B18.6.3"}},
	)
	for _, m := range Materials() {
		out = append(out,
			cite.Entry{Name: "expansion of " + m.Name, Value: unit.Text(m.Expansion, "µm/m/K", 2), Ref: m.Ref},
			cite.Entry{Name: "density of " + m.Name, Value: unit.Text(m.Density, "kg/m³", 0), Ref: m.DensityOf})
	}
	return out
}
