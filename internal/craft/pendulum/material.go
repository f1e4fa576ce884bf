package pendulum

import (
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Material is what a rod or a bob is made of. Low and High span what the
// sources print of its expansion; Expansion is the one used.
type Material struct {
	Name      string
	Expansion unit.Expansion // along the grain for wood
	Low, High unit.Expansion
	Density   unit.Density
	Ref       cite.Ref // of the expansion
	DensityOf cite.Ref
	Others    string // what other sources print
}

// doubt is the standard uncertainty of an expansion known only to lie between
// Low and High (rectangular, JCGM 100:2008 4.3.7).
func (m Material) doubt() float64 { return float64(m.High-m.Low) / math.Sqrt(12) }

// perThousandF is an expansion printed for 1000 °F.
func perThousandF(x float64) unit.Expansion { return unit.Expansion(x * 9 / 5 / 1000) }

// Materials lists rods and bobs. The expansions are those Beckett prints for
// 1000 °F, except invar.
func Materials() []Material {
	beckett := cite.Ref{Source: "beckett", Place: "p. 53"}
	gere := cite.Ref{Source: "gere", Place: "table of densities"}
	simetric := cite.Ref{Source: "simetric"}
	memory := cite.Ref{Grade: cite.Memory}
	pound := func(x float64) unit.Density { return unit.From[unit.Density](x, "lb/in³") }
	return []Material{
		{"steel", perThousandF(.0064), 10.34e-6, 11.62e-6, 7850, beckett, gere, "10.34 to 11.62 µm/m/K (rods measured by Riefler, Goodrich ch. V)"},
		{"iron", perThousandF(.0070), perThousandF(.0070), perThousandF(.0070), pound(.28), beckett, beckett, ""},
		{"cast iron", perThousandF(.0066), perThousandF(.0066), perThousandF(.0066), 7200, beckett, gere, ""},
		{"brass", perThousandF(.0100), perThousandF(.0100), perThousandF(.0100), 8500, beckett, gere, "18 µm/m/K (Goodrich ch. V)"},
		{"copper", perThousandF(.0106), perThousandF(.0106), perThousandF(.0106), pound(.32), beckett, beckett, ""},
		{"silver", perThousandF(.0115), perThousandF(.0115), perThousandF(.0115), pound(.38), beckett, beckett, ""},
		{"zinc", perThousandF(.0160), perThousandF(.0160), perThousandF(.0170), 7135, beckett, simetric, "0.017 for 1000 °F in other tables (Beckett, same page)"},
		{"lead", perThousandF(.0165), perThousandF(.0165), perThousandF(.0165), 11340, beckett, simetric, ""},
		{"deal", perThousandF(.0023), 3.1e-6, 4.5e-6, 500, beckett, memory, "3.1 to 4.5 µm/m/K along the grain of any wood (Wood Handbook, from memory)"},
		{"glass", perThousandF(.0048), perThousandF(.0048), perThousandF(.0048), pound(.1166), beckett, beckett, ""},
		{"invar", 1e-6, 0.5e-6, 1.5e-6, 8100, memory, memory, ""},
	}
}

// FindMaterial looks a material up by name.
func FindMaterial(name string) (Material, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	for _, m := range Materials() {
		if m.Name == name {
			return m, true
		}
	}
	return Material{}, false
}
