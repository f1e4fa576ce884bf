package drive

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Rope is a construction of wire rope: Fmin = d² R K.
type Rope struct {
	Name  string
	K     float64
	Wires float64 // outer wires side by side across the rope, by geometry; 0 unknown
}

// Ropes is the table of constructions. FC has a fibre core, IWRC a rope core,
// WSC a strand core; M marks strands laid in several operations.
func Ropes() cite.Table[Rope] {
	return cite.Table[Rope]{
		Name: "Wire-rope factors K",
		Ref:  cite.Ref{Source: "vornbaeumen", Place: "table of K", Grade: cite.Printed},
		Rows: []Rope{
			{"6x7 FC", .332, 9}, {"6x7 IWRC", .359, 9}, {"6x7 WSC", .388, 9},
			{"6x19 FC", .330, 15}, {"6x19 IWRC", .356, 15},
			{"6x19M FC", .307, 15}, {"6x19M IWRC", .332, 15}, {"6x19M WSC", .362, 15},
			{"6x36 FC", .330, 21}, {"6x36 IWRC", .356, 21},
			{"6x37M FC", .295, 21}, {"6x37M IWRC", .319, 21}, {"6x37M WSC", .346, 21},
			{"8x36 FC", .293, 0}, {"8x36 IWRC", .356, 0},
		},
	}
}

// ropeClass is the class of the table with which a construction is reckoned.
func ropeClass(word string) string {
	switch word {
	case "6X19S", "6X19W", "6X21F", "6X25F", "6X26WS":
		return "6X19"
	case "6X31WS", "6X36WS", "6X41WS", "6X49SWS":
		return "6X36"
	case "8X36WS":
		return "8X36"
	}
	return word
}

// classRef is where the classes are from.
var classRef = cite.Ref{Grade: cite.Memory, Note: "constructions of the classes in EN 12385-4"}

// FindRope looks a construction up: "7x7" is 6x7 with a strand core, "7x19"
// 6x19M with one; a bare "6x19" is taken with a fibre core, the weaker. A
// construction like 6x25F is reckoned with its class.
func FindRope(name string) (Rope, bool) {
	key := strings.ToUpper(strings.NewReplacer("×", "x", "-", " ", "+", " ").Replace(name))
	words := strings.Fields(key)
	if len(words) == 0 {
		return Rope{}, false
	}
	words[0] = ropeClass(words[0])
	key = strings.Join(words, " ")
	switch key {
	case "7X7", "7X7 WSC":
		key = "6X7 WSC"
	case "7X19", "7X19 WSC":
		key = "6X19M WSC"
	}
	for _, k := range []string{key, key + " FC"} {
		for _, r := range Ropes().Rows {
			if strings.ToUpper(r.Name) == k {
				return r, true
			}
		}
	}
	return Rope{}, false
}

// Wire is a range of drawn brass wire with its least tensile strength.
type Wire struct {
	Temper    string
	Over, To  unit.Length
	Rm, RmMax unit.Pressure // RmMax 0 where not limited
}

// BrassWires is CuZn37 round wire by EN 12166.
func BrassWires() cite.Table[Wire] {
	w := func(temper string, over, to, rm, most float64) Wire {
		return Wire{temper, unit.Millimetres(over), unit.Millimetres(to), unit.Pressure(rm * 1e6), unit.Pressure(most * 1e6)}
	}
	return cite.Table[Wire]{
		Name: "Brass wire CuZn37",
		Ref:  cite.Ref{Source: "en12166", Place: "CW508L, round wire", Grade: cite.Printed},
		Rows: []Wire{
			w("1/8 hard", .5, 1.5, 420, 510), w("1/8 hard", 1.5, 4, 380, 460), w("1/8 hard", 4, 20, 370, 470),
			w("1/4 hard", .5, 1.5, 510, 610), w("1/4 hard", 1.5, 4, 470, 570), w("1/4 hard", 4, 8, 450, 560),
			w("1/2 hard", .5, 1.5, 610, 750), w("1/2 hard", 1.5, 4, 560, 700), w("1/2 hard", 4, 8, 550, 680),
			w("hard spring", .1, .5, 800, 0), w("hard spring", .5, 1.5, 750, 0), w("hard spring", 1.5, 4, 700, 0),
		},
	}
}

