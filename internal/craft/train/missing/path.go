package missing

import (
	"fmt"
	"math/big"

	"seatboard/internal/craft/train"
)

// Member is one wheel or pinion of a movement.
type Member struct {
	Train string `json:"train"` // "going", "strike", "quarter", "motion work", "count wheel", "slow dial"
	Arbor int    `json:"arbor"` // from 0, along the train or the pairs as written
	Part  string `json:"part"`  // "wheel", "pinion", "escape wheel"
}

const (
	wheelPart  = "wheel"
	pinionPart = "pinion"
	escapePart = "escape wheel"

	motionWork = "motion work"
	countWheel = "count wheel"
	slowDial   = "slow dial"
)

func (m Member) pinion() bool { return m.Part == pinionPart }
func (m Member) escape() bool { return m.Part == escapePart }

// String is "the wheel of arbor 3", "pinion 2 of the motion work".
func (m Member) String() string {
	switch {
	case m.escape():
		return "the escape wheel"
	case m.Train == train.Going:
		return fmt.Sprintf("the %s of arbor %d", m.Part, m.Arbor+1)
	case m.Train == train.Strike || m.Train == train.Quarter:
		return fmt.Sprintf("the %s of arbor %d of the %s train", m.Part, m.Arbor+1, m.Train)
	case m.pinion():
		return fmt.Sprintf("pinion %d of the %s", m.Arbor, m.Train)
	}
	return fmt.Sprintf("wheel %d of the %s", m.Arbor+1, m.Train)
}

// Short is "wheel 3", "pinion 4", "escape wheel": arbors from 1 along a train,
// wheels and pinions of other work each from 1.
func (m Member) Short() string {
	switch {
	case m.escape():
		return m.Part
	case m.pinion() && m.Train != train.Going && m.Train != train.Strike && m.Train != train.Quarter:
		return fmt.Sprintf("pinion %d", m.Arbor)
	}
	return fmt.Sprintf("%s %d", m.Part, m.Arbor+1)
}

// node is a place of a path that turns: an arbor, or the beat.
type node struct {
	name  string
	speed *span  // turns an hour, nil where it is not known
	why   string // what fixes it
}

// edge is a mesh: the next node turns wheel/pinion · times as fast. A mesh
// without a pinion is the escapement.
type edge struct {
	wheel, pinion train.Count
	wheelOf       Member
	pinionOf      Member
	times         *big.Rat // nil is 1
	arbors        [2]train.Arbor
}

// ratio is the turns of the next node for one of this; nil where a count is
// missing.
func (e edge) ratio() *big.Rat {
	r := big.NewRat(1, 1)
	if e.times != nil {
		r.Set(e.times)
	}
	for _, x := range []struct {
		c    train.Count
		over bool
	}{{e.wheel, false}, {e.pinion, true}} {
		switch {
		case x.c.Status == train.None:
		case !x.c.Known():
			return nil
		case x.over:
			r.Quo(r, big.NewRat(int64(x.c.Teeth), 1))
		default:
			r.Mul(r, big.NewRat(int64(x.c.Teeth), 1))
		}
	}
	return r
}

// path is a train as nodes and the meshes between them.
type path struct {
	name  string
	nodes []node
	edges []edge
	falls bool // the wheels of such a train get smaller along it
}

// clash is two facts that a path without missing counts cannot both have.
type clash struct {
	path      *path
	at        int
	has, want span
	why       [2]string
}

// fix states the speed of a node. Where it is known already the two are held
// against each other, and the first stays.
func (p *path) fix(i int, s span, why string) *clash {
	n := &p.nodes[i]
	if n.speed == nil {
		n.speed, n.why = &s, why
		return p.spread(i)
	}
	if !n.speed.meets(s) {
		return &clash{p, i, *n.speed, s, [2]string{n.why, why}}
	}
	return nil
}

// spread carries a speed over the meshes that are known.
func (p *path) spread(from int) *clash {
	for _, step := range []int{1, -1} {
		for i := from; i+step >= 0 && i+step < len(p.nodes); i += step {
			e := p.edges[min(i, i+step)]
			r := e.ratio()
			if r == nil {
				break
			}
			if step < 0 {
				r.Inv(r)
			}
			s, next := p.nodes[i].speed.by(r), &p.nodes[i+step]
			if next.speed != nil {
				if !next.speed.meets(s) {
					return &clash{p, i + step, *next.speed, s, [2]string{next.why, p.nodes[i].why}}
				}
				break
			}
			next.speed, next.why = &s, p.nodes[i].why
		}
	}
	return nil
}

// trainPath is the path of a going, striking or quarter train.
func trainPath(t train.Train, name string, perTooth int, perTurn *big.Rat) *path {
	rows := t.Rows()
	p := &path{name: name, falls: true}
	for i, a := range rows {
		p.nodes = append(p.nodes, node{name: fmt.Sprintf("arbor %d", i+1)})
		if i+1 < len(rows) {
			p.edges = append(p.edges, edge{wheel: a.Wheel, pinion: rows[i+1].Pinion, wheelOf: Member{name, i, wheelPart}, pinionOf: Member{name, i + 1, pinionPart}, arbors: [2]train.Arbor{a, rows[i+1]}})
		}
	}
	last := rows[len(rows)-1]
	if name != train.Going || (last.Wheel.Status == train.None && perTurn == nil) {
		return p
	}
	e := edge{wheel: last.Wheel, wheelOf: Member{name, len(rows) - 1, escapePart}, times: big.NewRat(int64(perTooth), 1)}
	if perTurn != nil {
		e.wheel, e.times = train.Count{}, perTurn
	}
	p.edges, p.nodes = append(p.edges, e), append(p.nodes, node{name: "the beat"})
	return p
}

// pairsPath is the path of pairs written from the slow end, each the wheel
// driven over the pinion that drives it.
func pairsPath(c train.Chain, name, slow string) *path {
	rows := c.Arbors()
	p := &path{name: name}
	for i, a := range rows {
		p.nodes = append(p.nodes, node{name: fmt.Sprintf("arbor %d of the %s", i+1, name)})
		if i+1 < len(rows) {
			p.edges = append(p.edges, edge{wheel: a.Wheel, pinion: rows[i+1].Pinion, wheelOf: Member{name, i, wheelPart}, pinionOf: Member{name, i + 1, pinionPart}, arbors: [2]train.Arbor{a, rows[i+1]}})
		}
	}
	p.nodes[0].name = slow
	p.nodes[len(p.nodes)-1].name = "the arbor that drives the " + name
	return p
}
