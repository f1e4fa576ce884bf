package missing

import (
	"fmt"
	"math"
	"slices"

	"seatboard/internal/kit/unit"
)

// Reason is why a candidate stands where it does.
type Reason struct {
	Name   string  `json:"name"`   // "leaves"
	Text   string  `json:"text"`   // "8 leaves, 137 of 164 in the table"
	Points float64 `json:"points"` // against it; one halves its odds
}

// mesh is a wheel and the pinion that it drives, either of which may be a
// slot; known is false where one of them is missing in another gap.
type mesh struct {
	wheel, pinion ref
	known         bool
}

// model reckons the points of counts for the slots of a gap within its train.
type model struct {
	p      *practice
	meshes []mesh // of the whole train in its order
	escape *ref
	slots  []slot
	falls  bool // wheels get smaller along the train
	target span
	mid    float64
	floor  float64 // the least points that order and hunting can have together

	// Points of each count: of a wheel by itself, of an escape wheel, of a pinion
	// by itself, after another of as many leaves, and after one of others.
	teeth, escapes, leaf, like, unlike lookup
	order                              [3]float64    // by [order]
	hunts                              [2][2]float64 // by [hunting] before and now

	terms []term
}

// lookup keeps the points of each count once they were reckoned; none are
// nought.
type lookup struct {
	of     func(n int) float64 // how often
	points []float64
}

func lookupOf(of func(n int) float64) lookup { return lookup{of, make([]float64, mostCount+1)} }

func (l *lookup) at(n int) float64 {
	if l.points[n] == 0 {
		l.points[n] = points(l.of(n))
	}
	return l.points[n]
}

// term is one thing that a choice is judged by.
type term struct {
	name   string
	refs   []ref // whose counts it looks at
	least  float64
	points func(c []int) float64 // least or more
	text   func(c []int) string
}

// values are the counts that a term looks at.
func (t term) values(filled, to []int) []int {
	to = to[:0]
	for _, r := range t.refs {
		to = append(to, r.at(filled))
	}
	return to
}

func newModel(p *practice, meshes []mesh, escape *ref, slots []slot, falls bool, target span) *model {
	m := &model{p: p, meshes: meshes, escape: escape, slots: slots, falls: falls, target: target, mid: float(target.mid)}
	m.teeth, m.escapes, m.leaf = lookupOf(p.ofTeeth), lookupOf(p.ofEscape), lookupOf(p.ofLeaves)
	m.like = lookupOf(func(n int) float64 { return p.afterLeaves(n, n) })
	m.unlike = lookupOf(func(n int) float64 { return p.afterLeaves(n+1, n) })
	for i := range m.order {
		m.order[i] = points(p.ofOrder(i))
	}
	for i := range m.hunts {
		for k := range m.hunts[i] {
			m.hunts[i][k] = points(p.ofHunting(i, k))
		}
	}
	for i, x := range meshes {
		m.mesh(i, x)
	}
	if escape != nil && escape.slot >= 0 {
		m.add(term{"escape wheel", []ref{*escape}, 0, func(c []int) float64 { return m.escapes.at(c[0]) },
			func(c []int) string { return fmt.Sprintf("%d teeth, %s in %s", c[0], p.escapes.said(c[0]), p.name) }})
	}
	return m
}

// add keeps a term if a slot plays a part in it.
func (m *model) add(t term) {
	if slices.ContainsFunc(t.refs, func(r ref) bool { return r.slot >= 0 }) {
		m.terms = append(m.terms, t)
		m.floor += t.least
	}
}