// FindWire is the row for a temper ("" is 1/8 hard, the weakest) and size.
func FindWire(temper string, d unit.Length) (Wire, bool) {
	if temper == "" {
		temper = "1/8 hard"
	}
	for _, w := range BrassWires().Rows {
		if w.Temper == strings.ToLower(temper) && d > w.Over && d <= w.To*(1+1e-12) {
			return w, true
		}
	}
	return Wire{}, false
}

// Gut: the breaking index is the product of pitch and length at which a string
// breaks, so its strength is ρ(2·index)².
var (
	gutIndex     = cite.Value[float64]{V: 260, Ref: cite.Ref{Source: "aquila", Place: "breaking index 240–280 Hz m", Grade: cite.Printed}}
	gutDensity   = cite.Value[float64]{V: 1300, Ref: cite.Ref{Grade: cite.Memory, Note: "density of gut"}}
	cordStrength = cite.Value[float64]{V: 200e6, Ref: cite.Ref{Grade: cite.Memory, Note: "least strength of accessory cord, 200 N for each mm² of d²; the maker's figure counts"}}
)

const gutIndexHalfRange = 20

// layStrength chooses the factors of the line's material.
func (b *bench) layStrength() {
	n := &b.N
	n.wireRm, n.gutIndex, n.wires = math.NaN(), math.NaN(), math.NaN()
	meas.Take(&b.Bench, "rope factor", b.q.RopeFactor, func(n *numbers) *float64 { return &n.ropeK })
	meas.Take(&b.Bench, "strength of the line", b.q.LineStrength, func(n *numbers) *float64 { return &n.tensile })
	switch b.q.LineMaterial {
	case SteelLine:
		if r, ok := FindRope(b.q.LineConstruction); ok {
			n.ropeK, n.wires = or(n.ropeK, r.K), r.Wires
			if r.Wires == 0 {
				n.wires = math.NaN()
			}
		}
		n.grade = or(n.grade, float64(usualGrade.V))
	case BrassLine:
		n.wires = 1
		if w, ok := FindWire(b.q.BrassTemper, unit.Length(n.line)); ok {
			n.wireRm = float64(w.Rm)
		}
	case GutLine:
		meas.Take(&b.Bench, "breaking index of gut", meas.OfU(unit.Ratio(gutIndex.V), unit.Ratio(gutIndexHalfRange/math.Sqrt(3))), func(n *numbers) *float64 { return &n.gutIndex })
		n.gutDensity = gutDensity.V
	}
	if b.q.LineMaterial != "" || b.q.BreakingLoad.Set || b.q.LineStrength.Set {
		n.factor = or(n.factor, b.usualFactor().V)
	}
}

// usualFactor is the factor for the material.
func (b *bench) usualFactor() cite.Value[float64] {
	switch b.q.LineMaterial {
	case GutLine, Synthetic:
		return cordFactor
	}
	return ropeFactor
}

// strength is the tensile strength of the line: stated, else of brass wire or
// gut.
func (n numbers) strength() float64 {
	return or(n.tensile, or(n.wireRm, n.gutDensity*math.Pow(2*n.gutIndex, 2)))
}

// breaks is the breaking load of new line.
func (b *bench) breaks(n numbers) float64 {
	switch {
	case known(n.breaking):
		return n.breaking
	case known(n.tensile), b.q.LineMaterial == BrassLine, b.q.LineMaterial == GutLine:
		return n.strength() * math.Pi / 4 * n.line * n.line
	case b.q.LineMaterial == SteelLine:
		return n.line * n.line * n.grade * n.ropeK
	case b.q.LineMaterial == Synthetic:
		return n.line * n.line * cordStrength.V
	}
	return math.NaN()
}

// solveLine computes the strength of the line and its place on the barrel.
func (b *bench) solveLine(a *Answer) {
	l := &a.Line
	l.Tension = meas.Find[unit.Force](&b.Bench, numbers.tension)
	l.BreakingLoad = meas.Find[unit.Force](&b.Bench, b.breaks)
	l.Strength = meas.Find[unit.Pressure](&b.Bench, numbers.strength)
	l.FactorAsked = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.factor })
	l.WorkingLoad = meas.Find[unit.Force](&b.Bench, func(n numbers) float64 { return b.breaks(n) / n.factor })
	l.Factor = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return b.breaks(n) / n.tension() })
	l.BendRatio = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.barrel / n.line })
	l.WireBendRatio = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.barrel / n.line * n.wires })
	if !b.N.endless {
		l.OnBarrel = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.wound(n.used() + n.wraps) })
		l.Length = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 {
			return n.wound(n.used()+n.wraps) + n.falls*(n.bottomWound()-n.wLength) + n.above
		})
		l.TurnsThatFit = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.layers*n.barrelLength/n.pitch() - n.wraps })
	}
	b.lineSteps(*l)
	b.lineFindings(*l)
	b.fitFindings(*l)
}

