package pendulum

import (
	"fmt"
	"math"

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
	a.Working, a.Findings = b.Steps, b.ByLevel()
	a.Complete = a.Length.Set && a.Beat.Set
	return a, nil
}

// pendulumRule is where the law of the pendulum is printed.
var pendulumRule = cite.Ref{Source: "beckett", Place: "p. 36", Grade: cite.Printed}

func (b *bench) solveSimple(a *Answer) {
	a.Gravity = meas.Find[unit.Acceleration](&b.Bench, func(n numbers) float64 { return n.g() })
	b.stepGravity(a)
	b.compareGravity()
	a.SecondsPendulum = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.g() / (math.Pi * math.Pi) })
	a.Length = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.simple() })
	a.LengthFrom = b.lengthFrom(a)
	a.Beat = meas.Find[unit.Duration](&b.Bench, beatOf)
	a.Period = meas.Find[unit.Duration](&b.Bench, func(n numbers) float64 { return 2 * beatOf(n) })
	a.BeatsPerHour = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return 3600 / beatOf(n) })
	a.BeatsPerMinute = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return 60 / beatOf(n) })
	a.OneSecond = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.simple() / 43200 })
	g := text(a.Gravity, "m/s²", 5)
	switch {
	case known(b.N.length) && known(b.N.beat):
		b.compare(a)
	case known(b.N.beat):
		b.Step("Length to the centre of swing", "L = g (t/π)²", fmt.Sprintf("%s · (%s/π)²", g, text(a.Beat, "s", 5)), a.Length.Text("mm", 2), pendulumRule)
	case a.Length.Set:
		b.Step("Time of a beat", "t = π √(L/g)", fmt.Sprintf("π √(%s / %s)", text(a.Length, "m", 5), g), a.Beat.Text("s", 5), pendulumRule)
	}
	if a.Beat.Set {
		b.Step("Beats an hour", "n = 3600 / t", "3600 / "+text(a.Beat, "s", 6), a.BeatsPerHour.Text("", 2), pendulumRule)
	}
	if a.OneSecond.Set {
		b.Step("One second a day", "ΔL = L / 43 200", text(a.Length, "mm", 2)+" / 43 200", a.OneSecond.Text("mm", 4), cite.Ref{Source: "eb11", Place: "p. 539"})
	}
}

// beatOf is the beat as typed, else that of the length.
func beatOf(n numbers) float64 {
	if known(n.beat) {
		return n.beat
	}
	return math.Pi * math.Sqrt(n.simple()/n.g())
}

// lengthFrom says where the length is from.
func (b *bench) lengthFrom(a *Answer) string {
	switch {
	case known(b.N.length):
		return FromTyped
	case known(b.N.beat):
		return FromBeat
	case a.Length.Set:
		return FromParts
	}
	return ""
}

func (b *bench) stepGravity(a *Answer) {
	switch a.GravityFrom {
	case FromTyped:
		b.Step("Gravity", "g", "as measured", a.Gravity.Text("m/s²", 5), cite.Ref{Grade: cite.Measured})
	case FromSeconds:
		b.Step("Gravity", "g = π² L₁ / s²", "π² · "+b.q.SecondsPendulum.Written("mm"), a.Gravity.Text("m/s²", 5), pendulumRule)
	case FromPlace:
		e := findEllipsoid(b.q.Ellipsoid)
		b.Step("Gravity of the place", "γ = γₑ (1 + k sin²φ)/√(1 − e² sin²φ), less the height", fmt.Sprintf("φ = %s, h = %s", unit.Text(b.q.Latitude.Value, "°", 4), unit.Text(b.q.Height.Value, "m", 0)), a.Gravity.Text("m/s²", 5), e.ref)
		b.Say(meas.Note, "gravity-of-place", "Gravity is that of latitude and height; the ground differs from it by about a part in 10 000, 4 s a day.",
			"Where it matters, let the clock run there, or enter a measured gravity.", placeDoubt.Ref, "latitude")
	case FromStandard:
		b.Step("Gravity", "g", "the conventional value; no place was named", a.Gravity.Text("m/s²", 5), cite.Ref{Source: "si", Grade: cite.Exact})
		b.Say(meas.Doubt, "gravity-standard", "No place was named, so the conventional gravity stands; on earth it is up to 0.27 % off, 2 minutes a day.",
			"Enter the latitude and height of the place.", nowhereDoubt.Ref, "latitude")
	}
}

// swings is the time of a beat of a length at the arc that was stated, at a
// very small one where none was.
func (n numbers) swings(length float64) float64 {
	t := math.Pi * math.Sqrt(length/n.g())
	if known(n.arc) {
		t *= stretch(n.arc)
	}
	return t
}