// mesh adds what is said of a mesh and of its place after the one before.
func (m *model) mesh(i int, x mesh) {
	p := m.p
	m.add(term{"teeth", []ref{x.wheel}, 0, func(c []int) float64 { return m.teeth.at(c[0]) }, func(c []int) string {
		return fmt.Sprintf("%d teeth, %s in %s; largest prime factor %s, %.0f of %d", c[0], p.teeth.said(c[0]), p.name, factorNames[factorClass(c[0])], p.factors[factorClass(c[0])], p.teeth.total)
	}})
	if i == 0 || !m.meshes[i-1].known {
		m.add(term{"leaves", []ref{x.pinion}, 0, func(c []int) float64 { return m.leaf.at(c[0]) },
			func(c []int) string { return fmt.Sprintf("%d leaves, %s in %s", c[0], p.leaves.said(c[0]), p.name) }})
		return
	}
	b := m.meshes[i-1]
	m.add(term{"leaves", []ref{b.pinion, x.pinion}, 0, m.afterLeaves, func(c []int) string {
		if c[0] == c[1] {
			return fmt.Sprintf("%d leaves after %d, like its neighbour, as %.0f of %.0f in %s", c[1], c[0], p.same.yes, p.same.all, p.name)
		}
		return fmt.Sprintf("%d leaves after %d, unlike its neighbour; %s in %s have %d", c[1], c[0], p.leaves.said(c[1]), p.name, c[1])
	}})
	if !x.known {
		return
	}
	if m.falls {
		m.add(term{"order", []ref{b.wheel, x.wheel}, slices.Min(m.order[:]), func(c []int) float64 { return m.order[order(c[0], c[1])] }, func(c []int) string {
			at := order(c[0], c[1])
			return fmt.Sprintf("%d teeth after %d, %s, as %.0f of %.0f in %s", c[1], c[0], [...]string{"fewer", "as many", "more"}[at], p.falls[at], p.falls[0]+p.falls[1]+p.falls[2], p.name)
		}})
	}
	m.add(term{"hunting", []ref{b.wheel, b.pinion, x.wheel, x.pinion}, min(m.hunts[0][0], m.hunts[0][1], m.hunts[1][0], m.hunts[1][1]), func(c []int) float64 {
		return m.hunts[hunting(c[0], c[1])][hunting(c[2], c[3])]
	}, func(c []int) string {
		was, is := hunting(c[0], c[1]), hunting(c[2], c[3])
		n := p.hunts[was].yes
		if was != is {
			n = p.hunts[was].all - n
		}
		words := [...]string{"does not hunt", "hunts"}
		return fmt.Sprintf("%d/%d %s after %d/%d, which %s, as %.0f of %.0f in %s", c[2], c[3], words[is], c[0], c[1], words[was], n, p.hunts[was].all, p.name)
	}})
}

// alone is the points of one wheel by itself.
func (m *model) alone(s slot, n int) float64 {
	switch {
	case s.pinion():
		return 0
	case s.escape():
		return m.escapes.at(n)
	}
	return m.teeth.at(n)
}

// afterLeaves is the points of a pinion after another.
func (m *model) afterLeaves(c []int) float64 {
	if c[0] == c[1] {
		return m.like.at(c[1])
	}
	return m.unlike.at(c[1])
}

// leaves is the points of the pinions.
func (m *model) leaves(filled []int) float64 {
	sum := 0.0
	var at [4]int
	for _, t := range m.terms {
		if t.name == "leaves" {
			sum += t.points(t.values(filled, at[:]))
		}
	}
	return sum
}

// cost is all the points of an answer.
func (m *model) cost(filled []int) float64 {
	sum := m.misfit(filled)
	var at [4]int
	for _, t := range m.terms {
		sum += t.points(t.values(filled, at[:]))
	}
	return sum
}

// misfit is the points of missing the middle of a measured target: the odds
// of so large an error.
func (m *model) misfit(filled []int) float64 {
	z := m.off(filled)
	return z * z / 2 * math.Log2E
}

// off is how many doubts the answer lies from the middle of the target.
func (m *model) off(filled []int) float64 {
	if m.target.rel == 0 {
		return 0
	}
	x := 1.0
	for i, s := range m.slots {
		if s.pinion() {
			x /= float64(filled[i])
		} else {
			x *= float64(filled[i])
		}
	}
	return (x/m.mid - 1) / m.target.rel
}

// reasons lists the points one by one.
func (m *model) reasons(filled []int) []Reason {
	var out []Reason
	var at [4]int
	for _, t := range m.terms {
		c := t.values(filled, at[:])
		out = append(out, Reason{t.name, t.text(c), t.points(c)})
	}
	if m.target.rel > 0 {
		z := m.off(filled)
		out = append(out, Reason{"what was measured", fmt.Sprintf("%s doubts from the middle of what was measured", unit.Number(z, 1)), m.misfit(filled)})
	}
	return out
}
