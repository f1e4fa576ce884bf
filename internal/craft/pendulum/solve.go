package pendulum

import (
	"fmt"
	"math"
	"slices"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Solve reckons everything that follows from the query. The error is a
// meas.Faults with every mistake in the inputs.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	b := lay(q)
	a.GravityFrom = b.layGravity()
	b.layOtherPlace()
	b.solveSimple(&a)
	b.solveCompound(&a)
	b.solveNut(&a)
	b.solvePlace(&a)
	b.solveArc(&a)
	b.solveWarmth(&a)
	b.solveAir(&a)
	b.solveTray(&a)
	slices.SortStableFunc(b.finds, func(x, y meas.Finding) int { return int(y.Level) - int(x.Level) })
	a.Working, a.Findings = b.steps, b.finds
	a.Complete = a.Length.Set && a.Beat.Set
	return a, nil
}

// pendulumRule is where the law of the pendulum is printed.
var pendulumRule = cite.Ref{Source: "beckett", Place: "p. 36", Grade: cite.Printed}

func (b *bench) solveSimple(a *Answer) {
	a.Gravity = find[unit.Acceleration](b, func(n numbers) float64 { return n.g() })
	b.stepGravity(a)
	a.SecondsPendulum = find[unit.Length](b, func(n numbers) float64 { return n.g() / (math.Pi * math.Pi) })
	a.Length = find[unit.Length](b, func(n numbers) float64 { return n.simple() })
	a.Beat = find[unit.Duration](b, beatOf)
	a.Period = find[unit.Duration](b, func(n numbers) float64 { return 2 * beatOf(n) })
	a.BeatsPerHour = find[unit.Ratio](b, func(n numbers) float64 { return 3600 / beatOf(n) })
	a.BeatsPerMinute = find[unit.Ratio](b, func(n numbers) float64 { return 60 / beatOf(n) })
	a.OneSecond = find[unit.Length](b, func(n numbers) float64 { return n.simple() / 43200 })
	g := text(a.Gravity, "m/s²", 5)
	switch {
	case known(b.n.length) && known(b.n.beat):
		b.compare(a)
	case known(b.n.beat):
		b.step("Length to the centre of swing", "L = g (t/π)²", fmt.Sprintf("%s · (%s/π)²", g, text(a.Beat, "s", 5)), a.Length.Text("mm", 2), pendulumRule)
	case known(b.n.length):
		b.step("Time of a beat", "t = π √(L/g)", fmt.Sprintf("π √(%s / %s)", text(a.Length, "m", 5), g), a.Beat.Text("s", 5), pendulumRule)
	}
	if a.Beat.Set {
		b.step("Beats an hour", "n = 3600 / t", "3600 / "+text(a.Beat, "s", 6), a.BeatsPerHour.Text("", 2), pendulumRule)
	}
	if a.OneSecond.Set {
		b.step("One second a day", "ΔL = L / 43 200", text(a.Length, "mm", 2)+" / 43 200", a.OneSecond.Text("mm", 4), cite.Ref{Source: "eb11", Place: "p. 539"})
	}
}

// beatOf is the beat as typed, else that of the length.
func beatOf(n numbers) float64 {
	if known(n.beat) {
		return n.beat
	}
	return math.Pi * math.Sqrt(n.length/n.g())
}

func (b *bench) stepGravity(a *Answer) {
	switch a.GravityFrom {
	case FromTyped:
		b.step("Gravity", "g", "as measured", a.Gravity.Text("m/s²", 5), cite.Ref{Grade: cite.Measured})
	case FromSeconds:
		b.step("Gravity", "g = π² L₁ / s²", "π² · "+b.q.SecondsPendulum.String(), a.Gravity.Text("m/s²", 5), pendulumRule)
	case FromPlace:
		e := findEllipsoid(b.q.Ellipsoid)
		b.step("Gravity of the place", "γ = γₑ (1 + k sin²φ)/√(1 − e² sin²φ), less the height", fmt.Sprintf("φ = %s, h = %s", unit.Text(b.q.Latitude.Value, "°", 4), unit.Text(b.q.Height.Value, "m", 0)), a.Gravity.Text("m/s²", 5), e.ref)
		b.say(meas.Note, "gravity-of-place", "Gravity is that of latitude and height; the ground differs from it by about a part in 10 000, 4 s a day.",
			"Where it matters, let the clock run there, or enter a measured gravity.", placeDoubt.Ref, "latitude")
	case FromStandard:
		b.step("Gravity", "g", "the conventional value; no place was named", a.Gravity.Text("m/s²", 5), cite.Ref{Source: "si", Grade: cite.Exact})
		b.say(meas.Doubt, "gravity-standard", "No place was named, so the conventional gravity stands; on earth it is up to 0.27 % off, 2 minutes a day.",
			"Enter the latitude and height of the place.", nowhereDoubt.Ref, "latitude")
	}
}