// compare says how far length and beat are apart, where both were typed.
func (b *bench) compare(a *Answer) {
	a.Rate = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.beat/n.swings(n.length) - 1 })
	want := meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.length * math.Pow(n.beat/n.swings(n.length), 2) })
	time := meas.Find[unit.Duration](&b.Bench, func(n numbers) float64 { return n.swings(n.length) })
	law, at := "π √(L/g)", ""
	if known(b.N.arc) {
		law, at = law+" · (2/π) K(sin θ/2)", ", θ = "+b.q.Arc.Written("°")
	}
	b.Step("Time of a beat of that length", "t′ = "+law, fmt.Sprintf("L = %s, g = %s%s", text(a.Length, "mm", 2), text(a.Gravity, "m/s²", 5), at), time.Text("s", 6), pendulumRule)
	b.Step("Length for the beat", "L′ = L (t/t′)²", fmt.Sprintf("%s · (%s/%s)²", text(a.Length, "mm", 2), text(a.Beat, "s", 6), text(time, "s", 6)), want.Text("mm", 2), pendulumRule)
	b.Step("Rate of the length on the beat", "r = t/t′ − 1", text(a.Beat, "s", 6)+" / "+text(time, "s", 6)+" − 1", a.Rate.Text("s/d", 1), pendulumRule)
	b.sayRate(a, want)
}

// clashRate is how far length and beat may be apart, in s/day, before they
// count as contradictory where no doubt was stated: 1.4 mm in the length of a
// seconds pendulum, what a rule on the bench gives.
const clashRate = 60

func (b *bench) sayRate(a *Answer, want meas.Result[unit.Length]) {
	off := math.Abs(float64(a.Rate.Value))
	word := "gain"
	if a.Rate.Value < 0 {
		word = "lose"
	}
	about := []string{"length", "beats"}
	ratio := 1 + float64(a.Rate.Value)
	switch {
	case a.Rate.HasU && off < 2*float64(a.Rate.U):
		b.Say(meas.Note, "length-and-beat", "Length and beat agree within their doubt: "+a.Rate.Text("s/d", 1)+".", "", pendulumRule, about...)
	case math.Abs(ratio-2) < .02 || math.Abs(ratio-.5) < .005:
		b.Say(meas.Clash, "beat-or-swing", fmt.Sprintf("A pendulum of %s beats half or double what was stated: %s beats an hour.", a.Length.Text("mm", 1), unit.Number(float64(a.BeatsPerHour.Value)*ratio, 0)),
			"Count one beat for each way, two for a swing there and back.", pendulumRule, about...)
	case off*86400 > clashRate:
		b.Say(meas.Clash, "length-and-beat", fmt.Sprintf("A pendulum of %s would %s %s a day on the beat that was stated; that beat wants %s.", a.Length.Text("mm", 1), word, inMinutes(off), want.Text("mm", 1)),
			"Measure from the bending point of the suspension to the centre of swing, which lies near the middle of the bob, and count the train again.", pendulumRule, about...)
	default:
		b.Say(meas.Note, "length-and-beat", fmt.Sprintf("The length would %s %s a day on the beat; the nut has to make that up.", word, unit.Text(unit.Duration(off*86400), "s", 1)), "", pendulumRule, about...)
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
	p.Gravity = meas.Find[unit.Acceleration](&b.Bench, func(n numbers) float64 { return n.there() })
	p.Rate = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return math.Sqrt(n.there()/n.g()) - 1 })
	back := func(n numbers) float64 { return n.raiseFor(math.Sqrt(n.g()/n.there()) - 1) }
	p.Raise = meas.Find[unit.Length](&b.Bench, back)
	p.Turns = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return back(n) / n.pitch })
	if !p.Rate.Set {
		return
	}
	ref := cite.Ref{Source: "beckett", Place: "p. 39"}
	b.Step("Rate at the other place", "r = √(g₂/g₁) − 1", fmt.Sprintf("√(%s / %s) − 1", text(p.Gravity, "m/s²", 5), text(a.Gravity, "m/s²", 5)), p.Rate.Text("s/d", 1), ref)
	switch {
	case a.Compound.Length.Set && p.Raise.Set:
		b.Step("Bob for the other place", "l(c − d) = l(c) g₂/g₁, solved for d", fmt.Sprintf("l = %s, g₂/g₁ = %s", text(a.Compound.Length, "mm", 2), unit.Number(float64(p.Gravity.Value/a.Gravity.Value), 7)), p.Raise.Text("mm", 3), compoundRule)
	case p.Raise.Set:
		b.Step("Bob for the other place", "ΔL = L (1 − g₂/g₁)", fmt.Sprintf("%s (1 − %s/%s)", text(a.Length, "mm", 1), text(p.Gravity, "m/s²", 5), text(a.Gravity, "m/s²", 5)), p.Raise.Text("mm", 3), ref)
	}
}

