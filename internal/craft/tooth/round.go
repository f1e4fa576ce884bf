package tooth

import (
	"fmt"
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// RoundError says that a corner cannot be rounded by so much.
type RoundError struct {
	Of   Part // whose teeth
	Tip  bool // at the tip; else at the root
	Full bool // one round from side to side was asked for
	Most unit.Length
}

// Error implements error.
func (e *RoundError) Error() string {
	where := "root"
	if e.Tip {
		where = "tip"
	}
	return fmt.Sprintf("tooth: the %s of the %s can be rounded by %.4f mm at the most", where, e.Of, e.Most.MM())
}

// Fault says at its field how far a corner can be rounded, of a radius as it
// was typed.
func (e *RoundError) Fault(typed string) meas.Fault {
	most := unit.Text(e.Most, "mm", 3)
	switch {
	case e.Tip:
		return meas.Fault{Field: "tip-radius", Text: "A radius of " + typed + " is more than the tip of a tooth has room for; it must be less than " + most}
	case e.Full:
		return meas.Fault{Field: "bottom", Text: "One round from side to side would reach over the pitch circle of the " + string(e.Of) + "; enter a radius of up to " + most + " for the corners"}
	}
	return meas.Fault{Field: "root-radius", Text: "A radius of " + typed + " is more than the space of the " + string(e.Of) + " has room for; up to " + most + " goes in, which is round from side to side or begins on the pitch circle"}
}

// corner is the rounding between a flank and the bottom of a space.
type corner struct {
	centre, flank, bottom geom.Pt // and where it leaves both, mm
	radius, along         float64 // mm; along the flank from its foot to where it begins
}

// cornerOf rounds the corner between a straight flank and the root circle that
// it stands on, in the space beside it.
func cornerOf(s Straight, root, radius float64) corner {
	d := s.To.Minus(s.From).Unit()
	out := s.From.Plus(d.Left().Times(radius)) // of the centre when it is at the foot
	b, c := out.Dot(d), 2*radius*(s.From.Dot(d.Left())-root)
	t := math.Sqrt(b*b-c) - b
	k := corner{centre: out.Plus(d.Times(t)), flank: s.From.Plus(d.Times(t)), radius: radius, along: t}
	k.bottom = k.centre.Times(root / k.centre.Len())
	return k
}

// rooted is the gear with its roots rounded by a radius in mm, or by one arc
// from side to side. The bottom stays where it is.
func (g Gear) rooted(radius float64, full bool) (Gear, error) {
	of := ThePinion
	if g.Driver {
		of = TheWheel
	}
	flank, root := g.Flank[0].(Straight), g.Root.MM()
	long := flank.To.Minus(flank.From).Len()
	whole := 4 * root // more than any space has
	most := []float64{
		max(0, zero(func(r float64) float64 { return cornerOf(flank, root, r).centre.Angle() - g.Step()/2 }, 0, whole)),
		zero(func(r float64) float64 { return cornerOf(flank, root, r).along - long }, 0, whole),
	}
	if full {
		radius = most[0]
	}
	if limit := min(most[0], most[1]); radius > limit*(1+1e-12) {
		return g, &RoundError{Of: of, Full: full, Most: unit.Millimetres(limit)}
	}
	k := cornerOf(flank, root, radius)
	begin, end := k.bottom.Minus(k.centre).Angle(), k.flank.Minus(k.centre).Angle()
	turn := math.Remainder(end-begin, 2*math.Pi)
	pieces := []geom.Curve{Round{Centre: k.centre, Radius: radius, Begin: begin, Turn: turn}}
	if long-k.along > 1e-9*long {
		pieces = append(pieces, Straight{k.flank, flank.To})
	}
	g.Flank = append(pieces, g.Flank[1:]...)
	g.RootRadius = unit.Millimetres(radius)
	return g, nil
}

// zero is where a rising function comes to nought; the end of the range where
// it does not.
func zero(f func(float64) float64, low, high float64) float64 {
	if f(high) <= 0 {
		return high
	}
	for range 100 {
		if mid := (low + high) / 2; f(mid) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

// tipped rounds the corner at the tip of a wheel's tooth by a radius in mm: a
// curve that ends at a land, or at its point on the x axis, where the tooth
// gets lower by it. part is the parameter at which the curve is left.
func tipped(curve geom.Curve, land bool, radius float64) (pieces []geom.Curve, part float64, err error) {
	centre := func(t float64) geom.Pt {
		if t == 0 {
			t = 1e-9 // an epicycloid stands still at its beginning
		}
		p, d := curve.At(t)
		return p.Minus(d.Unit().Left().Times(radius))
	}
	p, _ := curve.At(1)
	tip := p.Len()
	if land {
		part = zero(func(t float64) float64 { return centre(t).Len() - (tip - radius) }, 0, 1)
		if c := centre(part); part > 1e-9 && c.Y >= 0 {
			return cornered(curve, part, c, radius, c.Times(tip/c.Len())), part, nil
		}
	}
	part = zero(func(t float64) float64 { return -centre(t).Y }, 0, 1)
	if !(part > 1e-9) {
		start, _ := curve.At(0)
		return nil, 0, &RoundError{Of: TheWheel, Tip: true, Most: unit.Millimetres(start.Y)}
	}
	c := centre(part)
	return cornered(curve, part, c, radius, geom.Pt{X: c.X + radius}), part, nil
}

// cornered is a curve to a parameter, a round about a centre to a point, and
// from there the land.
func cornered(curve geom.Curve, part float64, centre geom.Pt, radius float64, to geom.Pt) []geom.Curve {
	from, _ := curve.At(part)
	begin := from.Minus(centre).Angle()
	round := Round{Centre: centre, Radius: radius, Begin: begin, Turn: math.Remainder(to.Minus(centre).Angle()-begin, 2*math.Pi)}
	out := []geom.Curve{until(curve, part), round}
	if to.Y > 1e-12*to.X {
		return append(out, land(to))
	}
	centred := &out[1]
	round.Centre.Y, round.Turn = 0, -begin
	*centred = round
	return out
}

// until is a curve of a wheel's tooth as far as a parameter.
func until(c geom.Curve, part float64) geom.Curve {
	switch c := c.(type) {
	case Epicycloid:
		c.Turn *= part
		return c
	case Parallel:
		c.To = c.From + part*(c.To-c.From)
		return c
	case Round:
		c.Turn *= part
		return c
	}
	return c
}

// RootRoom is the least room between the rounded roots of a gear and the tips
// of its mate, in mm, while both roll on their pitch circles at a distance and
// the mate leans to either side of its space; below 0 they touch. +Inf where
// the mate never comes beside a rounding.
func (g Gear) RootRoom(mate Gear, distance unit.Length) float64 {
	round, ok := g.Flank[0].(Round)
	if !ok || g.RootRadius == 0 {
		return math.Inf(1)
	}
	ratio, d := g.Pitch.MM()/mate.Pitch.MM(), distance.MM()
	lean := max(((g.Step()-2*g.Half)*ratio-2*mate.Half)/2, 0)
	tip := mate.profile()
	centre := round.Centre.Turn(-g.Step() / 2) // the middle of the space on the x axis
	from := round.Begin - g.Step()/2
	least := math.Inf(1)
	const turns = 60
	for i := -turns; i <= turns; i++ {
		a := 0.75 * g.Step() * float64(i) / turns
		for _, by := range [...]float64{-lean, lean} {
			for _, p := range tip {
				q := p.Turn(math.Pi - a*ratio + by).Plus(geom.Pt{X: d}).Turn(-a)
				for _, side := range [...]float64{1, -1} {
					v := geom.Pt{X: q.X, Y: side * q.Y}.Minus(centre)
					if in := math.Remainder(v.Angle()-from, 2*math.Pi) / round.Turn; in >= 0 && in <= 1 {
						least = min(least, round.Radius-v.Len())
					}
				}
			}
		}
	}
	return least
}

// profile are points of both sides of a tooth above its pitch circle.
func (g Gear) profile() []geom.Pt {
	var out []geom.Pt
	for _, c := range g.Flank {
		for k := 0; k <= 24; k++ {
			if p, _ := c.At(float64(k) / 24); p.Len() >= g.Pitch.MM()-1e-9 {
				out = append(out, p, geom.Pt{X: p.X, Y: -p.Y})
			}
		}
	}
	return out
}
