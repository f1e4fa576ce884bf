package geom

import "math"

// touching is how near two segments may come before they are taken to touch,
// in millimetres: a tenth of a nanometre.
const touching = 1e-7

// Cross are the points at which two segments cross or touch, the first
// beginning at a and the second at b. Two that lie on one line or circle for a
// while give the ends of what they share.
func Cross(a Pt, s Seg, b Pt, t Seg) []Pt {
	var candidates []Pt
	s, t = s.flattened(a), t.flattened(b)
	cs, rs, _, _ := s.Arc(a)
	ct, rt, _, _ := t.Arc(b)
	switch {
	case math.IsInf(rs, 0) && math.IsInf(rt, 0):
		candidates = lines(a, s.To, b, t.To)
	case math.IsInf(rs, 0):
		candidates = lineCircle(a, s.To, ct, rt)
	case math.IsInf(rt, 0):
		candidates = lineCircle(b, t.To, cs, rs)
	default:
		candidates = circles(cs, rs, ct, rt)
	}
	candidates = append(candidates, a, s.To, b, t.To)
	var out []Pt
	for _, p := range candidates {
		if s.Distance(a, p) <= touching && t.Distance(b, p) <= touching && !among(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// flattened is a segment that is straight where its arc rises over the chord
// by too little to matter.
func (s Seg) flattened(from Pt) Seg {
	if math.Abs(s.Bulge)*s.To.Minus(from).Len() < touching/5 {
		s.Bulge = 0
	}
	return s
}

func among(all []Pt, p Pt) bool {
	for _, q := range all {
		if q.Minus(p).Len() <= 10*touching {
			return true
		}
	}
	return false
}

func lines(a, b, c, d Pt) []Pt {
	u, v := b.Minus(a), d.Minus(c)
	k := u.Cross(v)
	if k == 0 {
		return nil
	}
	return []Pt{a.Plus(u.Times(c.Minus(a).Cross(v) / k))}
}

// lineCircle are the points of a line on a circle, its nearest point where it
// just misses.
func lineCircle(a, b, c Pt, r float64) []Pt {
	u := b.Minus(a).Unit()
	foot := a.Plus(u.Times(c.Minus(a).Dot(u)))
	h := foot.Minus(c).Len()
	if h > r+touching {
		return nil
	}
	k := u.Times(math.Sqrt(max(0, (r-h)*(r+h))))
	return []Pt{foot.Minus(k), foot.Plus(k), foot}
}

// circles are the points that two circles share, reckoned from the smaller one,
// which loses fewer digits.
func circles(c Pt, r float64, d Pt, q float64) []Pt {
	if r > q {
		c, r, d, q = d, q, c, r
	}
	v := d.Minus(c)
	l := v.Len()
	if l == 0 || l > r+q+touching || l < math.Abs(r-q)-touching {
		return nil
	}
	along := (l + (r-q)*(r+q)/l) / 2
	across := math.Sqrt(max(0, (r-along)*(r+along)))
	u := v.Unit()
	foot := c.Plus(u.Times(along))
	return []Pt{foot.Plus(u.Left().Times(across)), foot.Minus(u.Left().Times(across)), c.Plus(u.Times(math.Copysign(r, along)))}
}

// Clash is a place at which a path meets itself, and the numbers of the
// segments that meet there.
type Clash struct {
	At   Pt
	A, B int
}

// Clashes are the places at which a path crosses or touches itself, other
// than where a segment follows another; none for one that is simple. It looks
// at segments that share a cell of a grid, so that a wheel of thousands takes
// milliseconds.
func (p Path) Clashes() []Clash {
	if n := len(p.Segs); p.Closed && n > 0 && p.Segs[n-1].To != p.From {
		p.Segs = append(p.Segs[:n:n], Seg{To: p.From}) // the line that closes it
	}
	n := len(p.Segs)
	from := make([]Pt, n)
	at := p.From
	for i, s := range p.Segs {
		from[i], at = at, s.To
	}
	round := n > 0 && (p.Closed || at == p.From)
	var out []Clash
	grid{p, from}.pairs(func(i, j int) {
		for _, q := range Cross(from[i], p.Segs[i], from[j], p.Segs[j]) {
			next := j == i+1 && q.Minus(from[j]).Len() <= 10*touching
			last := round && i == 0 && j == n-1 && q.Minus(p.From).Len() <= 10*touching
			if !next && !last {
				out = append(out, Clash{q, i, j})
			}
		}
	})
	return out
}

// Simple tells whether a path neither crosses nor touches itself.
func (p Path) Simple() bool { return len(p.Clashes()) == 0 }

// grid finds segments that lie near each other.
type grid struct {
	p    Path
	from []Pt
}

// pairs calls f once for every two segments whose boxes meet, the lower number
// first.
func (g grid) pairs(f func(i, j int)) {
	n := len(g.p.Segs)
	boxes, all, sum := make([]Box, n), Nowhere(), 0.0
	for i, s := range g.p.Segs {
		boxes[i] = s.Bounds(g.from[i])
		all = all.Join(boxes[i])
		sum += max(boxes[i].W(), boxes[i].H())
	}
	// A cell as large as twice the mean segment; 4n cells along a side at most.
	cell := max(2*sum/float64(n), max(all.W(), all.H())/float64(4*n))
	if !(cell > 0) || math.IsInf(cell, 0) {
		return
	}
	cells := map[[2]int][]int{}
	key := func(p Pt) (x, y int) { return int((p.X - all.Min.X) / cell), int((p.Y - all.Min.Y) / cell) }
	done := map[[2]int]bool{}
	for j, b := range boxes {
		x0, y0 := key(Pt{b.Min.X - touching, b.Min.Y - touching})
		x1, y1 := key(Pt{b.Max.X + touching, b.Max.Y + touching})
		for x := x0; x <= x1; x++ {
			for y := y0; y <= y1; y++ {
				for _, i := range cells[[2]int{x, y}] {
					if !done[[2]int{i, j}] && boxes[i].meets(b) {
						done[[2]int{i, j}] = true
						f(i, j)
					}
				}
				cells[[2]int{x, y}] = append(cells[[2]int{x, y}], j)
			}
		}
	}
}

func (b Box) meets(c Box) bool {
	return b.Min.X <= c.Max.X+touching && c.Min.X <= b.Max.X+touching && b.Min.Y <= c.Max.Y+touching && c.Min.Y <= b.Max.Y+touching
}

// Inside tells whether a closed path goes round a point an odd number of
// times. On the edge it may say either.
func (p Path) Inside(q Pt) bool {
	odd, at := false, p.From
	for _, s := range p.Segs {
		odd = odd != beside(at, s.To, q) != s.inBow(at, q)
		at = s.To
	}
	return odd != beside(at, p.From, q)
}

// beside tells whether a chord crosses the ray from a point to the right.
func beside(a, b, q Pt) bool {
	if (a.Y > q.Y) == (b.Y > q.Y) {
		return false
	}
	side := b.Minus(a).Cross(q.Minus(a))
	return side > 0 && b.Y > a.Y || side < 0 && b.Y < a.Y
}

// inBow tells whether a point lies between an arc and its chord. One on the
// chord lies on the side on which beside takes it to be.
func (s Seg) inBow(from, q Pt) bool {
	c, r, _, _ := s.Arc(from)
	if math.IsInf(r, 0) || q.Minus(c).Len() >= r {
		return false
	}
	chord := s.To.Minus(from)
	side := chord.Cross(q.Minus(from))
	if side == 0 {
		side = -chord.Y
	}
	if side == 0 {
		side = chord.X
	}
	return (side < 0) == (s.Bulge > 0)
}