// compare says how far length and beat are apart, where both were typed.
func (b *bench) compare(a *Answer) {
	a.Rate = find[unit.Rate](b, func(n numbers) float64 { return n.beat/(math.Pi*math.Sqrt(n.length/n.g())) - 1 })
	want := find[unit.Length](b, func(n numbers) float64 { return n.byBeat() })
	b.step("Length for the beat", "L = g (t/π)²", fmt.Sprintf("%s · (%s/π)²", text(a.Gravity, "m/s²", 5), text(a.Beat, "s", 5)), want.Text("mm", 2), pendulumRule)
	b.step("Rate of the length on the beat", "r = t / (π √(L/g)) − 1", text(a.Beat, "s", 5)+" / "+text(find[unit.Duration](b, func(n numbers) float64 { return math.Pi * math.Sqrt(n.length/n.g()) }), "s", 6)+" − 1", a.Rate.Text("s/d", 1), pendulumRule)
	off := math.Abs(float64(a.Rate.Value))
	word := "gain"
	if a.Rate.Value < 0 {
		word = "lose"
	}
	switch {
	case a.Rate.HasU && off < 2*float64(a.Rate.U):
		b.say(meas.Note, "length-and-beat", "Length and beat agree within their doubt: "+a.Rate.Text("s/d", 1)+".", "", pendulumRule, "length", "beats")
	case off*86400 > 60:
		b.say(meas.Clash, "length-and-beat", fmt.Sprintf("A pendulum of %s would %s %s a day on the beat that was stated; that beat wants %s.", a.Length.Text("mm", 1), word, inMinutes(off), want.Text("mm", 1)),
			"Measure from the bending point of the suspension to the centre of swing, which lies near the middle of the bob, and count the train again.", pendulumRule, "length", "beats")
	default:
		b.say(meas.Note, "length-and-beat", fmt.Sprintf("The length would %s %s s a day on the beat; the nut has to make that up.", word, unit.Number(off*86400, 1)), "", pendulumRule, "length", "beats")
	}
}

// inMinutes is a rate in words fit to its size.
func inMinutes(rate float64) string {
	s := rate * 86400
	if s < 600 {
		return unit.Number(s, 0) + "\u00a0s"
	}
	return unit.Number(s/60, 0) + "\u00a0min"
}

// text prints a result for a line of working: the value alone.
func text[Q unit.Quantity](r meas.Result[Q], symbol string, decimals int) string {
	return unit.Text(r.Value, symbol, decimals)
}

func (b *bench) solvePlace(a *Answer) {
	p := &a.Place
	p.Gravity = find[unit.Acceleration](b, func(n numbers) float64 { return n.there() })
	p.Rate = find[unit.Rate](b, func(n numbers) float64 { return math.Sqrt(n.there()/n.g()) - 1 })
	p.Raise = find[unit.Length](b, func(n numbers) float64 { return n.simple() * (1 - n.there()/n.g()) })
	if !p.Rate.Set {
		return
	}
	ref := cite.Ref{Source: "beckett", Place: "p. 39"}
	b.step("Rate at the other place", "r = √(g₂/g₁) − 1", fmt.Sprintf("√(%s / %s) − 1", text(p.Gravity, "m/s²", 5), text(a.Gravity, "m/s²", 5)), p.Rate.Text("s/d", 1), ref)
	if p.Raise.Set {
		b.step("Bob for the other place", "ΔL = L (1 − g₂/g₁)", fmt.Sprintf("%s (1 − %s/%s)", text(a.Length, "mm", 1), text(p.Gravity, "m/s²", 5), text(a.Gravity, "m/s²", 5)), p.Raise.Text("mm", 3), ref)
	}
}

func (b *bench) solveArc(a *Answer) {
	r := &a.Arc
	r.Loss = find[unit.Rate](b, func(n numbers) float64 { return 1/stretch(n.arc) - 1 })
	r.Series = find[unit.Rate](b, func(n numbers) float64 { return 1/stretchSeries(n.arc) - 1 })
	r.Length = find[unit.Length](b, func(n numbers) float64 { return n.byBeat() / math.Pow(stretch(n.arc), 2) })
	r.ToLoss = find[unit.Rate](b, func(n numbers) float64 { return 1/stretch(n.toArc) - 1 })
	r.Change = find[unit.Rate](b, func(n numbers) float64 { return stretch(n.arc)/stretch(n.toArc) - 1 })
	ref := cite.Ref{Source: "beckett", Place: "p. 34"}
	if r.Loss.Set {
		b.step("Circular error", "r = 1 / ((2/π) K(sin θ/2)) − 1", "θ = "+unit.Text(b.q.Arc.Value, "°", 2)+" from the vertical", r.Loss.Text("s/d", 2), ref)
	}
	if r.Change.Set {
		b.step("Going to the other arc", "r = K(sin θ₁/2) / K(sin θ₂/2) − 1", fmt.Sprintf("θ₁ = %s, θ₂ = %s", unit.Text(b.q.Arc.Value, "°", 2), unit.Text(b.q.ToArc.Value, "°", 2)), r.Change.Text("s/d", 2), ref)
	}
	if b.q.Arc.Set && b.q.Arc.Value > unit.Deg(15) {
		b.say(meas.Doubt, "arc-large", "An arc of "+b.q.Arc.String()+" from the vertical is wide for a clock with an anchor; was the whole swing meant?", "Enter half of the whole swing.", cite.Ref{Grade: cite.CommonPractice}, "arc")
	}
}

