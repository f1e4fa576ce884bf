package drive

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// section is the area of metal in the weight.
func (n numbers) section() float64 {
	hole := or(n.wBore, 0)
	return math.Pi / 4 * (n.wDia*n.wDia - hole*hole)
}

// cylinder is the mass by dimensions.
func (n numbers) cylinder() float64 { return n.density * n.section() * n.wHeight }

// weight is the mass that hangs: the stated one, else by dimensions.
func (n numbers) weight() float64 { return or(n.mass, n.cylinder()) }

// tension is the pull in each line that carries the weight at rest.
func (n numbers) tension() float64 { return n.weight() * n.gravity / n.falls }

// solveWeight computes the mass and its dimensions.
func (b *bench) solveWeight(a *Answer) {
	w := &a.Weight
	w.Mass = meas.Find[unit.Mass](&b.Bench, numbers.weight)
	w.ByDimensions = meas.Find[unit.Mass](&b.Bench, numbers.cylinder)
	w.Density = meas.Find[unit.Density](&b.Bench, func(n numbers) float64 { return n.density })
	w.MassPerInch = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return n.density * n.section() * inch })
	w.Height = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.wanted / (n.density * n.section()) })
	w.Impact = meas.Find[unit.Energy](&b.Bench, func(n numbers) float64 { return n.weight() * n.gravity * or(n.room(), n.total()) })
	b.weightSteps(*w)
	b.weightFindings(*w)
}

const inch = 0.0254

func (b *bench) densityRef() cite.Ref {
	if m, ok := FindMaterial(b.q.WeightMaterial); ok && !b.q.WeightDensity.Set {
		ref := m.Ref
		if m.Others != "" {
			ref.Note = "others print " + m.Others
		}
		return ref
	}
	return cite.Ref{Grade: cite.Measured, Note: "density as stated"}
}

func (b *bench) weightSteps(w Weight) {
	n := b.N
	if w.MassPerInch.Set {
		b.Step("Weight, for each inch of height", "ρ · π/4 · (D² − b²) · 1 in",
			fmt.Sprintf("%s · π/4 · ((%s)² − (%s)²)", unit.Text(unit.Density(n.density), "kg/m³", 0), mm(n.wDia), mm(or(n.wBore, 0))),
			unit.Text(w.MassPerInch.Value, "kg", 3)+" = "+unit.Text(w.MassPerInch.Value, "lb", 3), b.densityRef())
	}
	if w.ByDimensions.Set {
		b.Step("Weight, by its dimensions", "m = ρ · π/4 · (D² − b²) · h",
			fmt.Sprintf("%s · π/4 · ((%s)² − (%s)²) · %s", unit.Text(unit.Density(n.density), "kg/m³", 0), mm(n.wDia), mm(or(n.wBore, 0)), mm(n.wHeight)),
			w.ByDimensions.Text("kg", 3)+" = "+unit.Text(w.ByDimensions.Value, "lb", 2), b.densityRef())
	}
	if w.Height.Set {
		b.Step("Height for the mass wanted", "h = m / (ρ · π/4 · (D² − b²))",
			fmt.Sprintf("%s / (%s · π/4 · ((%s)² − (%s)²))", unit.Text(unit.Mass(n.wanted), "kg", 3), unit.Text(unit.Density(n.density), "kg/m³", 0), mm(n.wDia), mm(or(n.wBore, 0))),
			w.Height.Text("mm", 1), b.densityRef())
	}
	if w.Impact.Set {
		b.Step("Energy if it drops to the floor", "E = m g h",
			fmt.Sprintf("%s · %s · %s", unit.Text(w.Mass.Value, "kg", 3), unit.Text(unit.Acceleration(n.gravity), "m/s²", 5), unit.Text(unit.Length(or(n.room(), n.total())), "m", 3)),
			w.Impact.Text("J", 0), cite.Ref{Grade: cite.Exact})
	}
}

// farApart is how far weighed and computed mass may differ before it is said.
const farApart = 0.05

func (b *bench) weightFindings(w Weight) {
	if w.Mass.Set || known(b.N.total()) {
		text := "A clock weight that comes down unheld breaks what is under it."
		switch {
		case w.Mass.Set && !w.Impact.Set:
			text = fmt.Sprintf("A weight of %s hangs over hands and floor.", unit.Text(w.Mass.Value, "kg", 2))
		case w.Impact.Set:
			text = fmt.Sprintf("A weight of %s that drops to the floor arrives with %s.", unit.Text(w.Mass.Value, "kg", 2), unit.Text(w.Impact.Value, "J", 0))
		}
		b.Say(meas.Danger, "falling-weight", text,
			"Take the weights off before any work on the movement, keep feet and hands from under them, and renew a line that is worn. Local law and licensed practice decide.",
			cite.Ref{Grade: cite.CommonPractice}, "weight")
	}
	m, d := float64(w.Mass.Value), float64(w.ByDimensions.Value)
	if b.q.WeightMass.Set && w.ByDimensions.Set && math.Abs(m-d) > farApart*m+3*float64(w.ByDimensions.U) {
		b.Say(meas.Clash, "weight-size",
			fmt.Sprintf("The weight weighs %s, but its size in %s would weigh %s.", unit.Text(w.Mass.Value, "kg", 2), b.metal(), unit.Text(w.ByDimensions.Value, "kg", 2)),
			"Look for a filling, a hollow or another metal under the shell; the weighed mass is used.", b.densityRef(), "weight", "weight-material")
	}
}

// metal names the weight's material.
func (b *bench) metal() string {
	if b.q.WeightMaterial != "" && !b.q.WeightDensity.Set {
		return b.q.WeightMaterial
	}
	return "the stated metal"
}

// mm writes metres as millimetres for a line of working, to a hundredth where
// there are hundredths.
func mm(x float64) string {
	x *= 1e3
	decimals := 2
	for decimals > 0 && math.Abs(x-math.Round(x*math.Pow10(decimals-1))/math.Pow10(decimals-1)) < 1e-4 {
		decimals--
	}
	return unit.Number(x, decimals) + "\u00a0mm"
}
