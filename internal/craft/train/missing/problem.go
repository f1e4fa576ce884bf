package missing

import (
	"cmp"
	"errors"
	"slices"
)

// ref is a member of a mesh: a count that is known, or a slot to be filled.
type ref struct {
	slot  int // from 0; -1 where the count is known
	count int
}

// at is the count, with the slots filled.
func (r ref) at(filled []int) int {
	if r.slot >= 0 {
		return filled[r.slot]
	}
	return r.count
}

// slot is a count to be found.
type slot struct {
	Member
	counts []int // that it may have, rising
}

// problem is one gap: slots whose wheels over pinions must make a product.
type problem struct {
	slots  []slot
	target span // of Π wheels / Π pinions over the slots alone
	meshes []sized
	model  *model

	bounds bounds
	groups []group
	inner  int // the group that the index holds
	invert bool
	k      int     // how many of the inner group the index holds
	lone   float64 // the least that a count of the inner group costs alone
	index  *index
	alone  []float32 // of each entry of the index: the points of its counts alone, beyond the least
}

// group is slots of one kind that may have the same counts: which of them has
// which is told apart by rank only.
type group struct {
	slots  []int
	counts []int
	pinion bool
}

// errTooMany says that the sets of counts are too many to search.
var errTooMany = errors.New("missing: too many counts are missing at once")

// mostTuples bounds the sets of counts that are tried outside the index.
const mostTuples = 1_500_000

// prepare groups the slots and builds the index.
func (p *problem) prepare() error {
	p.bounds = boundsOf(p.target)
	p.groups = groupSlots(p.slots)
	p.inner = p.chooseInner()
	g := p.groups[p.inner]
	p.invert = g.pinion
	p.k = min(len(g.slots), mostInner)
	for p.k > 1 && multisets(len(g.counts), p.k) > mostIndexed {
		p.k--
	}
	if p.tuples() > mostTuples || p.overflows() {
		return errTooMany
	}
	p.index = newIndex(g.counts, p.k)
	for i, c := range g.counts {
		if a := p.model.alone(p.slots[g.slots[0]], c); i == 0 || a < p.lone {
			p.lone = a
		}
	}
	p.weigh()
	return nil
}

// weigh reckons the points of every entry of the index.
func (p *problem) weigh() {
	if p.invert {
		return
	}
	g := p.groups[p.inner]
	var each [mostCount + 1]float32
	for _, c := range g.counts {
		each[c] = float32(p.model.alone(p.slots[g.slots[0]], c) - p.lone)
	}
	p.alone = make([]float32, len(p.index.entries))
	for i, e := range p.index.entries {
		for k := range p.k {
			p.alone[i] += each[e.count(k)]
		}
	}
}

func groupSlots(slots []slot) []group {
	var groups []group
	for i, s := range slots {
		at := slices.IndexFunc(groups, func(g group) bool {
			return g.pinion == s.pinion() && slots[g.slots[0]].escape() == s.escape() && slices.Equal(g.counts, s.counts)
		})
		if at < 0 {
			groups = append(groups, group{counts: s.counts, pinion: s.pinion()})
			at = len(groups) - 1
		}
		groups[at].slots = append(groups[at].slots, i)
	}
	return groups
}

// chooseInner takes the group with the most sets of counts, wheels before
// pinions: the search is for all the others.
func (p *problem) chooseInner() int {
	best, most := 0, -1
	for i, g := range p.groups {
		n := multisets(len(g.counts), min(len(g.slots), mostInner))
		if !g.pinion {
			n += 1 << 41
		}
		if n > most {
			best, most = i, n
		}
	}
	return best
}

// extras is how many of the inner group the index does not hold.
func (p *problem) extras() int { return len(p.groups[p.inner].slots) - p.k }

// tuples is how many sets of counts there are outside the inner group.
func (p *problem) tuples() int {
	n := 1
	for i, g := range p.groups {
		if i != p.inner {
			n *= multisets(len(g.counts), len(g.slots))
		}
		if n > mostTuples {
			break
		}
	}
	return n
}

// overflows tells whether the sums could leave 64 bits.
func (p *problem) overflows() bool {
	wheels, pinions := 1.0, 1.0
	for i, g := range p.groups {
		n := len(g.slots)
		if i == p.inner {
			n = p.extras()
		}
		for range n {
			if g.pinion {
				pinions *= float64(g.counts[len(g.counts)-1])
			} else {
				wheels *= float64(g.counts[len(g.counts)-1])
			}
		}
	}
	b := p.bounds
	most := float64(max(b.lowN, b.lowD, b.highN, b.highD))
	return most*max(wheels, pinions) > 1<<63
}

// tuple is the counts of every group but the inner one, with the least that
// an answer with them costs.
type tuple struct {
	filled  []int // of every group in turn, rising within it; the inner one left out
	wheels  uint64
	pinions uint64
	bound   float64
}

