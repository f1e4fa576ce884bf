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
	teeth  []float64 // points of a wheel by itself
	floor  float64   // the least points that order and hunting can have together

	terms []term
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
	m := &model{p: p, meshes: meshes, escape: escape, slots: slots, falls: falls, target: target, mid: float(target.mid), teeth: make([]float64, mostCount+1)}
	for _, s := range slots {
		for _, c := range s.counts {
			if m.teeth[c] == 0 && !s.pinion() && !s.escape() {
				m.teeth[c] = points(p.ofTeeth(c))
			}
		}
	}
	for i, x := range meshes {
		m.mesh(i, x)
	}
	if escape != nil && escape.slot >= 0 {
		m.add(term{"escape wheel", []ref{*escape}, 0, func(c []int) float64 { return points(p.ofEscape(c[0])) },
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
	m.add(term{"teeth", []ref{x.wheel}, 0, func(c []int) float64 { return m.teeth[c[0]] }, func(c []int) string {
		return fmt.Sprintf("%d teeth, %s in %s; largest prime factor %s, %.0f of %d", c[0], p.teeth.said(c[0]), p.name, factorNames[factorClass(c[0])], p.factors[factorClass(c[0])], p.teeth.total)
	}})
	if i == 0 || !m.meshes[i-1].known {
		m.add(term{"leaves", []ref{x.pinion}, 0, func(c []int) float64 { return points(p.ofLeaves(c[0])) },
			func(c []int) string { return fmt.Sprintf("%d leaves, %s in %s", c[0], p.leaves.said(c[0]), p.name) }})
		return
	}
	b := m.meshes[i-1]
	m.add(term{"leaves", []ref{b.pinion, x.pinion}, 0, func(c []int) float64 { return points(p.afterLeaves(c[0], c[1])) }, func(c []int) string {
		if c[0] == c[1] {
			return fmt.Sprintf("%d leaves after %d, like its neighbour, as %.0f of %.0f in %s", c[1], c[0], p.same.yes, p.same.all, p.name)
		}
		return fmt.Sprintf("%d leaves after %d, unlike its neighbour; %s in %s have %d", c[1], c[0], p.leaves.said(c[1]), p.name, c[1])
	}})
	if !x.known {
		return
	}
	if m.falls {
		m.add(term{"order", []ref{b.wheel, x.wheel}, min(points(p.ofOrder(2, 1)), points(p.ofOrder(1, 1)), points(p.ofOrder(1, 2))), func(c []int) float64 { return points(p.ofOrder(c[0], c[1])) }, func(c []int) string {
			at := order(c[0], c[1])
			return fmt.Sprintf("%d teeth after %d, %s, as %.0f of %.0f in %s", c[1], c[0], [...]string{"fewer", "as many", "more"}[at], p.falls[at], p.falls[0]+p.falls[1]+p.falls[2], p.name)
		}})
	}
	m.add(term{"hunting", []ref{b.wheel, b.pinion, x.wheel, x.pinion}, min(points(p.ofHunting(0, 0)), points(p.ofHunting(0, 1)), points(p.ofHunting(1, 0)), points(p.ofHunting(1, 1))), func(c []int) float64 {
		return points(p.ofHunting(hunting(c[0], c[1]), hunting(c[2], c[3])))
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
		return points(m.p.ofEscape(n))
	}
	return m.teeth[n]
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
