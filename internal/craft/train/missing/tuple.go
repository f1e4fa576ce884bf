package missing

import (
	"context"
	"math"
	"slices"
)

// outside is a group that the index does not hold: every set of counts that
// it may have.
type outside struct {
	group
	sets     []uint16  // one after the other, each rising
	products []uint64  // of each set
	points   []float64 // the least of each set
}

// tuple is a choice of a set of every group outside, by its number, with the
// least that an answer with it costs. There may be more than a million.
type tuple struct {
	bound  float32
	number int32
}

// atMost is a bound in few bits: never more than it was.
func atMost(x float64) float32 {
	b := float32(x)
	if float64(b) > x {
		b = math.Nextafter32(b, -math.MaxFloat32)
	}
	return b
}

// before puts tuples into the order they are tried in.
func (t tuple) before(o tuple) bool {
	return t.bound < o.bound || t.bound == o.bound && t.number < o.number
}

// layOut lists the sets of the groups outside.
func (p *problem) layOut() {
	one := p.onePinionGroup()
	p.outer = nil
	for gi, g := range p.groups {
		if gi == p.inner {
			continue
		}
		n := multisets(len(g.counts), len(g.slots))
		o := outside{group: g, sets: make([]uint16, 0, n*len(g.slots)), products: make([]uint64, 0, n), points: make([]float64, 0, n)}
		filled := make([]int, len(p.slots))
		eachSet(g.counts, len(g.slots), func(set []int) {
			product := uint64(1)
			for _, c := range set {
				o.sets, product = append(o.sets, uint16(c)), product*uint64(c) // at most mostCount
			}
			o.products = append(o.products, product)
			o.points = append(o.points, p.ofSet(gi, set, one, filled))
		})
		p.outer = append(p.outer, o)
	}
}

// place puts the counts of a tuple into the slots and gives their products.
func (p *problem) place(number int32, filled []int) (wheels, pinions uint64) {
	wheels, pinions = 1, 1
	at := int(number)
	for i := len(p.outer) - 1; i >= 0; i-- {
		o := &p.outer[i]
		which, each := at%len(o.points), len(o.slots)
		at /= len(o.points)
		wheels, pinions = o.times(which, wheels, pinions)
		for k, c := range o.sets[which*each : (which+1)*each] {
			filled[o.slots[k]] = int(c)
		}
	}
	return wheels, pinions
}

// times puts the product of a set to those of the others.
func (o *outside) times(which int, wheels, pinions uint64) (uint64, uint64) {
	if o.pinion {
		return wheels, pinions * o.products[which]
	}
	return wheels * o.products[which], pinions
}

// mostAtOnce is how many tuples room is made for before they are there.
const mostAtOnce = 1 << 14

// list makes the tuples. Where the index holds all of its group, those that
// it has nothing to are left out, and total is how many sets of counts make
// the product, sizes aside.
func (p *problem) list(ctx context.Context) (out queue, total int) {
	least := p.model.floor
	if !p.invert {
		least += float64(len(p.groups[p.inner].slots)) * p.lone
	}
	one, whole, n := p.onePinionGroup(), p.extras() == 0, p.tuples()
	filled, which := make([]int, len(p.slots)), make([]int, len(p.outer))
	out = make(queue, 0, min(n, mostAtOnce))
	for i := range n {
		if i%1024 == 1023 && ctx.Err() != nil {
			break
		}
		bound, wheels, pinions := least, uint64(1), uint64(1)
		for k := range p.outer {
			o := &p.outer[k]
			wheels, pinions = o.times(which[k], wheels, pinions)
			bound += o.points[which[k]]
		}
		p.advance(which)
		if whole {
			from, to := p.index.span(p.reach(wheels, pinions, nil))
			if from == to {
				continue
			}
			total += to - from
		}
		if !one {
			p.place(int32(i), filled)
			bound += p.leastLeaves(filled)
		}
		out = append(out, tuple{atMost(bound), int32(i)})
	}
	out.order()
	return out, total
}

// advance goes on to the next tuple, the last group first.
func (p *problem) advance(which []int) {
	for k := len(which) - 1; k >= 0; k-- {
		if which[k]++; which[k] < len(p.outer[k].points) {
			return
		}
		which[k] = 0
	}
}

// queue hands tuples on, the least costly first: a heap.
type queue []tuple

func (q queue) order() {
	for i := len(q)/2 - 1; i >= 0; i-- {
		q.sink(i)
	}
}

func (q queue) sink(i int) {
	for {
		least := 2*i + 1
		if least >= len(q) {
			return
		}
		if right := least + 1; right < len(q) && q[right].before(q[least]) {
			least = right
		}
		if !q[least].before(q[i]) {
			return
		}
		q[i], q[least] = q[least], q[i]
		i = least
	}
}

// next takes the least costly out; the queue is not empty.
func (q *queue) next() tuple {
	all := *q
	first, last := all[0], len(all)-1
	all[0] = all[last]
	*q = all[:last]
	q.sink(0)
	return first
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
func (p *problem) ofSet(gi int, set []int, one bool, filled []int) float64 {
	g := p.groups[gi]
	if g.pinion {
		if !one {
			return 0
		}
		best := -1.0
		for i, s := range g.slots {
			filled[s] = set[i]
		}
		p.arrange(filled, p.inner, 0, func() bool {
			if c := p.model.leaves(filled); best < 0 || c < best {
				best = c
			}
			return true
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
func (p *problem) leastLeaves(filled []int) float64 {
	if p.invert {
		return 0
	}
	best := -1.0
	p.arrange(filled, p.inner, 0, func() bool {
		if c := p.model.leaves(filled); best < 0 || c < best {
			best = c
		}
		return true
	})
	return best
}

// eachSet hands every multiset of k of the counts on, rising; it is good until
// the next.
func eachSet(counts []int, k int, f func(set []int)) {
	at, set := make([]int, k), make([]int, k)
	for {
		for i, x := range at {
			set[i] = counts[x]
		}
		f(set)
		i := k - 1
		for i >= 0 && at[i] == len(counts)-1 {
			i--
		}
		if i < 0 {
			return
		}
		at[i]++
		for j := i + 1; j < k; j++ {
			at[j] = at[i]
		}
	}
}

// sets lists the multisets of k of the counts.
func sets(counts []int, k int) [][]int {
	var out [][]int
	eachSet(counts, k, func(set []int) { out = append(out, slices.Clone(set)) })
	return out
}

// arrange calls f with every order of the counts within their groups, from
// the group at on, until f is false; skip is left as it is, -1 for none.
func (p *problem) arrange(filled []int, skip, at int, f func() bool) bool {
	if at == len(p.groups) {
		return f()
	}
	g := p.groups[at]
	if at == skip || len(g.slots) == 1 {
		return p.arrange(filled, skip, at+1, f)
	}
	was, order := p.orders[at][:len(g.slots)], p.orders[at][len(g.slots):]
	for i, s := range g.slots {
		was[i] = filled[s]
	}
	copy(order, was)
	slices.Sort(order)
	on := true
	for on {
		for i, s := range g.slots {
			filled[s] = order[i]
		}
		on = p.arrange(filled, skip, at+1, f)
		if !permute(order) {
			break
		}
	}
	for i, s := range g.slots {
		filled[s] = was[i]
	}
	return on
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
