package mesh

import (
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/num"
)

// closing turns one leaf back against one tooth. The wheel's centre is the
// origin, the pinion's lies on the x axis at the distance; the wheel turns
// counter-clockwise and drives the leaf clockwise. The angle of a tooth or leaf
// is that of its middle past the line of centres, each in its own sense.
type closing struct {
	tooth    flank
	leaf     *leaf
	distance float64 // mm
	begin    float64 // angle of the tooth at which it comes within reach of the leaf's tip
}

// touch is where tooth and leaf meet.
type touch struct {
	Tooth, Leaf float64 // their angles past the line of centres, radians
	P           geom.Pt // mm, the wheel's centre at the origin
	N           geom.Pt // the way in which the tooth presses, of length 1
}

// closingOf prepares a tooth and a leaf at a distance: the point of the tooth
// that comes first within reach of the leaf is one of those that are tried.
func closingOf(curves []geom.Curve, l *leaf, distance float64) closing {
	c := closing{tooth: flankOf(curves), leaf: l, distance: distance, begin: math.Inf(1)}
	var first *side
	for i := range c.tooth.sides {
		for _, at := range c.tooth.sides[i].looks {
			if a := c.reach(at.r, at.at); a < c.begin {
				c.begin, first = a, &c.tooth.sides[i]
			}
		}
	}
	if first == nil {
		return c
	}
	t := num.Least(func(t float64) float64 {
		p, _ := first.curve.At(t)
		return c.reach(p.Len(), math.Atan2(p.Y, p.X))
	}, 0, 1, 1e-12)
	p, _ := first.curve.At(t)
	if a := c.reach(p.Len(), math.Atan2(p.Y, p.X)); a < c.begin {
		c.begin = a
		first.insert(t)
		c.tooth.count++
	}
	return c
}

// reach is the tooth's angle at which a point of it meets the leaf's tip
// circle, +Inf where it never does.
func (c *closing) reach(r, at float64) float64 {
	cos := (c.distance*c.distance + r*r - c.leaf.tip*c.leaf.tip) / (2 * c.distance * r)
	if !(cos < 1) {
		return math.Inf(1)
	}
	return -math.Acos(max(cos, -1)) - at
}

// place is a point of the tooth set against the leaf.
type place struct {
	grow float64 // of the sign of what one farther along the tooth asks for more
	u    geom.Pt // from the pinion's centre
	d    geom.Pt // way of the tooth's flank there, as it stands
	q    spot    // of the leaf
}

// asks is the angle that the leaf must have: its own at that distance from its
// centre and the direction of the point.
func (p place) asks() float64 { return math.Atan2(p.u.Y, -p.u.X) + p.q.angle() }

// at sets a point of a piece against the leaf; ok is false where the leaf does
// not reach so far.
func (c *closing) at(s *side, t, sin, cos float64) (place, bool) {
	p, d := s.curve.At(t)
	u := geom.Pt{X: p.X*cos - p.Y*sin - c.distance, Y: p.X*sin + p.Y*cos}
	q, ok := c.leaf.at(u.Len())
	if !ok {
		return place{}, false
	}
	e := geom.Pt{X: d.X*cos - d.Y*sin, Y: d.X*sin + d.Y*cos}
	// d(asks)/dt times the growth of the leaf's distance, which is not
	// negative: finite where the leaf runs along its tip circle.
	grow := (u.Y*e.X-u.X*e.Y)*q.p.Dot(q.d) + q.p.Cross(q.d)*u.Dot(e)
	return place{grow, u, e, q}, true
}

// near is how much less a point may ask for than the best of those tried and
// still be looked into, radians: what lies between two points, and the
// roughness of the first look.
const near = 0.01

// touch closes the gap for a tooth at an angle: the leaf's angle is the
// greatest that any point of the tooth asks for.
func (c *closing) touch(angle float64) (touch, bool) {
	sin, cos := math.Sincos(angle)
	var room [6 * (looks + 2)]float64
	asked := room[:]
	if c.tooth.count > len(asked) {
		asked = make([]float64, c.tooth.count)
	}
	most := c.ask(asked, sin, cos)
	if math.IsInf(most, 0) {
		return touch{}, false
	}
	var best climb
	n, found := 0, false
	for i := range c.tooth.sides {
		last := len(c.tooth.sides[i].looks) - 1
		for k := 0; k <= last; k, n = k+1, n+1 {
			h := asked[n]
			if h < most-near || k > 0 && asked[n-1] > h || k < last && asked[n+1] > h || k == 0 && i > 0 && asked[n-1] >= h {
				continue
			}
			x := climb{closing: c, sin: sin, cos: cos, i: i, k: k}
			var ok bool
			if x.best, ok = c.at(&c.tooth.sides[i], c.tooth.sides[i].looks[k].t, sin, cos); !ok {
				continue
			}
			x.asks = x.best.asks()
			if x.up(); !found || x.asks > best.asks {
				best, found = x, true
			}
		}
	}
	if !found {
		return touch{}, false
	}
	return best.touch(angle), true
}

