package missing

import (
	"math/big"
	"strings"

	"seatboard/internal/craft/train"
)

// opening is a stretch of a path whose ends turn at known speeds and in which
// counts are missing.
type opening struct {
	path     *path
	from, to int // nodes
}

// openings lists the stretches of a path, and the members that lie in none.
func (p *path) openings() (out []opening, loose []Member) {
	last := -1 // node of the last known speed
	for i := range p.nodes {
		if p.nodes[i].speed == nil {
			continue
		}
		if last >= 0 && i > last+1 || last >= 0 && p.edges[last].ratio() == nil {
			out = append(out, opening{p, last, i})
		} else if last < 0 {
			loose = append(loose, p.lacking(0, i)...)
		}
		last = i
	}
	return out, append(loose, p.lacking(max(last, 0), len(p.nodes)-1)...)
}

// lacking lists the missing members from one node to another.
func (p *path) lacking(from, to int) []Member {
	var out []Member
	for _, e := range p.edges[from:to] {
		if e.wheel.Status == train.Missing {
			out = append(out, e.wheelOf)
		}
		if e.pinion.Status == train.Missing {
			out = append(out, e.pinionOf)
		}
	}
	return out
}

// ratio is the turns of the last arbor for one of the first.
func (o opening) ratio() span {
	return o.path.nodes[o.to].speed.over(*o.path.nodes[o.from].speed)
}

// known is what the counts that are there make, and their sum as written:
// "60/8 · 1/7".
func (o opening) known() (*big.Rat, string) {
	r := big.NewRat(1, 1)
	var text []string
	for _, e := range o.path.edges[o.from:o.to] {
		w, p := "1", ""
		if e.times != nil {
			r.Mul(r, e.times)
			text = append(text, e.times.RatString())
		}
		if e.wheel.Known() {
			r.Mul(r, big.NewRat(int64(e.wheel.Teeth), 1))
			w = e.wheel.Teeth.String()
		}
		if e.pinion.Known() {
			r.Quo(r, big.NewRat(int64(e.pinion.Teeth), 1))
			p = "/" + e.pinion.Teeth.String()
		}
		if e.wheel.Known() || e.pinion.Known() {
			text = append(text, w+p)
		}
	}
	return r, strings.Join(text, " · ")
}

// problem makes the search of an opening.
func (o opening) problem(q Query, books practices, withSizes bool) *problem {
	p := &problem{}
	known, _ := o.known()
	p.target = o.ratio().by(new(big.Rat).Inv(known))
	var meshes []mesh
	var escape *ref
	take := func(c train.Count, m Member, within bool) (ref, bool) {
		switch {
		case c.Known():
			return ref{-1, int(c.Teeth)}, true
		case !within || c.Status == train.None:
			return ref{-1, 0}, false
		}
		p.slots = append(p.slots, slot{m, q.countsOf(m)})
		return ref{slot: len(p.slots) - 1}, true
	}
	var all []sized
	for i, e := range o.path.edges {
		within := i >= o.from && i < o.to
		w, wok := take(e.wheel, e.wheelOf, within)
		if e.wheelOf.escape() {
			if wok {
				escape = &w
			}
			continue
		}
		pn, pok := take(e.pinion, e.pinionOf, within)
		meshes = append(meshes, mesh{w, pn, wok && pok})
		if s := (sized{w, pn, e.arbors, moduleBracket(q.Module)}); within && withSizes && s.measured() && (w.slot >= 0 || pn.slot >= 0) {
			all = append(all, s)
		}
	}
	for _, s := range all {
		if s.narrow(p.slots) {
			p.meshes = append(p.meshes, s)
		}
	}
	p.model = newModel(books.of(o.path.name), meshes, escape, p.slots, o.path.falls, p.target)
	return p
}

// countsOf is the counts that a member may have.
func (q Query) countsOf(m Member) []int {
	r := usualWheels.V
	stated := q.Wheels
	switch {
	case m.escape():
		r, stated = usualEscapes.V, q.Escapes
	case m.pinion():
		r, stated = usualPinions.V, q.Pinions
		if m.Train == motionWork || m.Train == slowDial || m.Train == countWheel {
			r = slowPinions.V
		}
	}
	if stated.Set() {
		r = stated
	}
	out := make([]int, 0, r.High-r.Low+1)
	for n := r.Low; n <= r.High; n++ {
		out = append(out, n)
	}
	return out
}

// practices is what the points are reckoned from.
type practices struct{ going, slow *practice }

func newPractices(trains []train.Query) practices {
	return practices{goingPractice("Goodrich’s table", trains), chainPractice("the printed motion works", train.PrintedMotions())}
}

func (b practices) of(path string) *practice {
	switch path {
	case motionWork, slowDial, countWheel:
		return b.slow
	}
	return b.going
}
