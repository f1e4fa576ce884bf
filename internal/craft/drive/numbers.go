package drive

import (
	"math"

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

	ropeK, grade, tensile, wireRm, gutIndex, gutDensity, breaking, factor float64
	wires                                                                 float64 // wires side by side across the line

	turnTime, turnsPerHour, wanting, usual, beats float64
	fall, space, seat, gap, above                 float64
	pendulum, suspension, bobHalf, bobMass, arc   float64
	band, gravity, friction                       float64

	sBarrel, sArbor, sThick, sHeight, sLength, sModulus, sTurns, coilsUp, coilsDown, sNew float64
}

// bench is one calculation under way.
type bench struct {
	meas.Bench[numbers]
	q Query
}

// or is a where it is a number, else b.
func or(a, b float64) float64 {
	if math.IsNaN(a) {
		return b
	}
	return a
}

func known(x float64) bool { return !math.IsNaN(x) }

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
	meas.Take(&b.Bench, "mass of the weight", q.WeightMass, func(n *numbers) *float64 { return &n.mass })
	meas.Take(&b.Bench, "diameter of the weight", q.WeightDiameter, func(n *numbers) *float64 { return &n.wDia })
	meas.Take(&b.Bench, "height of the weight", q.WeightHeight, func(n *numbers) *float64 { return &n.wHeight })
	meas.Take(&b.Bench, "hole in the weight", q.WeightBore, func(n *numbers) *float64 { return &n.wBore })
	meas.Take(&b.Bench, "mass wanted", q.WeightWanted, func(n *numbers) *float64 { return &n.wanted })
	meas.Take(&b.Bench, "length of the weight", q.WeightLength, func(n *numbers) *float64 { return &n.wLength })
	density := q.WeightDensity
	if m, ok := FindMaterial(q.WeightMaterial); ok && !density.Set {
		density = meas.OfU(m.Value, m.Doubt())
		meas.Take(&b.Bench, "density of "+m.Name, density, func(n *numbers) *float64 { return &n.density })
		return
	}
	meas.Take(&b.Bench, "density of the weight", density, func(n *numbers) *float64 { return &n.density })
}

func (b *bench) layLine() {
	q := b.q
	meas.Take(&b.Bench, "barrel diameter", q.BarrelDiameter, func(n *numbers) *float64 { return &n.barrel })
	meas.Take(&b.Bench, "barrel length", q.BarrelLength, func(n *numbers) *float64 { return &n.barrelLength })
	meas.Take(&b.Bench, "turns of the barrel", q.Turns, func(n *numbers) *float64 { return &n.turns })
	meas.Take(&b.Bench, "turns left on", q.Wraps, func(n *numbers) *float64 { return &n.wraps })
	meas.Take(&b.Bench, "pitch of the grooves", q.GroovePitch, func(n *numbers) *float64 { return &n.groove })
	meas.Take(&b.Bench, "line diameter", q.LineDiameter, func(n *numbers) *float64 { return &n.line })
	meas.Take(&b.Bench, "grade of the rope", q.RopeGrade, func(n *numbers) *float64 { return &n.grade })
	meas.Take(&b.Bench, "stated breaking load", q.BreakingLoad, func(n *numbers) *float64 { return &n.breaking })
	meas.Take(&b.Bench, "factor asked", q.Factor, func(n *numbers) *float64 { return &n.factor })
	b.N.endless, b.N.grooved = q.Barrel == Endless, q.Barrel == Grooved
	b.N.falls, b.N.layers = float64(max(q.Falls, 1)), float64(max(q.Layers, 1))
	b.N.wraps = or(b.N.wraps, usualWraps.V)
	if b.N.endless {
		b.N.wraps = 0
		if q.Falls == 0 {
			b.N.falls = 2
		}
	}
	b.layStrength()
}