// ask is about what each of the points tried asks for, −Inf where it does not
// reach the leaf, and the greatest.
func (c *closing) ask(asked []float64, sin, cos float64) float64 {
	most, n := math.Inf(-1), 0
	reach := c.leaf.tip * c.leaf.tip
	for i := range c.tooth.sides {
		for k := range c.tooth.sides[i].looks {
			p := c.tooth.sides[i].looks[k].p
			x, y := p.X*cos-p.Y*sin-c.distance, p.X*sin+p.Y*cos
			asked[n] = math.Inf(-1)
			if square := x*x + y*y; square <= reach {
				if a := c.leaf.about(square); !math.IsNaN(a) {
					asked[n] = math.Atan2(y, -x) + a
					most = max(most, asked[n])
				}
			}
			n++
		}
	}
	return most
}

// touch is the contact that was climbed to.
func (x *climb) touch(angle float64) touch {
	best := x.best
	out := touch{Tooth: angle, Leaf: x.asks, P: geom.Pt{X: best.u.X + x.distance, Y: best.u.Y}}
	if x.corner { // the leaf's flank is smooth there
		out.N = best.q.d.Left().Turn(math.Pi - x.asks).Times(-1).Unit()
	} else {
		out.N = best.d.Left().Unit()
	}
	return out
}

// climb goes from a point tried to the contact: where tooth and leaf have one
// tangent, or a corner of either.
type climb struct {
	*closing
	sin, cos float64
	i, k     int // piece and number of the point
	best     place
	asks     float64 // of the leaf, by the best
	corner   bool    // of the tooth
}

func (x *climb) up() {
	for range 4 * looks {
		last := len(x.tooth.sides[x.i].looks) - 1
		x.corner = x.k == 0 || x.k == last
		i, k := x.i, x.k
		if x.corner || x.best.grow > 0 {
			x.look(i, k, 1)
		}
		if x.corner || x.best.grow < 0 {
			x.look(i, k, -1)
		}
		if k == last && i+1 < len(x.tooth.sides) {
			x.look(i+1, 0, 1)
		}
		if k == 0 && i > 0 {
			x.look(i-1, len(x.tooth.sides[i-1].looks)-1, -1)
		}
		if x.i == i && x.k == k { // no step to another point tried
			return
		}
	}
}

// look goes from a point tried towards the next, and takes what is better.
func (x *climb) look(i, k, way int) {
	s := &x.tooth.sides[i]
	if k+way < 0 || k+way >= len(s.looks) {
		return
	}
	from, next := s.looks[k].t, s.looks[k+way].t
	t, ok := x.stationary(s, from, next)
	if !ok || t == from {
		return
	}
	p, ok := x.at(s, t, x.sin, x.cos)
	if asks := p.asks(); ok && asks >= x.asks {
		x.best, x.asks, x.corner = p, asks, false
		if t == next {
			x.i, x.k = i, k+way
		}
	}
}

// stationary is where the leaf's angle grows no more on the way from a to b;
// b, or as far as the leaf reaches, where it grows all the way; a where it
// does not.
func (x *climb) stationary(s *side, a, b float64) (t float64, ok bool) {
	grow := func(t float64) float64 {
		p, ok := x.at(s, t, x.sin, x.cos)
		if !ok {
			return math.NaN()
		}
		return p.grow * (b - a)
	}
	// The ends themselves may be points where a curve stands still.
	in := (b - a) * 1e-9
	if t, err := num.Root(grow, a+in, b-in, 1e-14); err == nil {
		return t, true
	}
	to, ok := within(func(t float64) bool { _, ok := x.at(s, t, x.sin, x.cos); return ok }, a, b)
	if !ok {
		return a, false
	}
	in = (to - a) * 1e-9
	if grow(to-in) > 0 {
		return to, true
	}
	t, err := num.Root(grow, a+in, to-in, 1e-14)
	return t, err == nil
}

// within is how far from a towards b the tooth lies within the leaf's reach.
func within(reaches func(float64) bool, a, b float64) (edge float64, ok bool) {
	if reaches(b) {
		return b, true
	}
	in, out := a, b
	for { // by halves: beyond the leaf's end there is no value
		m := (in + out) / 2
		if m == in || m == out {
			return in, in != a
		}
		if reaches(m) {
			in = m
		} else {
			out = m
		}
	}
}
