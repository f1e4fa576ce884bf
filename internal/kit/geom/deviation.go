package geom

import "math"

// Points of a piece that Deviation looks at: so many at first, and at most.
const (
	fewLooks  = 16
	mostLooks = 1024
)

// Deviation is a bound on how far a piece of a curve lies from one arc or two
// that share a tangent and begin and end where it does. Between two
// neighbouring points that are looked at, a curve that turns one way lies in
// the triangle of its chord and its two tangents; the bound is that of the
// triangles, not of the points. More points are looked at until the triangles
// add less than a tenth of enough, or the points alone lie farther off than
// that; enough is in millimetres.
func Deviation(c Curve, from, to float64, arcs []Seg, enough float64) float64 {
	at, _ := c.At(from)
	joint := to
	if len(arcs) == 2 {
		joint = passes(c, from, to, at, arcs[0])
	}
	worst := 0.0
	for i, s := range arcs {
		a, b := from, joint
		if i == 1 {
			a, b = joint, to
		}
		worst = max(worst, near(c, a, b, at, s, enough))
		if !(worst <= enough) {
			return math.Inf(1)
		}
		at = s.To
	}
	return worst
}

// passes is the parameter at which a curve crosses the normal of the first
// arc's end.
func passes(c Curve, from, to float64, at Pt, s Seg) float64 {
	chord := s.To.Minus(at)
	along := chord.Turn(2 * math.Atan(s.Bulge)) // the tangent at its end
	lo, hi := from, to
	for range 60 {
		mid := (lo + hi) / 2
		if p, _ := c.At(mid); p.Minus(s.To).Dot(along) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// near bounds the distance of a piece from one arc that begins at a point.
func near(c Curve, from, to float64, at Pt, s Seg, enough float64) float64 {
	for n := fewLooks; ; n *= 4 {
		seen, bound := 0.0, 0.0
		p, tp := look(c, from, 1e-6*(to-from))
		for i := 1; i <= n; i++ {
			t := from + (to-from)*float64(i)/float64(n)
			q, tq := look(c, t, -1e-6*(to-from)/float64(n))
			seen = max(seen, s.Distance(at, q))
			bound = max(bound, s.farthest(at, p, q, apex(p, tp, q, tq)))
			p, tp = q, tq
		}
		if seen > enough || bound-seen <= enough/10 || n >= mostLooks {
			return max(seen, bound)
		}
	}
}

func look(c Curve, t, inward float64) (p, d Pt) {
	p, _ = c.At(t)
	return p, tangent(c, t, inward)
}

// apex is where the tangents at two points meet; the middle of the chord
// where they run alike.
func apex(p, tp, q, tq Pt) Pt {
	v := q.Minus(p)
	across := tp.Cross(tq)
	k := v.Cross(tq) / across
	if math.Abs(across) < 1e-12 || !(k >= 0 && k <= v.Len()) {
		return p.Plus(v.Times(0.5))
	}
	return p.Plus(tp.Times(k))
}

// farthest bounds how far a small triangle lies from the line or circle of a
// segment: the distance from a centre is greatest at a corner and least on an
// edge.
func (s Seg) farthest(at, p, q, r Pt) float64 {
	c, radius, _, _ := s.Arc(at)
	if math.IsInf(radius, 0) {
		u := s.To.Minus(at).Unit()
		return max(math.Abs(u.Cross(p.Minus(at))), math.Abs(u.Cross(q.Minus(at))), math.Abs(u.Cross(r.Minus(at))))
	}
	outer := max(p.Minus(c).Len(), q.Minus(c).Len(), r.Minus(c).Len())
	inner := min(Seg{To: q}.Distance(p, c), Seg{To: r}.Distance(q, c), Seg{To: p}.Distance(r, c))
	return max(outer-radius, radius-inner)
}