func (b *bench) solveArc(a *Answer) {
	r := &a.Arc
	r.Loss = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return 1/stretch(n.arc) - 1 })
	r.Series = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return 1/stretchSeries(n.arc) - 1 })
	r.Length = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.byBeat() / math.Pow(stretch(n.arc), 2) })
	r.Ratio = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return stretch(n.arc) })
	r.Period = meas.Find[unit.Duration](&b.Bench, func(n numbers) float64 { return 2 * math.Pi * math.Sqrt(n.simple()/n.g()) * stretch(n.arc) })
	r.ToLoss = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return 1/stretch(n.toArc) - 1 })
	r.Change = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return stretch(n.arc)/stretch(n.toArc) - 1 })
	ref := cite.Ref{Source: "beckett", Place: "p. 34"}
	if r.Loss.Set {
		b.Step("Circular error", "r = 1 / ((2/π) K(sin θ/2)) − 1", "θ = "+unit.Text(b.q.Arc.Value, "°", 2)+" from the vertical", r.Loss.Text("s/d", 2), ref)
	}
	if r.Change.Set {
		b.Step("Going to the other arc", "r = K(sin θ₁/2) / K(sin θ₂/2) − 1", fmt.Sprintf("θ₁ = %s, θ₂ = %s", unit.Text(b.q.Arc.Value, "°", 2), unit.Text(b.q.ToArc.Value, "°", 2)), r.Change.Text("s/d", 2), ref)
	}
	if b.q.Arc.Set && b.q.Arc.Value > unit.Deg(15) {
		b.Say(meas.Doubt, "arc-large", "An arc of "+b.q.Arc.Written("°")+" from the vertical is wide for a clock with an anchor; was the whole swing meant?", "Enter half of the whole swing.", cite.Ref{Grade: cite.CommonPractice}, "arc")
	}
}

func (b *bench) solveWarmth(a *Answer) {
	w := &a.Warmth
	w.Expansion = meas.Find[unit.Expansion](&b.Bench, func(n numbers) float64 { return n.alpha })
	w.PerKelvin = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return -n.alpha / 2 })
	w.Effect = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return 1/math.Sqrt(1+n.alpha*n.warmer) - 1 })
	m, ok := FindMaterial(b.q.Rod)
	if !ok {
		return
	}
	b.Step("Rate for one degree warmer", "r = −α / 2", "−"+text(w.Expansion, "µm/m/K", 2)+" / 2", w.PerKelvin.Text("s/d", 3)+" a °C", m.Ref)
	if w.Effect.Set {
		b.Step("Of the change of temperature", "r = 1/√(1 + α ΔT) − 1", fmt.Sprintf("α = %s, ΔT = %s", text(w.Expansion, "µm/m/K", 2), b.q.Warmer.Written("°C")), w.Effect.Text("s/d", 2), m.Ref)
	}
	if m.Others != "" {
		b.Say(meas.Note, "expansion-sources", "Sources differ on "+m.Name+": "+text(w.Expansion, "µm/m/K", 2)+" is used; others print "+m.Others+".", "", m.Ref, "rod")
	}
}

func (b *bench) solveTray(a *Answer) {
	t := &a.Tray
	t.AtMiddle = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return 1 / (86400 * n.trayRate(n.simple()/2)) })
	t.OneSecond = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return 1 / (86400 * n.trayRate(n.tray)) })
	t.PerGram = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.trayRate(n.tray) / 1000 })
	ref := cite.Ref{Source: "beckett", Place: "p. 51"}
	if t.OneSecond.Set && known(b.N.mass) {
		b.Step("Weight on the tray for 1 s a day", "m = M / (43 200 (d/L − d²/L²))", fmt.Sprintf("M = %s, d = %s, L = %s", unit.Text(unit.Mass(b.N.mass), "kg", 3), b.q.TrayAt.Written("mm"), text(a.Length, "mm", 1)), t.OneSecond.Text("g", 3), ref)
	} else if t.OneSecond.Set {
		b.Step("Weight on the tray for 1 s a day", "m = M h / (43 200 (d − d²/l))", fmt.Sprintf("M = %s, h = %s, d = %s, l = %s", text(a.Compound.Mass, "kg", 3), text(a.Compound.Gravity, "mm", 1), b.q.TrayAt.Written("mm"), text(a.Compound.Length, "mm", 1)), t.OneSecond.Text("g", 3), ref)
	}
	if b.q.TrayAt.Set && a.Length.Set && b.q.TrayAt.Value >= a.Length.Value {
		b.Say(meas.Clash, "tray-below", "A weight at or below the centre of swing makes the clock lose, not gain.", "Put the tray between the suspension and the bob; half way does most.", ref, "tray-at")
	}
}

// trayRate is the rate gained by a kilogram laid on at d, for weights small
// against the pendulum. With a weighed pendulum its mass counts as sitting at
// the centre of swing, as the print has it; else rod and bob are summed.
func (n numbers) trayRate(d float64) float64 {
	if known(n.mass) {
		x := d / n.simple()
		return (x - x*x) / 2 / n.mass
	}
	s := n.withBob(n.centre(), 0)
	return (d - d*d/s.equivalent()) / 2 / s.s
}
