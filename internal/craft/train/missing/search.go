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
	ctx     context.Context
	p       *problem
	w       watch
	most    int
	best    []hit // the least costly so far, in order
	told    int   // of best, handed on
	total   int   // sets of counts found
	steps   int   // looked up or tried
	stopped bool
	passed  bool // some were passed over without being counted
	filled  []int
	inner   []int
	order   []int
	said    struct{ steps, found int64 } // to who watches
}

// watch is who looks on while a search goes on; the zero watch is nobody.
type watch struct {
	count *progress.Counter // of all gaps together, each in thousandths
	asked func() bool
	give  func(soFar []hit, sure, found int) // sure of them keep their places
}

// gapSteps is the steps of a counter for each gap.
const gapSteps = 1000

// stepsBetween is how many steps lie between two looks at who stops or
// watches: some milliseconds.
const stepsBetween = 1024

// step counts one step, looks up now and then and tells whether to go on.
func (l *look) step(share float64) bool {
	if l.steps++; l.steps%stepsBetween == 0 {
		l.report(share)
		l.stopped = l.stopped || l.ctx.Err() != nil
	}
	return !l.stopped
}

// report tells who watches how far it is.
func (l *look) report(share float64) {
	if now := int64(share * gapSteps); now > l.said.steps {
		l.w.count.Add(now - l.said.steps)
		l.said.steps = now
	}
	l.w.count.Find(int64(l.total) - l.said.found)
	l.said.found = int64(l.total)
	if l.w.asked != nil && l.w.asked() {
		l.w.give(l.best, l.told, l.total)
	}
}

// best hands on the most answers that cost least, the least costly first,
// each as soon as none better can come. total is how many sets of counts make
// the product, two that differ only in which slot of a kind has which count
// being one; all is false where it was stopped before it had seen them all.
func (p *problem) best(ctx context.Context, most int, w watch, yield func(hit) bool) (total int, all bool) {
	if p.bounds.none {
		return 0, true
	}
	l := look{ctx: ctx, p: p, w: w, most: most, filled: make([]int, len(p.slots))}
	l.report(0)
	tuples, made := p.list(ctx)
	plain := p.extras() == 0 && len(p.meshes) == 0
	if plain {
		l.total = made
	}
	l.stopped = ctx.Err() != nil
	n, extras, counted := len(tuples), p.extraSets(), true
	for len(tuples) > 0 && !l.stopped {
		t := tuples.next()
		bound := float64(t.bound)
		if !l.tell(bound, yield) {
			return l.total, false
		}
		if (plain || p.extras() > 0) && l.full(bound) {
			counted = plain // all that make the product, or not the rest, which costs more
			break
		}
		share := 1 - float64(len(tuples)+1)/float64(n)
		wheels, pinions := p.place(t.number, l.filled)
		for _, x := range extras {
			if len(x.counts) > 0 && l.full(bound+x.points) {
				counted = false
				break // the rest cost more
			}
			from, to := p.index.span(p.reach(wheels, pinions, x.counts))
			if !l.try(p.index.entries[from:to], p.rests(from, to), bound, x, share, plain) {
				break
			}
		}
	}
	wanted := l.tell(math.Inf(1), yield)
	if !l.stopped {
		l.report(1)
	}
	return l.total, wanted && counted && !l.passed && !l.stopped
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

// rests is the points of entries of the index alone; nil where it has none.
func (p *problem) rests(from, to int) []float32 {
	if p.invert {
		return nil
	}
	return p.alone[from:to]
}

// try ranks and counts the entries of the index that make the product with a
// tuple of that bound; false where it was stopped. share is how far the search
// is.
func (l *look) try(entries []entry, rests []float32, bound float64, x extra, share float64, plain bool) bool {
	p, over := l.p, len(x.counts) > 0
	for i, e := range entries {
		if !l.step(share) {
			return false
		}
		dear := rests != nil && l.full(bound+x.points+float64(rests[i])-slack)
		switch {
		case dear && over:
			l.passed = true
			continue
		case dear && plain:
			continue
		}
		l.inner = append(e.counts(p.k, l.inner), x.counts...)
		if over && l.inner[p.k-1] > x.counts[0] {
			continue // the same counts come with another extra
		}
		for k, s := range p.groups[p.inner].slots {
			l.filled[s] = l.inner[k]
		}
		if dear {
			if p.someOrderFits(l.filled) {
				l.total++
			}
			continue
		}
		l.take(plain)
	}
	return l.step(share)
}

// someOrderFits tells whether the counts can stand so that they suit what was
// measured.
func (p *problem) someOrderFits(filled []int) bool {
	return !p.arrange(filled, -1, 0, func() bool { return !p.fits(filled) })
}

// slack is more than the rounding of the points of the index.
const slack = 1e-4

// reach is the products that the index must have for a tuple of these
// products.
func (p *problem) reach(wheels, pinions uint64, extra []int) (low, high uint64) {
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

// take finds the best order of the counts of one hit and keeps it if it is
// among the best; counted is true where the hit was counted before.
func (l *look) take(counted bool) {
	p := l.p
	best := math.Inf(1)
	p.arrange(l.filled, -1, 0, func() bool {
		if !p.fits(l.filled) {
			return true
		}
		if c := p.model.cost(l.filled); c < best {
			best = c
			l.order = append(l.order[:0], l.filled...)
		}
		return true
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
// and from above where none makes it, the likeliest of those that are as near;
// sizes are ignored.
func (p *problem) nearest(ctx context.Context) (below, above []int) {
	target := float(p.target.mid)
	filled, inner := make([]int, len(p.slots)), []int(nil)
	var low, high near
	extras := p.extraSets()
	for t := range int32(p.tuples()) {
		if t%256 == 0 && ctx.Err() != nil {
			break
		}
		wheels, pinions := p.place(t, filled)
		for _, x := range extras {
			at := p.index.first(p.ideal(float64(wheels), float64(pinions), x.counts, target))
			for _, k := range [...]int{at - 1, at, at + 1} {
				if k < 0 || k >= len(p.index.entries) {
					continue
				}
				inner = append(p.index.entries[k].counts(p.k, inner), x.counts...)
				for i, s := range p.groups[p.inner].slots {
					filled[s] = inner[i]
				}
				switch off := math.Log(p.product(filled) / target); {
				case off < 0:
					low.take(-off, filled, p.model)
				case off > 0:
					high.take(off, filled, p.model)
				}
			}
		}
	}
	return low.filled, high.filled
}

// near is the nearest so far on one side.
type near struct {
	hit
	off float64
}

func (n *near) take(off float64, filled []int, m *model) {
	const alike = 1e-12 // products differ by more
	if n.filled != nil && off > n.off+alike {
		return
	}
	c := m.cost(filled)
	if n.filled == nil || off < n.off-alike || c < n.cost {
		n.filled, n.cost, n.off = append(n.filled[:0], filled...), c, off
	}
}

// ideal is the product of the inner group that would be right.
func (p *problem) ideal(wheels, pinions float64, extra []int, target float64) uint64 {
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
