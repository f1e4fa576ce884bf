package drive

import (
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Material is what a weight is made of. Low and High span what the sources
// print; Value is the one used.
type Material struct {
	Name      string
	Value     unit.Density
	Low, High unit.Density
	Ref       cite.Ref
	Others    string // what the other sources print
}

// Doubt is the standard uncertainty of a density known only to lie between
// Low and High (rectangular, JCGM 100:2008 4.3.7).
func (m Material) Doubt() unit.Density {
	return unit.Density(float64(m.High-m.Low) / math.Sqrt(12))
}

// perCubicInch is a density printed in pounds to the cubic inch.
func perCubicInch(x float64) unit.Density { return unit.From[unit.Density](x, "lb/in³") }

// Materials lists the metals of weights. For lead, zinc and iron the value is
// the one of Goodrich's table of clock weights, made from castings as they
// are; the others print metal without faults.
func Materials() []Material {
	gere := cite.Ref{Source: "gere", Place: "table of densities", Grade: cite.Printed}
	simetric := cite.Ref{Source: "simetric", Grade: cite.Printed}
	goodrich := cite.Ref{Source: "goodrich", Place: "ch. XV, table of weights", Grade: cite.Printed}
	lead, zinc, iron := perCubicInch(.4098), perCubicInch(.2529), perCubicInch(.2599)
	return []Material{
		{"lead", lead, 11340, lead, goodrich, "11 340 (SImetric)"},
		{"zinc", zinc, zinc, 7135, goodrich, "7135 (SImetric)"},
		{"iron", iron, 6800, 7800, goodrich, "7000–7400 (Gere), 6800–7800 (SImetric)"},
		{"cast iron", 7200, 6800, 7800, gere, "7000–7400 (Gere), 6800–7800 (SImetric), 7194 (Goodrich)"},
		{"steel", 7850, 7850, 7850, gere, ""},
		{"brass", 8500, 8400, 8600, gere, "8400–8730 (SImetric)"},
		{"cast brass", 8550, 8400, 8700, simetric, "8400–8600 (Gere)"},
		{"rolled brass", 8580, 8430, 8730, simetric, "8400–8600 (Gere)"},
		{"mercury", 13593, 13593, 13595.1, simetric, "13 595.1 at 0 °C (GNU units)"},
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

// The values that stand where nothing was stated.
var (
	usualWraps   = cite.Value[float64]{V: 1.5, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "one and a half to two turns stay on the barrel"}}
	usualBand    = cite.Value[float64]{V: 0.10, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "the sources describe the swing without figures"}}
	usualRun     = cite.Value[unit.Duration]{V: 8 * unit.Day, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "wound weekly with a day in hand"}}
	usualEndless = cite.Value[unit.Duration]{V: 30 * 3600, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "wound daily with a quarter in hand"}}
	usualModulus = cite.Value[unit.Pressure]{V: 206e9, Ref: cite.Ref{Source: "tokai", Place: "worked input, 2.06e5 N/mm²", Grade: cite.Printed}}
	usualGrade   = cite.Value[unit.Pressure]{V: 1570e6, Ref: cite.Ref{Source: "prolift", Place: "grades 1570, 1770, 1960, 2160", Grade: cite.Printed, Note: "the lowest, where none is stated"}}
	ropeFactor   = cite.Value[float64]{V: 5, Ref: machinery}
	cordFactor   = cite.Value[float64]{V: 7, Ref: machinery}
	leastBend    = cite.Value[float64]{V: 40, Ref: cite.Ref{Source: "goodrich", Place: "on driving weights and wire line", Grade: cite.Printed}}
)

// machinery is the place the factors of safety are from; the text itself has
// not been seen.
var machinery = cite.Ref{Source: "machinery", Place: "Annex I, 4.1.2.5", Grade: cite.Memory, Note: "5 for ropes, 7 for textile; mine rules ask 6 for steel and 10 for fibre"}
