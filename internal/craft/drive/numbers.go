package drive

import (
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// numbers is the query in SI, NaN where nothing was stated, so that what
// cannot be computed comes out NaN by itself.
type numbers struct {
	mass, density, wDia, wHeight, wBore, wanted, wLength float64

	barrel, barrelLength, turns, wraps, groove, line float64
	falls, layers                                    float64
	endless, grooved                                 bool

	ropeK, grade, wireRm, gutIndex, gutDensity, breaking, factor float64
	wires                                                        float64 // wires side by side across the line

	turnTime, turnsPerHour, wanting, usual, beats float64
	fall, space, seat, gap, above                 float64
	pendulum, suspension, bobHalf, bobMass, arc   float64
	band, gravity, friction                       float64

	sBarrel, sArbor, sThick, sHeight, sLength, sModulus, sTurns, coilsUp, coilsDown, sNew float64
}

// knob is an input that has an uncertainty.
type knob struct {
	name string
	at   func(*numbers) *float64
	u    float64
}

// bench is one calculation under way.
type bench struct {
	q     Query
	n     numbers
	knobs []knob
	steps []cite.Step
	finds []meas.Finding
}

// take puts a reading into its number, with a knob where it has a doubt.
func take[Q unit.Quantity](b *bench, name string, r meas.Reading[Q], at func(*numbers) *float64) {
	p := at(&b.n)
	*p = math.NaN()
	if !r.Set {
		return
	}
	*p = float64(r.Value)
	if r.HasU && r.U > 0 {
		b.knobs = append(b.knobs, knob{name, at, float64(r.U)})
	}
}

// or is a where it is a number, else b.
func or(a, b float64) float64 {
	if math.IsNaN(a) {
		return b
	}
	return a
}

func known(x float64) bool { return !math.IsNaN(x) }

// find computes a result and what its doubt comes from. Inputs that play no
// part are left out of the budget.
func find[Q unit.Quantity](b *bench, f func(numbers) float64) meas.Result[Q] {
	inputs := make([]meas.Input, len(b.knobs))
	for i, k := range b.knobs {
		inputs[i] = meas.Input{Name: k.name, Value: *k.at(&b.n), U: k.u}
	}
	r := meas.Propagate(func(x []float64) Q {
		n := b.n
		for i, k := range b.knobs {
			*k.at(&n) = x[i]
		}
		return Q(f(n))
	}, inputs...)
	kept := r.Budget[:0]
	for _, s := range r.Budget {
		if s.Part > 0 {
			kept = append(kept, s)
		}
	}
	r.Budget = kept
	if len(kept) == 0 {
		r.HasU, r.U, r.Budget = false, 0, nil
	}
	return r
}

// step writes a line of working.
func (b *bench) step(name, formula, sums, result string, ref cite.Ref) {
	b.steps = append(b.steps, cite.Step{Name: name, Formula: formula, Numbers: sums, Result: result, Ref: ref})
}

// say adds a finding.
func (b *bench) say(level meas.Level, code, text, next string, ref cite.Ref, about ...string) {
	b.finds = append(b.finds, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

// lay reads the whole query into a bench.
func lay(q Query) *bench {
	b := &bench{q: q}
	b.layWeight()
	b.layLine()
	b.layTime()
	b.layCase()
	b.laySpring()
	return b
}

func (b *bench) layWeight() {
	q := b.q
	take(b, "mass of the weight", q.WeightMass, func(n *numbers) *float64 { return &n.mass })
	take(b, "diameter of the weight", q.WeightDiameter, func(n *numbers) *float64 { return &n.wDia })
	take(b, "height of the weight", q.WeightHeight, func(n *numbers) *float64 { return &n.wHeight })
	take(b, "hole in the weight", q.WeightBore, func(n *numbers) *float64 { return &n.wBore })
	take(b, "mass wanted", q.WeightWanted, func(n *numbers) *float64 { return &n.wanted })
	take(b, "length of the weight", q.WeightLength, func(n *numbers) *float64 { return &n.wLength })
	density := q.WeightDensity
	if m, ok := FindMaterial(q.WeightMaterial); ok && !density.Set {
		density = meas.OfU(m.Value, m.Doubt())
		take(b, "density of "+m.Name, density, func(n *numbers) *float64 { return &n.density })
		return
	}
	take(b, "density of the weight", density, func(n *numbers) *float64 { return &n.density })
}

func (b *bench) layLine() {
	q := b.q
	take(b, "barrel diameter", q.BarrelDiameter, func(n *numbers) *float64 { return &n.barrel })
	take(b, "barrel length", q.BarrelLength, func(n *numbers) *float64 { return &n.barrelLength })
	take(b, "turns of the barrel", q.Turns, func(n *numbers) *float64 { return &n.turns })
	take(b, "turns left on", q.Wraps, func(n *numbers) *float64 { return &n.wraps })
	take(b, "pitch of the grooves", q.GroovePitch, func(n *numbers) *float64 { return &n.groove })
	take(b, "line diameter", q.LineDiameter, func(n *numbers) *float64 { return &n.line })
	take(b, "grade of the rope", q.RopeGrade, func(n *numbers) *float64 { return &n.grade })
	take(b, "stated breaking load", q.BreakingLoad, func(n *numbers) *float64 { return &n.breaking })
	take(b, "factor asked", q.Factor, func(n *numbers) *float64 { return &n.factor })
	b.n.endless, b.n.grooved = q.Barrel == Endless, q.Barrel == Grooved
	b.n.falls, b.n.layers = float64(max(q.Falls, 1)), float64(max(q.Layers, 1))
	b.n.wraps = or(b.n.wraps, usualWraps.V)
	if b.n.endless {
		b.n.wraps = 0
		if q.Falls == 0 {
			b.n.falls = 2
		}
	}
	b.layStrength()
}

func (b *bench) layTime() {
	q := b.q
	take(b, "time of one turn", q.TurnTime, func(n *numbers) *float64 { return &n.turnTime })
	take(b, "turns an hour", q.TurnsPerHour, func(n *numbers) *float64 { return &n.turnsPerHour })
	take(b, "running time", q.RunningTime, func(n *numbers) *float64 { return &n.wanting })
	take(b, "beats an hour", q.BeatsPerHour, func(n *numbers) *float64 { return &n.beats })
	b.n.usual = b.n.usualDue()
}

func (b *bench) layCase() {
	q := b.q
	take(b, "measured fall", q.Fall, func(n *numbers) *float64 { return &n.fall })
	take(b, "room in the case", q.Room, func(n *numbers) *float64 { return &n.space })
	take(b, "seat board to floor", q.SeatToFloor, func(n *numbers) *float64 { return &n.seat })
	take(b, "gap at the top", q.TopGap, func(n *numbers) *float64 { return &n.gap })
	take(b, "barrel above the seat board", q.BarrelAboveSeat, func(n *numbers) *float64 { return &n.above })
	take(b, "pendulum length", q.PendulumLength, func(n *numbers) *float64 { return &n.pendulum })
	take(b, "suspension above the seat board", q.SuspensionAboveSeat, func(n *numbers) *float64 { return &n.suspension })
	take(b, "half height of the bob", q.BobHalfHeight, func(n *numbers) *float64 { return &n.bobHalf })
	take(b, "mass of the bob", q.BobMass, func(n *numbers) *float64 { return &n.bobMass })
	take(b, "amplitude", q.Amplitude, func(n *numbers) *float64 { return &n.arc })
	take(b, "swing band", q.SwingBand, func(n *numbers) *float64 { return &n.band })
	take(b, "gravity", q.Gravity, func(n *numbers) *float64 { return &n.gravity })
	take(b, "friction", q.Friction, func(n *numbers) *float64 { return &n.friction })
	b.n.gravity = or(b.n.gravity, float64(unit.StandardGravity))
	b.n.friction = or(b.n.friction, 0)
	b.n.band = or(b.n.band, usualBand.V)
	b.n.gap = or(b.n.gap, 0)
	b.n.above = or(b.n.above, 0)
	b.n.suspension = or(b.n.suspension, 0)
}

func (b *bench) laySpring() {
	q := b.q
	take(b, "inside of the barrel", q.SpringBarrel, func(n *numbers) *float64 { return &n.sBarrel })
	take(b, "barrel arbor", q.SpringArbor, func(n *numbers) *float64 { return &n.sArbor })
	take(b, "thickness of the spring", q.SpringThickness, func(n *numbers) *float64 { return &n.sThick })
	take(b, "height of the spring", q.SpringHeight, func(n *numbers) *float64 { return &n.sHeight })
	take(b, "length of the spring", q.SpringLength, func(n *numbers) *float64 { return &n.sLength })
	take(b, "modulus of the spring", q.SpringModulus, func(n *numbers) *float64 { return &n.sModulus })
	take(b, "turns of the spring", q.SpringTurns, func(n *numbers) *float64 { return &n.sTurns })
	take(b, "coils counted wound", q.CoilsWound, func(n *numbers) *float64 { return &n.coilsUp })
	take(b, "coils counted down", q.CoilsDown, func(n *numbers) *float64 { return &n.coilsDown })
	take(b, "other thickness", q.SpringNewThickness, func(n *numbers) *float64 { return &n.sNew })
	b.n.sModulus = or(b.n.sModulus, float64(usualModulus.V))
}
