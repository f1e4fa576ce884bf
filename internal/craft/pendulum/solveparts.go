package pendulum

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// compoundRule is where the compound pendulum is printed.
var compoundRule = cite.Ref{Source: "beckett", Place: "pp. 37–38"}

func (b *bench) solveCompound(a *Answer) {
	c := &a.Compound
	c.RodMass = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return n.rodWeight() })
	c.BobMass = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return n.bobWeight() })
	c.BobCentre = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.centre() })
	c.Found = c.BobCentre.Set && !b.q.BobCentre.Set
	if !c.BobMass.Set || !c.BobCentre.Set {
		b.missingBob(a)
		return
	}
	at := func(n numbers) sums { return n.withBob(n.centre(), 0) }
	c.Mass = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return at(n).m })
	c.Gravity = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { s := at(n); return s.s / s.m })
	c.Gyration = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { s := at(n); return math.Sqrt(s.i / s.m) })
	c.Length = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.compoundLength() })
	c.ToBottom = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.centre() + n.bobHalf() })
	if !c.Found {
		c.Rate = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return math.Sqrt(n.target()/n.compoundLength()) - 1 })
		c.Wanted = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.wanted() })
		c.Raise = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.bobCentre - n.wanted() })
	}
	b.stepCompound(c)
	b.missingRod(a)
	b.checkCompound(a)
}

func (b *bench) stepCompound(c *Compound) {
	if m, ok := FindMaterial(b.q.Rod); ok && c.RodMass.Set && !b.q.RodMass.Set {
		b.Step("Rod", "m = section · length · density", fmt.Sprintf("%s mm² · %s · %s", unit.Number(b.N.rodSection*1e6, 2), b.q.RodLength.Written("mm"), unit.Text(m.Density, "kg/m³", 0)), c.RodMass.Text("g", 1), m.DensityOf)
	}
	if !b.q.BobMass.Set {
		ref := cite.Ref{Grade: cite.Measured}
		if m, ok := FindMaterial(b.q.BobMaterial); ok && !b.q.BobDensity.Set {
			ref = m.DensityOf
		}
		b.Step("Bob", "m = volume · density", fmt.Sprintf("%s cm³ (%s) · %s", unit.Number(b.N.bobVolume()*1e6, 1), b.q.Bob, unit.Text(unit.Density(b.N.bobRho), "kg/m³", 0)), c.BobMass.Text("kg", 3), ref)
	}
	if c.Found {
		m, p, k := b.N.bobEquation(b.N.target())
		b.Step("Where the bob must sit", "x = (p + √(p² − 4 m c)) / 2 m, from Σ m k² = L Σ m x", fmt.Sprintf("m = %s kg, p = L m = %s kg m, c = Σ m k² − L Σ m x of the rest = %s kg m²", unit.Significant(m, 5), unit.Significant(p, 5), unit.Significant(k, 5)), c.BobCentre.Text("mm", 2), compoundRule)
	}
	b.Step("Length of the compound pendulum", "l = k² / h", fmt.Sprintf("(%s)² / %s", text(c.Gyration, "mm", 2), text(c.Gravity, "mm", 2)), c.Length.Text("mm", 2), compoundRule)
	if c.Rate.Set {
		b.Step("Rate of rod and bob as they are", "r = √(L / l) − 1", fmt.Sprintf("√(%s / %s) − 1", unit.Text(unit.Length(b.N.target()), "mm", 2), text(c.Length, "mm", 2)), c.Rate.Text("s/d", 1), compoundRule)
	}
}

// wanted is where the bob would have to sit, whatever was stated.
func (n numbers) wanted() float64 {
	n.bobCentre = math.NaN()
	return n.centre()
}

// missingBob says what keeps the compound pendulum from being reckoned.
func (b *bench) missingBob(a *Answer) {
	q := b.q
	started := q.Bob != "" || q.BobMass.Set || q.BobDiameter.Set || q.BobCentre.Set || q.RodLength.Set || q.RodMass.Set
	switch {
	case !started:
	case !a.Compound.BobMass.Set:
		b.Say(meas.Doubt, "bob-mass", "The bob's weight is not known, so where it must sit cannot be told.", "Weigh it, or enter its shape, size and material.", compoundRule, "bob-mass")
	case !a.Length.Set:
		b.Say(meas.Doubt, "bob-place", "Without a beat or a length the place of the bob cannot be told.", "Enter the beats an hour.", compoundRule, "beats")
	case !q.BobCentre.Set:
		b.Say(meas.Clash, "bob-place", "No place of this bob on this rod gives the beat.", "Look at the weights again: a heavy rod with a light bob cannot be that long.", compoundRule, "rod-mass", "bob-mass")
	}
}

// missingRod says what was left out of the compound pendulum.
func (b *bench) missingRod(a *Answer) {
	q := b.q
	rod := q.Rod != "" || q.RodMass.Set || q.RodDiameter.Set || q.RodWidth.Set
	switch {
	case rod && !q.RodLength.Set:
		b.Say(meas.Doubt, "rod-mass", "The rod is left out, because its length is not known.", "Enter the length of the rod from the bending point of the suspension.", compoundRule, "rod-length")
	case !a.Compound.RodMass.Set:
		b.Say(meas.Doubt, "rod-mass", "The rod is left out, because its weight is not known; with it the bob sits lower.", "Weigh the rod, or enter its material, length and section.", compoundRule, "rod-mass")
	}
	if known(b.N.bobVolume()) {
		return
	}
	b.Say(meas.Note, "bob-point", "The size of the bob is not known, so it counts as a point; a lens of 110 mm on a seconds pendulum sits about 1 mm higher than that.", "Enter its shape and size.", compoundRule, "bob")
}