// list makes the tuples, the least costly first; met leaves out those to which
// the index has nothing.
func (p *problem) list(met bool) []tuple {
	out := []tuple{{wheels: 1, pinions: 1, bound: p.model.floor}}
	if !p.invert {
		out[0].bound += float64(len(p.groups[p.inner].slots)) * p.lone
	}
	one := p.onePinionGroup()
	for gi, g := range p.groups {
		if gi == p.inner {
			continue
		}
		sets := sets(g.counts, len(g.slots))
		points := make([]float64, len(sets))
		for i, s := range sets {
			points[i] = p.ofSet(gi, s, one)
		}
		next := make([]tuple, 0, len(out)*len(sets))
		for _, t := range out {
			for i, s := range sets {
				n := tuple{filled: append(t.filled[:len(t.filled):len(t.filled)], s...), wheels: t.wheels, pinions: t.pinions, bound: t.bound + points[i]}
				for _, c := range s {
					if g.pinion {
						n.pinions *= uint64(c)
					} else {
						n.wheels *= uint64(c)
					}
				}
				next = append(next, n)
			}
		}
		out = next
	}
	if met && p.extras() == 0 {
		out = slices.DeleteFunc(out, func(t tuple) bool { from, to := p.index.span(p.reach(t, nil)); return from == to })
	}
	if !one {
		for i := range out {
			out[i].bound += p.leastLeaves(out[i])
		}
	}
	slices.SortStableFunc(out, func(a, b tuple) int { return cmp.Compare(a.bound, b.bound) })
	return out
}

// onePinionGroup tells whether the pinions outside the inner group are one
// group, so that their points do not hang on others.
func (p *problem) onePinionGroup() bool {
	n := 0
	for i, g := range p.groups {
		if g.pinion && i != p.inner {
			n++
		}
	}
	return n <= 1 && !p.invert
}

// ofSet is the least points of the counts of one group; those of pinions only
// where they are the one group of pinions.
func (p *problem) ofSet(gi int, set []int, one bool) float64 {
	g := p.groups[gi]
	if g.pinion {
		if !one {
			return 0
		}
		filled, best := make([]int, len(p.slots)), -1.0
		for i, s := range g.slots {
			filled[s] = set[i]
		}
		p.arrange(filled, p.inner, 0, func() {
			if c := p.model.leaves(filled); best < 0 || c < best {
				best = c
			}
		})
		return best
	}
	sum := 0.0
	for i, s := range g.slots {
		sum += p.model.alone(p.slots[s], set[i])
	}
	return sum
}

// leastLeaves is the least points of the pinions of a tuple where they are in
// several groups; where the index holds pinions it is nought.
func (p *problem) leastLeaves(t tuple) float64 {
	if p.invert {
		return 0
	}
	filled, at, best := make([]int, len(p.slots)), 0, -1.0
	for gi, g := range p.groups {
		if gi == p.inner {
			continue
		}
		for _, s := range g.slots {
			filled[s] = t.filled[at]
			at++
		}
	}
	p.arrange(filled, p.inner, 0, func() {
		if c := p.model.leaves(filled); best < 0 || c < best {
			best = c
		}
	})
	return best
}

// sets lists the multisets of k of the counts, each rising.
func sets(counts []int, k int) [][]int {
	if k == 0 {
		return [][]int{nil}
	}
	var out [][]int
	for i, c := range counts {
		for _, rest := range sets(counts[i:], k-1) {
			out = append(out, append([]int{c}, rest...))
		}
	}
	return out
}

// arrange calls f with every order of the counts within their groups, from
// the group at on; skip is left as it is, -1 for none.
func (p *problem) arrange(filled []int, skip, at int, f func()) {
	if at == len(p.groups) {
		f()
		return
	}
	g := p.groups[at]
	if at == skip || len(g.slots) == 1 {
		p.arrange(filled, skip, at+1, f)
		return
	}
	was := make([]int, len(g.slots))
	for i, s := range g.slots {
		was[i] = filled[s]
	}
	order := slices.Clone(was)
	slices.Sort(order)
	for {
		for i, s := range g.slots {
			filled[s] = order[i]
		}
		p.arrange(filled, skip, at+1, f)
		if !permute(order) {
			break
		}
	}
	for i, s := range g.slots {
		filled[s] = was[i]
	}
}

// permute makes the next order of the counts; false after the last.
func permute(x []int) bool {
	i := len(x) - 2
	for i >= 0 && x[i] >= x[i+1] {
		i--
	}
	if i < 0 {
		return false
	}
	j := len(x) - 1
	for x[j] <= x[i] {
		j--
	}
	x[i], x[j] = x[j], x[i]
	slices.Reverse(x[i+1:])
	return true
}
