package pendulum

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// compoundRule is where the compound pendulum is printed.
var compoundRule = cite.Ref{Source: "beckett", Place: "pp. 37–38"}

func (b *bench) solveCompound(a *Answer) {
	c := &a.Compound
	c.RodMass = find[unit.Mass](b, func(n numbers) float64 { return n.rodWeight() })
	c.BobMass = find[unit.Mass](b, func(n numbers) float64 { return n.bobWeight() })
	c.BobCentre = find[unit.Length](b, func(n numbers) float64 { return n.centre() })
	c.Found = c.BobCentre.Set && !b.q.BobCentre.Set
	if !c.BobMass.Set || !c.BobCentre.Set {
		b.missingParts(a)
		return
	}
	at := func(n numbers) sums { return n.withBob(n.centre(), 0) }
	c.Mass = find[unit.Mass](b, func(n numbers) float64 { return at(n).m })
	c.Gravity = find[unit.Length](b, func(n numbers) float64 { s := at(n); return s.s / s.m })
	c.Gyration = find[unit.Length](b, func(n numbers) float64 { s := at(n); return math.Sqrt(s.i / s.m) })
	c.Length = find[unit.Length](b, func(n numbers) float64 { return n.compoundLength() })
	c.ToBottom = find[unit.Length](b, func(n numbers) float64 { return n.centre() + n.bobHalf() })
	b.stepCompound(c)
	b.checkCompound(a)
}

func (b *bench) stepCompound(c *Compound) {
	if c.RodMass.Set {
		b.step("Rod", "m = section · length · density", fmt.Sprintf("%s long", b.q.RodLength), c.RodMass.Text("g", 1), compoundRule)
	}
	if !b.q.BobMass.Set {
		b.step("Bob", "m = volume · density", fmt.Sprintf("%s of %s", b.q.Bob, b.q.BobMaterial), c.BobMass.Text("kg", 3), compoundRule)
	}
	if c.Found {
		b.step("Where the bob must sit", "l = Σ m k² / Σ m x = L", "solved for the centre of the bob", c.BobCentre.Text("mm", 2), compoundRule)
	}
	b.step("Length of the compound pendulum", "l = k² / h", fmt.Sprintf("%s² / %s", text(c.Gyration, "mm", 2), text(c.Gravity, "mm", 2)), c.Length.Text("mm", 2), compoundRule)
}

// missingParts says what keeps the compound pendulum from being reckoned.
func (b *bench) missingParts(a *Answer) {
	q := b.q
	started := q.Bob != "" || q.BobMass.Set || q.BobDiameter.Set || q.RodLength.Set
	switch {
	case !started:
	case !a.Compound.BobMass.Set:
		b.say(meas.Doubt, "bob-mass", "The bob's weight is not known, so where it must sit cannot be told.", "Weigh it, or enter its shape, size and material.", compoundRule, "bob-mass")
	case !a.Length.Set:
		b.say(meas.Doubt, "bob-place", "Without a beat or a length the place of the bob cannot be told.", "Enter the beats an hour.", compoundRule, "beats")
	case !q.BobCentre.Set:
		b.say(meas.Clash, "bob-place", "No place of this bob on this rod gives the beat.", "Look at the weights again: a heavy rod with a light bob cannot be that long.", compoundRule, "rod-mass", "bob-mass")
	}
}

// checkCompound compares what was measured with what rod and bob make.
func (b *bench) checkCompound(a *Answer) {
	c := a.Compound
	if b.q.RodLength.Set && c.BobCentre.Set && float64(b.q.RodLength.Value) < float64(c.BobCentre.Value) {
		b.say(meas.Clash, "rod-short", fmt.Sprintf("The rod is %s long, but the middle of the bob must hang %s below the suspension.", b.q.RodLength, c.BobCentre.Text("mm", 0)),
			"The rod may have been shortened; measure it from the bending point of the suspension.", compoundRule, "rod-length")
	}
	if !c.Found && a.Length.Set && (known(b.n.length) || known(b.n.beat)) {
		off := find[unit.Rate](b, func(n numbers) float64 { return math.Sqrt(n.target()/n.compoundLength()) - 1 })
		if d := float64(off.Value) * 86400; d > 60 || d < -60 {
			b.say(meas.Clash, "bob-centre", fmt.Sprintf("With the bob at %s rod and bob make %s, which is %s a day off the beat.", b.q.BobCentre, c.Length.Text("mm", 1), inMinutes(math.Abs(float64(off.Value)))),
				"Measure the bob's middle from the bending point of the suspension.", compoundRule, "bob-centre")
		}
	}
}

func (b *bench) solveNut(a *Answer) {
	t := &a.Nut
	t.Pitch = find[unit.Pitch](b, func(n numbers) float64 { return n.pitch })
	t.Simple = find[unit.Rate](b, func(n numbers) float64 { return n.liftSimple(n.pitch) })
	turn := func(n numbers) float64 { return n.liftSimple(n.pitch) }
	ref := cite.Ref{Source: "beckett", Place: "p. 50"}
	formula, sums := "r = √(L/(L − p)) − 1", fmt.Sprintf("L = %s, p = %s", text(a.Length, "mm", 1), b.q.NutPitch)
	if a.Compound.Length.Set {
		turn = func(n numbers) float64 { return n.lift(n.pitch) }
		formula, sums = "r = √(l(c)/l(c − p)) − 1", fmt.Sprintf("bob at %s, p = %s", text(a.Compound.BobCentre, "mm", 1), b.q.NutPitch)
		ref = compoundRule
	}
	t.PerTurn = find[unit.Rate](b, turn)
	t.PerDivision = find[unit.Rate](b, func(n numbers) float64 { return turn(n) / n.divisions })
	if t.PerTurn.Set {
		b.step("One turn of the nut", formula, sums, t.PerTurn.Text("s/d", 1), ref)
	}
	if t.PerDivision.Set {
		b.step("One division", "r / divisions", fmt.Sprintf("%s / %d", text(t.PerTurn, "s/d", 1), b.q.NutDivisions), t.PerDivision.Text("s/d", 2), ref)
	}
	if t.Pitch.Set {
		t.Threads = threadsLike(float64(t.Pitch.Value), float64(t.Pitch.U))
		b.sayThread(t.Threads)
	}
	b.solveMove(a)
}

func (b *bench) sayThread(threads []Thread) {
	if len(threads) == 0 {
		b.say(meas.Note, "thread", "No standard thread has this pitch; the nut is older than standards, or the pitch wants measuring over more threads.", "", cite.Ref{Grade: cite.CommonPractice}, "nut-pitch")
		return
	}
	t := threads[0]
	b.say(meas.Note, "thread", fmt.Sprintf("The nearest standard thread is %s %s, %s to the inch.", t.Series, t.Size, unit.Number(t.TPI, 1)), "", cite.Ref{Place: t.Source}, "nut-pitch")
}

// solveMove tells how far the bob goes for a wanted change.
func (b *bench) solveMove(a *Answer) {
	m := &a.Move
	m.Raise = find[unit.Length](b, func(n numbers) float64 { return n.raiseFor(n.regulate) })
	m.Turns = find[unit.Ratio](b, func(n numbers) float64 { return n.raiseFor(n.regulate) / n.pitch })
	m.Divisions = find[unit.Ratio](b, func(n numbers) float64 { return n.raiseFor(n.regulate) / n.pitch * n.divisions })
	if m.Raise.Set {
		b.step("For the wanted change", "solve for the way of the bob", b.q.Regulate.String(), m.Raise.Text("mm", 3), cite.Ref{Source: "beckett", Place: "p. 50"})
	}
}
