package drive

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// coiled is the radii of a band of this length and thickness in the barrel:
// outside of the coil on the arbor, inside of the coil against the wall.
func (n numbers) coiled(thick float64) (up, down float64) {
	area := n.sLength * thick / math.Pi
	up = math.Sqrt(n.sArbor*n.sArbor/4 + area)
	down = math.Sqrt(n.sBarrel*n.sBarrel/4 - area)
	return up, down
}

// springCoils counts coils wound and down by geometry.
func (n numbers) springCoils(thick float64) (wound, down float64) {
	ru, rd := n.coiled(thick)
	return (ru - n.sArbor/2) / thick, (n.sBarrel/2 - rd) / thick
}

// springTurns is the turns of this spring at a thickness.
func (n numbers) springTurns(thick float64) float64 {
	w, d := n.springCoils(thick)
	return w - d
}

// mostTurns is the turns with the best length, half the space filled.
func (n numbers) mostTurns(thick float64) float64 {
	return (math.Sqrt(2*(n.sBarrel*n.sBarrel+n.sArbor*n.sArbor)) - n.sBarrel - n.sArbor) / (2 * thick)
}

// bestLength fills half the space between arbor and wall.
func (n numbers) bestLength(thick float64) float64 {
	return math.Pi * (n.sBarrel*n.sBarrel - n.sArbor*n.sArbor) / (8 * thick)
}

// stiffness is the torque for each radian of winding.
func (n numbers) stiffness() float64 {
	return n.sModulus * n.sHeight * math.Pow(n.sThick, 3) / (12 * n.sLength)
}

// solveSpring computes the mainspring.
func (b *bench) solveSpring(a *Answer) {
	s := &a.Spring
	ratio := func(f func(numbers) float64) meas.Result[unit.Ratio] { return meas.Find[unit.Ratio](&b.Bench, f) }
	length := func(f func(numbers) float64) meas.Result[unit.Length] { return meas.Find[unit.Length](&b.Bench, f) }
	s.MaxTurns = ratio(func(n numbers) float64 { return n.mostTurns(n.sThick) })
	s.BestLength = length(func(n numbers) float64 { return n.bestLength(n.sThick) })
	s.BestBand = length(func(n numbers) float64 {
		return n.sBarrel/2 - math.Sqrt((n.sBarrel*n.sBarrel+n.sArbor*n.sArbor)/8)
	})
	s.Fill = ratio(func(n numbers) float64 {
		return n.sLength * n.sThick / (math.Pi / 4 * (n.sBarrel*n.sBarrel - n.sArbor*n.sArbor))
	})
	s.Coils = ratio(func(n numbers) float64 { w, _ := n.springCoils(n.sThick); return or(n.coilsUp, w) })
	s.CoilsDown = ratio(func(n numbers) float64 { _, d := n.springCoils(n.sThick); return or(n.coilsDown, d) })
	s.Turns = ratio(func(n numbers) float64 {
		w, d := n.springCoils(n.sThick)
		return or(n.coilsUp, w) - or(n.coilsDown, d)
	})
	s.WoundRadius = length(func(n numbers) float64 { up, _ := n.coiled(n.sThick); return up })
	s.Band = length(func(n numbers) float64 { _, down := n.coiled(n.sThick); return n.sBarrel/2 - down })
	b.solveTorque(s)
	s.NewTorque = ratio(func(n numbers) float64 { return math.Pow(n.sNew/n.sThick, 3) })
	s.NewTurns = ratio(func(n numbers) float64 { return n.springTurns(n.sNew) })
	s.NewMaxTurns = ratio(func(n numbers) float64 { return n.mostTurns(n.sNew) })
	s.NewBest = length(func(n numbers) float64 { return n.bestLength(n.sNew) })
	b.springSteps(*s)
	b.springFindings(*s)
}

// solveTorque computes torque and stress of the strip.
func (b *bench) solveTorque(s *Spring) {
	turn := 2 * math.Pi
	stress := func(n numbers, torque float64) float64 { return 6 * torque / (n.sHeight * n.sThick * n.sThick) }
	s.TorquePerTurn = meas.Find[unit.Torque](&b.Bench, func(n numbers) float64 { return n.stiffness() * turn })
	s.Torque = meas.Find[unit.Torque](&b.Bench, func(n numbers) float64 { return n.stiffness() * turn * n.sTurns })
	// stress for one turn is π E t / L; the height cancels
	s.StressPerTurn = meas.Find[unit.Pressure](&b.Bench, func(n numbers) float64 { return math.Pi * n.sModulus * n.sThick / n.sLength })
	s.Stress = meas.Find[unit.Pressure](&b.Bench, func(n numbers) float64 { return stress(n, n.stiffness()*turn*n.sTurns) })
	s.Energy = meas.Find[unit.Energy](&b.Bench, func(n numbers) float64 { return n.stiffness() / 2 * math.Pow(turn*n.sTurns, 2) })
}

