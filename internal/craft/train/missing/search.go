package missing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"seatboard/internal/kit/progress"
)

// hit is counts for every slot that make the product.
type hit struct {
	filled []int
	cost   float64
}

// look is a search under way.
type look struct {
	p       *problem
	most    int
	best    []hit // the least costly so far, in order
	told    int   // of best, handed on
	total   int   // sets of counts found
	lookups int
	passed  bool // some were passed over without being counted
	filled  []int
	inner   []int
	order   []int
}

// mostCounted is how many look-ups are made, once the best are known, to
// count the rest.
const mostCounted = 4_000_000

// best hands on the most answers that cost least, the least costly first,
// each as soon as none better can come. total is how many sets of counts make
// the product, two that differ only in which slot of a kind has which count
// being one; all is false where it was stopped before it had seen them all.
func (p *problem) best(ctx context.Context, most int, c *progress.Counter, yield func(hit) bool) (total int, all bool) {
	if p.bounds.none {
		return 0, true
	}
	tuples := p.list(true)
	_, before := c.Sample() // of other gaps
	c.Expect(before + int64(len(tuples)))
	l := look{p: p, most: most, filled: make([]int, len(p.slots))}
	extras, counted := p.extraSets(), true
	for i, t := range tuples {
		if i%32 == 0 && ctx.Err() != nil {
			l.tell(math.Inf(1), yield)
			return l.total, false
		}
		if !l.tell(t.bound, yield) {
			return l.total, false
		}
		if p.extras() > 0 && l.full(t.bound) || l.told >= most && l.lookups > mostCounted {
			l.tell(math.Inf(1), yield)
			return l.total, false
		}
		for _, x := range extras {
			if len(x.counts) > 0 && l.full(t.bound+x.points) {
				counted = false
				break // the rest cost more
			}
			l.try(t, x)
		}
		c.Add(1)
	}
	return l.total, l.tell(math.Inf(1), yield) && counted && !l.passed
}

// extra is counts of the inner group that the index does not hold, with what
// they add to the least points.
type extra struct {
	counts []int
	points float64
}

// extraSets lists them, the least costly first; where the index holds all it
// is one empty set.
func (p *problem) extraSets() []extra {
	g := p.groups[p.inner]
	var out []extra
	for _, s := range sets(g.counts, p.extras()) {
		x := extra{counts: s}
		for _, n := range s {
			if !p.invert {
				x.points += p.model.alone(p.slots[g.slots[0]], n) - p.lone
			}
		}
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b extra) int { return cmp.Compare(a.points, b.points) })
	return out
}

// tell hands on what no later answer can be better than.
func (l *look) tell(bound float64, yield func(hit) bool) bool {
	for l.told < len(l.best) && l.best[l.told].cost <= bound {
		l.told++
		if !yield(l.best[l.told-1]) {
			return false
		}
	}
	return true
}

// try looks the rest of a tuple up.
func (l *look) try(t tuple, x extra) {
	p := l.p
	l.lookups++
	from, to := p.index.span(p.reach(t, x.counts))
	if from == to {
		return
	}
	plain := len(p.meshes) == 0 && len(x.counts) == 0
	if plain {
		l.total += to - from
		if l.full(t.bound) {
			return
		}
	}
	l.place(t)
	for i := from; i < to; i++ {
		if (plain || len(x.counts) > 0) && !p.invert && l.full(t.bound+x.points+float64(p.alone[i])-slack) {
			l.passed = l.passed || !plain
			continue
		}
		l.inner = append(p.index.entries[i].counts(p.k, l.inner), x.counts...)
		if len(x.counts) > 0 && l.inner[p.k-1] > x.counts[0] {
			continue // the same counts come with another extra
		}
		l.take(plain)
	}
}

// slack is more than the rounding of the points of the index.
const slack = 1e-4

