package pendulum

import (
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Material is what a rod or a bob is made of. The spans hold what the sources
// print; the single values are the ones used. An Expansion of 0 is not known.
type Material struct {
	Name          string
	Expansion     unit.Expansion // along the grain for wood
	ExpansionSpan [2]unit.Expansion
	Density       unit.Density
	DensitySpan   [2]unit.Density
	Ref           cite.Ref // of the expansion
	DensityOf     cite.Ref
	Others        string // what other sources print of the expansion
}

// doubt is the standard uncertainty of an expansion known only to lie in its
// span (rectangular, JCGM 100:2008 4.3.7); 0 where there is one source.
func (m Material) doubt() float64 {
	return float64(m.ExpansionSpan[1]-m.ExpansionSpan[0]) / math.Sqrt(12)
}

// densityDoubt is the same for the density.
func (m Material) densityDoubt() float64 {
	return float64(m.DensitySpan[1]-m.DensitySpan[0]) / math.Sqrt(12)
}

// perThousandF is an expansion printed for 1000 °F.
func perThousandF(x float64) unit.Expansion { return unit.Expansion(x * 9 / 5 / 1000) }

// Materials lists rods and bobs. The expansions are those Beckett prints for
// 1000 °F, except invar and the other woods. Densities are of Gere's table or
// SImetric's list where they have one, else Beckett's pounds to the cubic
// inch; the span takes in what all of them and Goodrich's cylinders print.
func Materials() []Material {
	one := func(x float64) [2]unit.Expansion { return [2]unit.Expansion{perThousandF(x), perThousandF(x)} }
	wood := [2]unit.Expansion{3.1e-6, 4.5e-6}
	const grain = "3.1 to 4.5 µm/m/K along the grain of any wood (Wood Handbook, from memory)"
	return []Material{
		{"steel", perThousandF(.0064), [2]unit.Expansion{10.34e-6, 11.62e-6}, 7850, [2]unit.Density{7750, 7850}, p53, gere, "10.34 to 11.62 µm/m/K (rods measured by Riefler, Goodrich ch. V)"},
		{"iron", perThousandF(.0070), one(.0070), poundInch(.28), [2]unit.Density{}, p53, p53, ""},
		{"cast iron", perThousandF(.0066), one(.0066), 7200, [2]unit.Density{6800, 7800}, p53, gere, ""},
		{"brass", perThousandF(.0100), one(.0100), 8500, [2]unit.Density{8300, 8730}, p53, gere, ""},
		{"copper", perThousandF(.0106), one(.0106), poundInch(.32), [2]unit.Density{}, p53, p53, ""},
		{"silver", perThousandF(.0115), one(.0115), poundInch(.38), [2]unit.Density{}, p53, p53, ""},
		{"nickel silver", 0, [2]unit.Expansion{}, 8650, [2]unit.Density{8400, 8900}, simetric, simetric, ""},
		{"zinc", perThousandF(.0160), [2]unit.Expansion{perThousandF(.0160), perThousandF(.0170)}, 7135, [2]unit.Density{7000, 7135}, p53, simetric, "0.017 for 1000 °F, 30.6 µm/m/K, in other tables (Beckett, same page)"},
		{"lead", perThousandF(.0165), one(.0165), 11340, [2]unit.Density{11340, 11349}, p53, simetric, ""},
		{"mercury", 0, [2]unit.Expansion{}, 13593, [2]unit.Density{13563, 13595}, simetric, simetric, ""},
		{"glass", perThousandF(.0048), one(.0048), poundInch(.1166), [2]unit.Density{}, p53, p53, ""},
		{"deal", perThousandF(.0023), wood, 500, [2]unit.Density{400, 600}, p53, memory, grain},
		{"oak", 3.8e-6, wood, 680, [2]unit.Density{640, 720}, memory, gere, ""},
		{"pine", 3.8e-6, wood, 600, [2]unit.Density{560, 640}, memory, gere, ""},
		{"invar", 1e-6, [2]unit.Expansion{0.5e-6, 1.5e-6}, 8100, [2]unit.Density{8050, 8150}, memory, memory, ""},
	}
}

// The places the table is from.
var (
	p53      = cite.Ref{Source: "beckett", Place: "p. 53"}
	gere     = cite.Ref{Source: "gere", Place: "table of densities"}
	simetric = cite.Ref{Source: "simetric"}
	memory   = cite.Ref{Grade: cite.Memory}
)

// poundInch is a density printed in pounds to the cubic inch.
func poundInch(x float64) unit.Density { return unit.From[unit.Density](x, "lb/in³") }

// FindMaterial looks a material up by name; plain wood counts as deal.
func FindMaterial(name string) (Material, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	if name == "wood" {
		name = "deal"
	}
	for _, m := range Materials() {
		if m.Name == name {
			return m, true
		}
	}
	return Material{}, false
}