// strengthRef is where the breaking load is from.
func (b *bench) strengthRef() cite.Ref {
	switch {
	case b.q.BreakingLoad.Set:
		return cite.Ref{Grade: cite.Measured, Note: "stated breaking load"}
	case b.q.LineStrength.Set:
		return cite.Ref{Grade: cite.Measured, Note: "stated strength"}
	case b.q.LineMaterial == SteelLine && b.q.RopeFactor.Set:
		return cite.Ref{Grade: cite.Measured, Note: "stated rope factor"}
	case b.q.LineMaterial == SteelLine:
		ref := Ropes().Ref
		if b.N.line < leastTabulated {
			ref.Note = "the tables begin at 6 mm; extended to this size by us"
		}
		return ref
	case b.q.LineMaterial == BrassLine:
		return BrassWires().Ref
	case b.q.LineMaterial == GutLine:
		return gutIndex.Ref
	}
	return cordStrength.Ref
}

// leastTabulated is the smallest rope in the printed tables, in metres.
const leastTabulated = 0.006

func (b *bench) lineSteps(l Line) {
	n := b.N
	d := mm(n.line)
	if l.BreakingLoad.Set && !b.q.BreakingLoad.Set {
		name, result := "Breaking load of the line", l.BreakingLoad.Text("N", 0)
		switch {
		case known(n.tensile):
			b.Step(name, "F = R · π/4 · d²", fmt.Sprintf("%s · π/4 · (%s)²", unit.Text(unit.Pressure(n.tensile), "MPa", 0), d), result, b.strengthRef())
		case b.q.LineMaterial == SteelLine:
			b.Step(name, "F = d² R K", fmt.Sprintf("(%s)² · %s · %.3f", d, unit.Text(unit.Pressure(n.grade), "MPa", 0), n.ropeK), result, b.strengthRef())
		case b.q.LineMaterial == BrassLine:
			b.Step(name, "F = Rm · π/4 · d²", fmt.Sprintf("%s · π/4 · (%s)²", unit.Text(unit.Pressure(n.wireRm), "MPa", 0), d), result, b.strengthRef())
		case b.q.LineMaterial == GutLine:
			b.Step(name, "F = ρ (2 · index)² · π/4 · d²", fmt.Sprintf("%.0f kg/m³ · (2 · %.0f Hz m)² · π/4 · (%s)²", n.gutDensity, n.gutIndex, d), result, b.strengthRef())
		case b.q.LineMaterial == Synthetic:
			b.Step(name, "F = 200 N/mm² · d²", fmt.Sprintf("200 · (%s)²", d), result, b.strengthRef())
		}
	}
	if l.Tension.Set {
		b.Step("Pull in each line", "T = m g / falls", fmt.Sprintf("%s · %s / %.0f", unit.Text(unit.Mass(n.weight()), "kg", 3), unit.Text(unit.Acceleration(n.gravity), "m/s²", 5), n.falls), l.Tension.Text("N", 1), cite.Ref{Grade: cite.Exact})
	}
	if l.Factor.Set {
		b.Step("Factor of the line", "breaking load / pull", unit.Text(l.BreakingLoad.Value, "N", 0)+" / "+unit.Text(l.Tension.Value, "N", 1), l.Factor.Text("", 1), b.usualFactor().Ref)
	}
	if l.OnBarrel.Set {
		b.Step("Line on the barrel, wound", "turns and wraps, layer by layer, · π (D + d)", fmt.Sprintf("(%s + %s) · π · %s", num(n.used(), 2), num(n.wraps, 2), mm(n.centre())), l.OnBarrel.Text("m", 3), usualWraps.Ref)
	}
	if l.TurnsThatFit.Set {
		b.Step("Turns that fit", "layers · length / pitch − wraps", fmt.Sprintf("%.0f · %s / %s − %s", n.layers, mm(n.barrelLength), mm(n.pitch()), num(n.wraps, 2)), l.TurnsThatFit.Text("", 1), cite.Ref{Grade: cite.Exact})
	}
}

// num writes a bare number.
func num(x float64, decimals int) string { return unit.Number(x, decimals) }