// reach is the products that the index must have for a tuple.
func (p *problem) reach(t tuple, extra []int) (low, high uint64) {
	wheels, pinions := t.wheels, t.pinions
	for _, x := range extra {
		if p.invert {
			pinions *= uint64(x)
		} else {
			wheels *= uint64(x)
		}
	}
	if p.invert {
		return p.bounds.pinions(wheels, pinions)
	}
	return p.bounds.wheels(wheels, pinions)
}

// full tells that nothing of such a cost can be among the best any more.
func (l *look) full(cost float64) bool {
	return len(l.best) >= l.most && cost >= l.best[len(l.best)-1].cost
}

// place puts the counts of a tuple into the slots.
func (l *look) place(t tuple) {
	at := 0
	for gi, g := range l.p.groups {
		if gi == l.p.inner {
			continue
		}
		for _, s := range g.slots {
			l.filled[s] = t.filled[at]
			at++
		}
	}
}

// take finds the best order of the counts of one hit and keeps it if it is
// among the best; counted is true where the hit was counted before.
func (l *look) take(counted bool) {
	p := l.p
	for i, s := range p.groups[p.inner].slots {
		l.filled[s] = l.inner[i]
	}
	best := math.Inf(1)
	p.arrange(l.filled, -1, 0, func() {
		if !p.fits(l.filled) {
			return
		}
		if c := p.model.cost(l.filled); c < best {
			best = c
			l.order = append(l.order[:0], l.filled...)
		}
	})
	if math.IsInf(best, 1) {
		return
	}
	if !counted {
		l.total++
	}
	l.keep(hit{l.order, best})
}

func (l *look) keep(h hit) {
	if l.full(h.cost) {
		return
	}
	at, _ := slices.BinarySearchFunc(l.best[l.told:], h, func(a, b hit) int {
		if a.cost != b.cost {
			return cmp.Compare(a.cost, b.cost)
		}
		return slices.Compare(a.filled, b.filled)
	})
	h.filled = slices.Clone(h.filled)
	l.best = slices.Insert(l.best, l.told+at, h)
	if len(l.best) > l.most {
		l.best = l.best[:l.most]
	}
}

// nearest is the counts whose products come nearest to the target from below
// and from above where none makes it; ignoring sizes.
func (p *problem) nearest(ctx context.Context) (below, above []int) {
	target := float(p.target.mid)
	l := look{p: p, filled: make([]int, len(p.slots))}
	bestLow, bestHigh := math.Inf(1), math.Inf(1)
	extras := p.extraSets()
	for i, t := range p.list(false) {
		if i%256 == 0 && ctx.Err() != nil {
			break
		}
		for _, x := range extras {
			at := p.index.first(p.ideal(t, x.counts, target))
			for _, k := range [...]int{at - 1, at, at + 1} {
				if k < 0 || k >= len(p.index.entries) {
					continue
				}
				l.inner = append(p.index.entries[k].counts(p.k, l.inner), x.counts...)
				l.place(t)
				for i, s := range p.groups[p.inner].slots {
					l.filled[s] = l.inner[i]
				}
				off := math.Log(p.product(l.filled) / target)
				if off < 0 && -off < bestLow-1e-12 {
					bestLow, below = -off, slices.Clone(l.filled)
				}
				if off > 0 && off < bestHigh-1e-12 {
					bestHigh, above = off, slices.Clone(l.filled)
				}
			}
		}
	}
	return below, above
}

// ideal is the product of the inner group that would be right.
func (p *problem) ideal(t tuple, extra []int, target float64) uint64 {
	wheels, pinions := float64(t.wheels), float64(t.pinions)
	for _, x := range extra {
		if p.invert {
			pinions *= float64(x)
		} else {
			wheels *= float64(x)
		}
	}
	x := target * pinions / wheels
	if p.invert {
		x = wheels / (target * pinions)
	}
	return uint64(math.Min(math.Ceil(x), math.MaxInt64/2))
}

// product is Π wheels / Π pinions of the slots.
func (p *problem) product(filled []int) float64 {
	x := 1.0
	for i, s := range p.slots {
		if s.pinion() {
			x /= float64(filled[i])
		} else {
			x *= float64(filled[i])
		}
	}
	return x
}
