package tooth

import (
	"fmt"
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/num"
)

// Parallel runs beside an epicycloid at a distance to its left, in mm, from
// one of its parameters to another. It is what the pins of a lantern pinion
// cut: their centres describe the epicycloid.
type Parallel struct {
	Of       Epicycloid
	Off      float64 // negative: to the right
	From, To float64 // parameters of the epicycloid
}

// At implements geom.Curve. Where the curve of the epicycloid is as sharp as
// the distance is wide the derivative is nought, and before it the curve runs
// backwards.
func (p Parallel) At(t float64) (at, d geom.Pt) {
	u := p.From + t*(p.To-p.From)
	way, speed, bend := p.Of.way(u)
	at, _ = p.Of.At(u)
	return at.Plus(way.Left().Times(p.Off)), way.Times((speed - p.Off*bend) * (p.To - p.From))
}

// way is the direction at t, of length 1, the speed along it, and the rate at
// which the direction turns to the left. It holds on the base circle too.
func (e Epicycloid) way(t float64) (way geom.Pt, speed, bend float64) {
	a, k := t*e.Turn, (e.Base+e.Rolling)/e.Rolling
	speed = 2 * (e.Base + e.Rolling) * math.Sin((k-1)*a/2) * e.Turn
	return geom.Polar(1, e.Begin+(k+1)*a/2), speed, (k + 1) / 2 * e.Turn
}

// to is the curve carried round by a turn towards the x axis.
func (e Epicycloid) to(turn float64) Epicycloid {
	e.Turn = -turn
	return e
}

// after is the point after a turn towards the x axis.
func (e Epicycloid) after(turn float64) geom.Pt {
	p, _ := e.to(turn).At(1)
	return p
}

// out is its distance from the centre.
func (e Epicycloid) out(turn float64) float64 { return e.after(turn).Len() }

// bent is the radius to which the curve is bent after a turn.
func (e Epicycloid) bent(turn float64) float64 {
	return 4 * (e.Base + e.Rolling) * e.Rolling / (e.Base + 2*e.Rolling) * math.Sin(e.Base*turn/(2*e.Rolling))
}

// arch is as far as a turn is looked for: half of an arch, and no more than
// stays on one side of the centre.
func (e Epicycloid) arch() float64 { return min(math.Pi*e.Rolling/e.Base, 2.5) }

// pointed is the turn at which the flank comes to the x axis.
func (e Epicycloid) pointed() float64 {
	return root(func(a float64) float64 { return e.after(a).Angle() }, 0, e.arch())
}

// reaches is the turn at which the curve is so far from the centre.
func (e Epicycloid) reaches(radius, most float64) float64 {
	return root(func(a float64) float64 { return e.out(a) - radius }, 0, most)
}

// root is where f changes its sign; the end at which f is nearer to nought
// where it does not.
func root(f func(float64) float64, a, b float64) float64 {
	x, err := num.Root(f, a, b, 1e-16)
	if err == nil {
		return x
	}
	if math.Abs(f(a)) < math.Abs(f(b)) {
		return a
	}
	return b
}

// topped is the curve to a turn, and a land about the centre where that is
// short of the point.
func (e Epicycloid) topped(turn, point float64) []geom.Curve {
	e = e.to(turn)
	p, _ := e.At(1)
	if turn >= point {
		return []geom.Curve{e}
	}
	return []geom.Curve{e, land(p)}
}

// land is the arc about the centre from a point to the x axis.
func land(p geom.Pt) Round { return Round{Radius: p.Len(), Begin: p.Angle(), Turn: -p.Angle()} }

// cap is the arc that goes on from the curve after a turn without a corner
// and has its centre on the x axis.
func (e Epicycloid) cap(turn float64) Round {
	e = e.to(turn)
	p, _ := e.At(1)
	way, _, _ := e.way(1)
	in := way.Left().Times(-1)
	c := geom.Pt{X: p.X - in.X*p.Y/in.Y}
	begin := p.Minus(c).Angle()
	return Round{Centre: c, Radius: p.Minus(c).Len(), Begin: begin, Turn: -begin}
}

// capped is the curve as far as it is needed and farther as long as an arc
// that rounds it off would stand out beyond the curve itself.
func (e Epicycloid) capped(need float64) []geom.Curve {
	point := e.pointed()
	turn := root(func(a float64) float64 { return e.cap(a).Radius - e.bent(a) }, 0, point)
	turn = max(turn, need)
	if turn >= point*(1-1e-9) {
		return []geom.Curve{e.to(point)}
	}
	return []geom.Curve{e.to(turn), e.cap(turn)}
}

// rounded is the curve with an arc that ends at a radius; below the height of
// a half round the tooth is topped.
func (e Epicycloid) rounded(radius float64) ([]geom.Curve, float64, error) {
	point := e.pointed()
	top := func(a float64) float64 { c := e.cap(a); return c.Centre.X + c.Radius - radius }
	if top(0) < 0 {
		turn := root(top, 0, point)
		return []geom.Curve{e.to(turn), e.cap(turn)}, turn, nil
	}
	turn := e.reaches(radius, point)
	return e.topped(turn, point), turn, nil
}

// halfRound is a tip rounded by half the width that the tooth has there.
func halfRound(pitch, half float64) []geom.Curve {
	sin, cos := math.Sincos(half)
	return []geom.Curve{Round{Centre: geom.Pt{X: pitch / cos}, Radius: pitch * sin / cos, Begin: half + math.Pi/2, Turn: -half - math.Pi/2}}
}

// twoArcs is the side of a tooth that leaves its radial flank without a
// corner and meets the other side at a height above the pitch circle.
func twoArcs(pitch, half, height float64) ([]geom.Curve, error) {
	from, tip := geom.Polar(pitch, half), geom.Pt{X: pitch + height}
	in := geom.Polar(1, half).Left().Times(-1)
	v := tip.Minus(from)
	r := v.Dot(v) / (2 * in.Dot(v))
	c := from.Plus(in.Times(r))
	if c.Y > 0 {
		return nil, fmt.Errorf("%w: arcs need at least half the thickness of the tooth", ErrHeight)
	}
	begin := from.Minus(c).Angle()
	return []geom.Curve{Round{Centre: c, Radius: r, Begin: begin, Turn: tip.Minus(c).Angle() - begin}}, nil
}