func (b *bench) solveWarmth(a *Answer) {
	w := &a.Warmth
	w.Expansion = find[unit.Expansion](b, func(n numbers) float64 { return n.alpha })
	w.PerKelvin = find[unit.Rate](b, func(n numbers) float64 { return -n.alpha / 2 })
	w.Effect = find[unit.Rate](b, func(n numbers) float64 { return 1/math.Sqrt(1+n.alpha*n.warmer) - 1 })
	m, ok := FindMaterial(b.q.Rod)
	if !ok {
		return
	}
	b.step("Rate for one degree warmer", "r = −α / 2", "−"+text(w.Expansion, "µm/m/K", 2)+" / 2", w.PerKelvin.Text("s/d", 3)+" a °C", m.Ref)
	if w.Effect.Set {
		b.step("Of the change of temperature", "r = 1/√(1 + α ΔT) − 1", fmt.Sprintf("α = %s, ΔT = %s", text(w.Expansion, "µm/m/K", 2), b.q.Warmer), w.Effect.Text("s/d", 2), m.Ref)
	}
	if m.Others != "" {
		b.say(meas.Note, "expansion-sources", "Sources differ on "+m.Name+": "+text(w.Expansion, "µm/m/K", 2)+" is used; others print "+m.Others+".", "", m.Ref, "rod")
	}
}

func (b *bench) solveAir(a *Answer) {
	if !known(b.n.bobRho) {
		return
	}
	r := &a.Air
	r.Density = find[unit.Density](b, func(n numbers) float64 { return airDensity(n.temp, n.pressure, n.humidity) })
	r.Buoyancy = find[unit.Rate](b, func(n numbers) float64 { return n.buoyancy(n.pressure) })
	slope := func(n numbers, step float64) float64 {
		return (n.buoyancy(n.pressure+step) - n.buoyancy(n.pressure-step)) / 2
	}
	r.PerHPa = find[unit.Rate](b, func(n numbers) float64 { return slope(n, hectopascal) })
	r.PerInHg = find[unit.Rate](b, func(n numbers) float64 { return slope(n, inHg) })
	b.step("Density of the air", "CIPM-2007", fmt.Sprintf("%s °C, %s hPa, %s %%", unit.Number(b.n.temp-273.15, 1), unit.Number(b.n.pressure/100, 1), unit.Number(b.n.humidity*100, 0)), r.Density.Text("kg/m³", 4), cipm)
	b.step("Buoyancy", "r = −ρ(air) / 2 ρ(bob)", fmt.Sprintf("−%s / (2 · %s)", text(r.Density, "kg/m³", 4), unit.Text(unit.Density(b.n.bobRho), "kg/m³", 0)), r.Buoyancy.Text("s/d", 2), cite.Ref{Source: "eb11", Place: "p. 540"})
	b.say(meas.Note, "air-static", "This is buoyancy alone; the air that goes along with the bob makes the measured effect of pressure about twice as large, 0.2 to 0.4 s a day for an inch of mercury.", "", cite.Ref{Source: "matthys", Place: "ch. 30"}, "pressure")
}

func (b *bench) solveTray(a *Answer) {
	t := &a.Tray
	if !known(b.n.mass) && a.Compound.Mass.Set {
		b.set("weight of the pendulum", float64(a.Compound.Mass.Value), float64(a.Compound.Mass.U), func(n *numbers) *float64 { return &n.mass })
	}
	share := func(n numbers, at float64) float64 { x := at / n.simple(); return x - x*x }
	t.AtMiddle = find[unit.Mass](b, func(n numbers) float64 { return n.mass / (43200 * share(n, n.simple()/2)) })
	t.OneSecond = find[unit.Mass](b, func(n numbers) float64 { return n.mass / (43200 * share(n, n.tray)) })
	t.PerGram = find[unit.Rate](b, func(n numbers) float64 { return share(n, n.tray) / 2 * 1e-3 / n.mass })
	ref := cite.Ref{Source: "beckett", Place: "p. 51"}
	if t.OneSecond.Set {
		b.step("Weight on the tray for 1 s a day", "m = M / (43 200 (d/L − d²/L²))", fmt.Sprintf("M = %s, d = %s, L = %s", unit.Text(unit.Mass(b.n.mass), "kg", 3), b.q.TrayAt, text(a.Length, "mm", 1)), t.OneSecond.Text("g", 3), ref)
	}
	if b.q.TrayAt.Set && a.Length.Set && b.q.TrayAt.Value >= a.Length.Value {
		b.say(meas.Clash, "tray-below", "A weight at or below the centre of swing makes the clock lose, not gain.", "Put the tray between the suspension and the bob; half way does most.", ref, "tray-at")
	}
}