// checkCompound compares what was measured with what rod and bob make.
func (b *bench) checkCompound(a *Answer) {
	c := a.Compound
	if b.q.RodLength.Set && b.q.RodLength.Value < c.BobCentre.Value {
		b.Say(meas.Clash, "rod-short", fmt.Sprintf("The rod is %s long, but the middle of the bob hangs %s below the suspension.", b.q.RodLength.Written("mm"), c.BobCentre.Text("mm", 0)),
			"The rod may have been shortened; measure it from the bending point of the suspension.", compoundRule, "rod-length")
	}
	if half := b.N.bobHalf(); known(half) && half > float64(c.BobCentre.Value) {
		b.Say(meas.Clash, "bob-high", "The bob would reach above the suspension.", "Look at the size of the bob again; a short pendulum wants a small one.", compoundRule, "bob-diameter")
	}
	off := math.Abs(float64(c.Rate.Value))
	if !c.Rate.Set || off*86400 <= clashRate || off < 2*float64(c.Rate.U) {
		return
	}
	next := "Measure the bob's middle from the bending point of the suspension."
	if c.Wanted.Set {
		next += " For the beat it would sit at " + c.Wanted.Text("mm", 1) + "."
	}
	b.Say(meas.Clash, "bob-centre", fmt.Sprintf("With the bob at %s rod and bob make %s, which is %s a day off.", b.q.BobCentre.Written("mm"), c.Length.Text("mm", 1), inMinutes(off)), next, compoundRule, "bob-centre")
}

func (b *bench) solveNut(a *Answer) {
	t := &a.Nut
	t.Pitch = meas.Find[unit.Pitch](&b.Bench, func(n numbers) float64 { return n.pitch })
	t.Simple = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.liftSimple(n.pitch) })
	turn := func(n numbers) float64 { return n.liftSimple(n.pitch) }
	ref := cite.Ref{Source: "beckett", Place: "p. 50"}
	formula, sums := "r = √(L/(L − p)) − 1", fmt.Sprintf("L = %s, p = %s", text(a.Length, "mm", 1), b.q.NutPitch.Written("mm"))
	if a.Compound.Length.Set {
		turn = func(n numbers) float64 { return n.lift(n.pitch) }
		formula, sums = "r = √(l(c)/l(c − p)) − 1", fmt.Sprintf("bob at %s, p = %s", text(a.Compound.BobCentre, "mm", 1), b.q.NutPitch.Written("mm"))
		ref = compoundRule
	}
	t.PerTurn = meas.Find[unit.Rate](&b.Bench, turn)
	t.PerDivision = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return turn(n) / n.divisions })
	if t.PerTurn.Set {
		b.Step("One turn of the nut", formula, sums, t.PerTurn.Text("s/d", 1), ref)
	}
	if t.PerDivision.Set {
		b.Step("One division", "r / divisions", fmt.Sprintf("%s / %d", text(t.PerTurn, "s/d", 1), b.q.NutDivisions), t.PerDivision.Text("s/d", 2), ref)
	}
	if t.Pitch.Set {
		t.Threads = threadsLike(float64(t.Pitch.Value), float64(t.Pitch.U))
		b.sayThread(t.Threads)
	}
	b.solveMove(a)
}

func (b *bench) sayThread(threads []Thread) {
	if len(threads) == 0 {
		b.Say(meas.Note, "thread", "No standard thread has this pitch; the nut is older than standards, or the pitch wants measuring over more threads.", "", cite.Ref{Grade: cite.CommonPractice}, "nut-pitch")
		return
	}
	s := "The nearest standard thread is " + threads[0].words()
	for i, t := range threads[1:] {
		if i == 0 {
			s += "; as near are "
		} else {
			s += ", "
		}
		s += t.words()
	}
	b.Say(meas.Note, "thread", s+".", "Try a known screw in the nut before cutting anything.", cite.Ref{Place: threads[0].Source}, "nut-pitch")
}

// words is a thread as it is spoken of.
func (t Thread) words() string {
	if t.Metric {
		return fmt.Sprintf("%s %s (%s)", t.Series, t.Size, unit.Text(t.Pitch, "mm", 2))
	}
	return fmt.Sprintf("%s %s (%s to the inch)", t.Series, t.Size, strings.TrimSuffix(unit.Number(t.TPI, 1), ".0"))
}

// solveMove tells how far the bob goes for a wanted change.
func (b *bench) solveMove(a *Answer) {
	m := &a.Move
	m.Raise = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.raiseFor(n.regulate) })
	m.Turns = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.raiseFor(n.regulate) / n.pitch })
	m.Divisions = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.raiseFor(n.regulate) / n.pitch * n.divisions })
	if !m.Raise.Set {
		return
	}
	ref := cite.Ref{Source: "beckett", Place: "p. 50"}
	r := fmt.Sprintf("r = %s = %s", unit.Text(b.q.Regulate.Value, "s/d", 2), unit.Significant(float64(b.q.Regulate.Value), 5))
	if a.Compound.Length.Set {
		b.Step("Way of the bob for the wanted change", "l(c − d) = l(c) / (1 + r)², solved for d", fmt.Sprintf("l = %s, %s", text(a.Compound.Length, "mm", 2), r), m.Raise.Text("mm", 3), compoundRule)
	} else {
		b.Step("Way of the bob for the wanted change", "ΔL = L − L / (1 + r)²", fmt.Sprintf("L = %s, %s", text(a.Length, "mm", 2), r), m.Raise.Text("mm", 3), ref)
	}
	if m.Turns.Set {
		b.Step("Turns of the nut", "ΔL / p", text(m.Raise, "mm", 3)+" / "+text(a.Nut.Pitch, "mm", 3), m.Turns.Text("", 2), ref)
	}
}
