package tooth

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// Gear is one toothed part as it is to be cut. Its centre is the origin, and
// the centre line of one tooth is the x axis.
type Gear struct {
	Count  train.Teeth
	Driver bool        // a wheel; else the pinion that it drives
	Pitch  unit.Length // radius of the pitch circle
	Tip    unit.Length // radius over the tips: half of the blank
	Root   unit.Length // radius at the bottom of the spaces
	Half   float64     // half the angle of a tooth on the pitch circle, radians

	// Flank is one side of the tooth, that with y ≥ 0, from the root circle to
	// the tip on the x axis, piece after piece without a gap. The other side is
	// its mirror image. The pins of a lantern pinion are circles: its flank is
	// the half circle from the inner to the outer point of a pin.
	Flank   []geom.Curve
	Lantern bool

	RootRadius, TipRadius unit.Length // of roundings that were asked for; 0: as the form has it
}

// Pair is a wheel with the pinion that it drives, as designed.
type Pair struct {
	Wheel, Pinion Gear
	Distance      unit.Length // between the centres, pitch circles touching
}

// Step is the angle from one tooth to the next, radians.
func (g Gear) Step() float64 { return 2 * math.Pi / float64(g.Count) }

// Straight is a straight piece of a flank, a radial one where it points to the
// centre.
type Straight struct{ From, To geom.Pt }

// At implements geom.Curve.
func (s Straight) At(t float64) (p, d geom.Pt) {
	d = s.To.Minus(s.From)
	return s.From.Plus(d.Times(t)), d
}

// Epicycloid is what a point of a circle of radius Rolling describes that
// rolls on the outside of a circle of radius Base, both in mm, while its
// centre goes round by an angle from 0 to Turn. The point begins on the base
// circle in the direction Begin and is carried round by Turn.
type Epicycloid struct {
	Base, Rolling float64
	Begin, Turn   float64 // radians, positive counter-clockwise
}

// At implements geom.Curve. At t = 0 the curve leaves the base circle along
// the radius and its derivative is nought.
func (e Epicycloid) At(t float64) (p, d geom.Pt) {
	far, k := e.Base+e.Rolling, (e.Base+e.Rolling)/e.Rolling
	a := t * e.Turn
	out, back := geom.Polar(far, e.Begin+a), geom.Polar(e.Rolling, e.Begin+k*a)
	return out.Minus(back), out.Minus(back.Times(k)).Left().Times(e.Turn)
}

// Round is a piece of a circle about a centre, from one angle on by a turn.
type Round struct {
	Centre      geom.Pt
	Radius      float64
	Begin, Turn float64
}

// At implements geom.Curve.
func (r Round) At(t float64) (p, d geom.Pt) {
	out := geom.Polar(r.Radius, r.Begin+t*r.Turn)
	return r.Centre.Plus(out), out.Left().Times(r.Turn)
}