// halfFilled is the derivation of the half-area rule.
var halfFilled = cite.Ref{Grade: cite.Exact, Note: "the band fills half the space between arbor and wall"}

// bentStrip is the strip bent evenly.
var bentStrip = cite.Ref{Grade: cite.Exact, Note: "strip bent evenly, θ in radians; no friction between the coils"}

func (b *bench) springSteps(s Spring) {
	n := b.N
	D, d, t := mm(n.sBarrel), mm(n.sArbor), unit.Text(unit.Length(n.sThick), "mm", 3)
	if s.MaxTurns.Set {
		b.Step("Most turns of the barrel", "N = (√(2(D² + d²)) − D − d) / (2 t)", fmt.Sprintf("(√(2((%s)² + (%s)²)) − %s − %s) / (2 · %s)", D, d, D, d, t), s.MaxTurns.Text("", 2), halfFilled)
		b.Step("Length for most turns", "L = π (D² − d²) / (8 t)", fmt.Sprintf("π ((%s)² − (%s)²) / (8 · %s)", D, d, t), s.BestLength.Text("mm", 1), halfFilled)
	}
	if s.Fill.Set {
		b.Step("Space filled by this spring", "L t / (π/4 (D² − d²))", fmt.Sprintf("%s · %s / (π/4 ((%s)² − (%s)²))", mm(n.sLength), t, D, d), s.Fill.Text("%", 1), halfFilled)
	}
	if s.Turns.Set {
		b.Step("Turns of this spring", "coils wound − coils down", s.Coils.Text("", 2)+" − "+s.CoilsDown.Text("", 2), s.Turns.Text("", 2), cite.Ref{Grade: cite.Exact})
	}
	if s.TorquePerTurn.Set {
		b.Step("Torque for each turn", "M = E b t³ · 2π / (12 L)", fmt.Sprintf("%s · %s · (%s)³ · 2π / (12 · %s)", unit.Text(unit.Pressure(n.sModulus), "MPa", 0), mm(n.sHeight), t, mm(n.sLength)), s.TorquePerTurn.Text("N mm", 1), bentStrip)
		b.Step("Stress for each turn", "σ = 6 M / (b t²)", fmt.Sprintf("6 · %s / (%s · (%s)²)", unit.Text(s.TorquePerTurn.Value, "N mm", 1), mm(n.sHeight), t), s.StressPerTurn.Text("MPa", 0), bentStrip)
	}
	if s.NewTorque.Set {
		b.Step("Torque with the other thickness", "(t₂ / t)³", fmt.Sprintf("(%s / %s)³", unit.Text(unit.Length(n.sNew), "mm", 3), t), s.NewTorque.Text("", 3)+" times", bentStrip)
	}
}

// lostTurns is the part of the most turns below which the filling is worth a
// word.
const lostTurns = 0.95

func (b *bench) springFindings(s Spring) {
	if !s.MaxTurns.Set && !s.TorquePerTurn.Set && !s.Turns.Set {
		return
	}
	text := "A mainspring in its barrel holds its force until it is let down; a wound one that slips can break bones and eyes."
	if s.Energy.Set {
		text = fmt.Sprintf("Wound so far, the mainspring holds %s and lets it go at once if it slips.", unit.Text(s.Energy.Value, "J", 1))
	}
	b.Say(meas.Danger, "mainspring", text,
		"Let it down before any work, draw and wind it only in a spring winder, with gloves and eyes covered. Local law and licensed practice decide.",
		cite.Ref{Grade: cite.CommonPractice}, "spring-barrel")
	if s.Fill.Set && s.Turns.Value < lostTurns*s.MaxTurns.Value {
		b.Say(meas.Note, "spring-fill", fmt.Sprintf("The spring fills %s of the space; at a half it would have most turns: %s instead of %s.", unit.Text(s.Fill.Value, "%", 0), num(float64(s.MaxTurns.Value), 1), num(float64(s.Turns.Value), 1)),
			fmt.Sprintf("The length for most turns is %s.", unit.Text(s.BestLength.Value, "mm", 0)), halfFilled, "spring-length", "spring-thickness")
	}
	if w, _ := b.N.springCoils(b.N.sThick); known(b.N.coilsUp) && known(w) && math.Abs(b.N.coilsUp-w) > 1.5 {
		b.Say(meas.Clash, "spring-coils", fmt.Sprintf("%s coils were counted wound; the spring's size gives %s.", num(b.N.coilsUp, 1), num(w, 1)), "Measure thickness and length again.", cite.Ref{Grade: cite.Exact}, "coils-wound", "spring-thickness")
	}
}