func (b *bench) layTime() {
	q := b.q
	meas.Take(&b.Bench, "time of one turn", q.TurnTime, func(n *numbers) *float64 { return &n.turnTime })
	meas.Take(&b.Bench, "turns an hour", q.TurnsPerHour, func(n *numbers) *float64 { return &n.turnsPerHour })
	meas.Take(&b.Bench, "running time", q.RunningTime, func(n *numbers) *float64 { return &n.wanting })
	meas.Take(&b.Bench, "beats an hour", q.BeatsPerHour, func(n *numbers) *float64 { return &n.beats })
	b.N.usual = b.N.usualDue()
}

func (b *bench) layCase() {
	q := b.q
	meas.Take(&b.Bench, "measured fall", q.Fall, func(n *numbers) *float64 { return &n.fall })
	meas.Take(&b.Bench, "room in the case", q.Room, func(n *numbers) *float64 { return &n.space })
	meas.Take(&b.Bench, "seat board to floor", q.SeatToFloor, func(n *numbers) *float64 { return &n.seat })
	meas.Take(&b.Bench, "gap at the top", q.TopGap, func(n *numbers) *float64 { return &n.gap })
	meas.Take(&b.Bench, "barrel above the seat board", q.BarrelAboveSeat, func(n *numbers) *float64 { return &n.above })
	meas.Take(&b.Bench, "pendulum length", q.PendulumLength, func(n *numbers) *float64 { return &n.pendulum })
	meas.Take(&b.Bench, "suspension above the seat board", q.SuspensionAboveSeat, func(n *numbers) *float64 { return &n.suspension })
	meas.Take(&b.Bench, "half height of the bob", q.BobHalfHeight, func(n *numbers) *float64 { return &n.bobHalf })
	meas.Take(&b.Bench, "mass of the bob", q.BobMass, func(n *numbers) *float64 { return &n.bobMass })
	meas.Take(&b.Bench, "amplitude", q.Amplitude, func(n *numbers) *float64 { return &n.arc })
	meas.Take(&b.Bench, "swing band", q.SwingBand, func(n *numbers) *float64 { return &n.band })
	meas.Take(&b.Bench, "gravity", q.Gravity, func(n *numbers) *float64 { return &n.gravity })
	meas.Take(&b.Bench, "friction", q.Friction, func(n *numbers) *float64 { return &n.friction })
	b.N.gravity = or(b.N.gravity, float64(unit.StandardGravity))
	b.N.friction = or(b.N.friction, 0)
	b.N.band = or(b.N.band, usualBand.V)
	b.N.gap = or(b.N.gap, 0)
	b.N.above = or(b.N.above, 0)
	b.N.suspension = or(b.N.suspension, 0)
}

func (b *bench) laySpring() {
	q := b.q
	meas.Take(&b.Bench, "inside of the barrel", q.SpringBarrel, func(n *numbers) *float64 { return &n.sBarrel })
	meas.Take(&b.Bench, "barrel arbor", q.SpringArbor, func(n *numbers) *float64 { return &n.sArbor })
	meas.Take(&b.Bench, "thickness of the spring", q.SpringThickness, func(n *numbers) *float64 { return &n.sThick })
	meas.Take(&b.Bench, "height of the spring", q.SpringHeight, func(n *numbers) *float64 { return &n.sHeight })
	meas.Take(&b.Bench, "length of the spring", q.SpringLength, func(n *numbers) *float64 { return &n.sLength })
	meas.Take(&b.Bench, "modulus of the spring", q.SpringModulus, func(n *numbers) *float64 { return &n.sModulus })
	meas.Take(&b.Bench, "turns of the spring", q.SpringTurns, func(n *numbers) *float64 { return &n.sTurns })
	meas.Take(&b.Bench, "coils counted wound", q.CoilsWound, func(n *numbers) *float64 { return &n.coilsUp })
	meas.Take(&b.Bench, "coils counted down", q.CoilsDown, func(n *numbers) *float64 { return &n.coilsDown })
	meas.Take(&b.Bench, "other thickness", q.SpringNewThickness, func(n *numbers) *float64 { return &n.sNew })
	b.N.sModulus = or(b.N.sModulus, float64(usualModulus.V))
}
