package pendulum

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// solveAir tells the density of the air, where anything of the air or of the
// bob's density is known, and what it does to the bob.
func (b *bench) solveAir(a *Answer) {
	b.compareDensity()
	bob := known(b.N.density())
	if !bob && !b.q.Temperature.Set && !b.q.Pressure.Set && !b.q.Humidity.Set {
		return
	}
	r := &a.Air
	r.Density = meas.Find[unit.Density](&b.Bench, func(n numbers) float64 { return airDensity(n.temp, n.pressure, n.humidity) })
	b.Step("Density of the air", "CIPM-2007", b.airWords(), r.Density.Text("kg/m³", 4), cipm)
	if !bob {
		return
	}
	r.Buoyancy = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.buoyancy(n.pressure) })
	slope := func(n numbers, step float64) float64 {
		return (n.buoyancy(n.pressure+step) - n.buoyancy(n.pressure-step)) / 2
	}
	r.PerHPa = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return slope(n, hectopascal) })
	r.PerInHg = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return slope(n, inHg) })
	b.Step("Buoyancy", "r = −ρ(air) / 2 ρ(bob)", fmt.Sprintf("−%s / (2 · %s)", text(r.Density, "kg/m³", 4), unit.Text(unit.Density(b.N.density()), "kg/m³", 0)), r.Buoyancy.Text("s/d", 2), cite.Ref{Source: "eb11", Place: "p. 540"})
	b.Say(meas.Note, "air-static", "This is buoyancy alone; the air that goes along with the bob makes the measured effect of pressure about twice as large, 0.2 to 0.4 s a day for an inch of mercury.", "", cite.Ref{Source: "matthys", Place: "ch. 30"}, "pressure")
}

// airWords writes the state of the air and what of it was not stated.
func (b *bench) airWords() string {
	part := func(s string, stated bool) string {
		if !stated {
			s += " (not stated)"
		}
		return s
	}
	return part(unit.Number(b.N.temp-273.15, 1)+" °C", b.q.Temperature.Set) + ", " +
		part(unit.Number(b.N.pressure/100, 1)+" hPa", b.q.Pressure.Set) + ", " +
		part(unit.Number(b.N.humidity*100, 0)+" %", b.q.Humidity.Set)
}

// Densities a bob can have, and how far that of its size and weight may be
// from its material's before it is said: a rule on a bob with rounded edges
// and a hole for the rod gives no better.
const (
	lightest, heaviest = 300, 23000 // kg/m³, cork-like wood and platinum
	densityApart       = 0.15
)

// compareDensity sets the weight of a bob against its size and material.
func (b *bench) compareDensity() {
	rho := b.N.bobMass / b.N.bobVolume()
	if !known(rho) {
		return
	}
	words := "A bob of this size and weight is " + unit.Text(unit.Density(rho), "kg/m³", 0)
	ref := cite.Ref{Grade: cite.CommonPractice}
	if rho < lightest || rho > heaviest {
		b.Say(meas.Clash, "bob-density", words+", which no bob is made of.", "Measure and weigh it again.", ref, "bob-mass", "bob-diameter")
		return
	}
	stated := b.N.bobRho
	if !known(stated) || math.Abs(rho/stated-1) < densityApart {
		return
	}
	b.Say(meas.Doubt, "bob-density", fmt.Sprintf("%s, but %s was stated.", words, unit.Text(unit.Density(stated), "kg/m³", 0)),
		"It may be a shell filled with something else, or hollow; else measure and weigh it again. The weight counts.", ref, "bob-material", "bob-mass")
}
