package missing

import (
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
	outer  []outside // the groups but the inner one
	orders [][]int   // room for the order of the counts of each group
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
	p.orders = make([][]int, len(p.groups))
	for i, g := range p.groups {
		p.orders[i] = make([]int, 2*len(g.slots))
	}
	p.layOut()
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
