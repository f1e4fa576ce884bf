package mesh

import (
	"math"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/num"
)

// leaf is the side of a driven tooth by its distance from the centre: pieces
// along which the distance grows. At one distance the foremost piece counts.
type leaf struct {
	tip    float64 // mm
	pieces []run
	rough  []float64 // angles at distances whose squares lie evenly, for a first look; NaN where there is no leaf
	low    float64   // square of the first of the distances
	scale  float64   // places in rough for a square millimetre
}

// run is a piece of a flank along which the distance from the centre grows.
type run struct {
	curve    geom.Curve
	from, to float64 // parameters
	low, top float64 // distances, mm
}

// leafOf reads a flank. A piece along which the distance turns back is cut
// there; a land about the centre adds nothing to its corner.
func leafOf(flank []geom.Curve) *leaf {
	const looks = 64
	l := &leaf{}
	add := func(c geom.Curve, a, b float64) {
		p, _ := c.At(a)
		q, _ := c.At(b)
		low, top := p.Len(), q.Len()
		l.tip = max(l.tip, low, top)
		if low > top {
			a, b, low, top = b, a, top, low
		}
		if top-low > 1e-12*top {
			l.pieces = append(l.pieces, run{c, a, b, low, top})
		}
	}
	for _, c := range flank {
		from, rising := 0.0, 0.0
		for i := 0; i < looks; i++ {
			a, b := float64(i)/looks, float64(i+1)/looks
			p, _ := c.At(a)
			q, _ := c.At(b)
			grows := q.Len() - p.Len()
			if rising*grows < 0 {
				turn := turning(c, max(a-1.0/looks, 0), b)
				add(c, from, turn)
				from = turn
			}
			rising = grows
		}
		add(c, from, 1)
	}
	l.tabulate()
	return l
}

// tabulate lays out the rough angles.
func (l *leaf) tabulate() {
	const n = 256
	least := l.tip
	for _, k := range l.pieces {
		least = min(least, k.low)
	}
	l.low = least * least
	l.scale = n / (l.tip*l.tip - l.low)
	l.rough = make([]float64, n+1)
	for i := range l.rough {
		l.rough[i] = math.NaN()
		r := math.Sqrt(l.low + float64(i)/l.scale)
		if s, ok := l.at(min(max(r, math.Sqrt(l.low)), l.tip)); ok {
			l.rough[i] = s.angle()
		}
	}
}

// turning is where the distance from the centre stands still.
func turning(c geom.Curve, a, b float64) float64 {
	t, err := num.Root(func(t float64) float64 { p, d := c.At(t); return p.Dot(d) }, a, b, 1e-15)
	if err != nil {
		return (a + b) / 2
	}
	return t
}

// spot is a point of a leaf, and the way of the flank there.
type spot struct{ p, d geom.Pt }

// angle is that of the point from the middle of the leaf.
func (s spot) angle() float64 { return math.Atan2(s.p.Y, s.p.X) }

// at is the foremost point of the leaf at a distance from its centre.
func (l *leaf) at(r float64) (spot, bool) {
	best, found := spot{}, false
	for i := range l.pieces {
		k := &l.pieces[i]
		if r < k.low || r > k.top {
			continue
		}
		p, d := k.curve.At(k.find(r))
		if k.to < k.from {
			d = d.Times(-1)
		}
		if s := (spot{p, d}); !found || s.angle() > best.angle() {
			best, found = s, true
		}
	}
	return best, found
}

// about is the angle at about a distance, given as its square; NaN where
// there is no leaf.
func (l *leaf) about(square float64) float64 {
	x := (square - l.low) * l.scale
	i := int(x)
	switch {
	case !(x >= 0) || i >= len(l.rough):
		return math.NaN()
	case i == len(l.rough)-1:
		return l.rough[i]
	}
	return l.rough[i] + (x-float64(i))*(l.rough[i+1]-l.rough[i])
}

// find is the parameter of a piece at a distance from the centre.
func (k *run) find(r float64) float64 {
	var t float64
	switch c := k.curve.(type) {
	case tooth.Straight:
		t = straightAt(c, r, k)
	case tooth.Epicycloid:
		t = epicycloidAt(c, r)
	case tooth.Round:
		t = roundAt(c, r, k)
	case pit:
		inner := *k
		inner.curve = c.of
		t = inner.find(r)
	default:
		t = k.search(r)
	}
	low, high := min(k.from, k.to), max(k.from, k.to)
	return min(max(t, low), high)
}

func (k *run) search(r float64) float64 {
	t, err := num.Root(func(t float64) float64 { p, _ := k.curve.At(t); return p.Len() - r }, k.from, k.to, 1e-16)
	if err != nil {
		return k.to
	}
	return t
}

// straightAt is where a straight line has a distance from the origin.
func straightAt(c tooth.Straight, r float64, k *run) float64 {
	v := c.To.Minus(c.From)
	l := v.Len()
	along := -c.From.Dot(v) / (l * l) // nearest to the centre
	off := c.From.Cross(v) / l
	step := math.Sqrt(max(r*r-off*off, 0)) / l
	if k.to < k.from {
		return along - step
	}
	return along + step
}

// epicycloidAt uses ρ² = R² + 4 (R+b) b sin²((k−1)a/2).
func epicycloidAt(c tooth.Epicycloid, r float64) float64 {
	far, b := c.Base+c.Rolling, c.Rolling
	s := math.Sqrt(max(r-c.Base, 0) * (r + c.Base) / (4 * far * b))
	a := 2 * math.Asin(min(s, 1)) * b / c.Base
	return a / math.Abs(c.Turn)
}

// roundAt is where a circle has a distance from the origin, on the side of
// its centre that the piece lies on.
func roundAt(c tooth.Round, r float64, k *run) float64 {
	far := c.Centre.Len()
	// Half the angle between the radius and the way outwards, from the two
	// sides of the triangle, good near both ends.
	in, out := r-(far-c.Radius), (far+c.Radius)-r
	if far < c.Radius {
		in = r - (c.Radius - far)
	}
	u := math.Sqrt(max(in, 0) * max(r+math.Abs(far-c.Radius), 0))
	v := math.Sqrt(max(out, 0) * (far + c.Radius + r))
	half := math.Atan2(v, u) * 2 // from outwards
	mid := c.Begin + c.Turn*(k.from+k.to)/2 - c.Centre.Angle()
	mid = math.Remainder(mid, 2*math.Pi)
	angle := math.Copysign(half, mid) + c.Centre.Angle()
	t := math.Remainder(angle-(c.Begin+c.Turn*(k.from+k.to)/2), 2*math.Pi)
	return (k.from+k.to)/2 + t/c.Turn
}
