package missing

import (
	"fmt"
	"math"
	"math/big"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// network is the paths of a movement with all that fixes their speeds.
type network struct {
	q        Query
	paths    map[string]*path
	names    []string // of paths in order
	clashes  []clash
	hour     int  // arbor of one turn an hour, -1 where there is none
	supposed bool // by rule
}

// newNetwork lays the paths out and fixes what is exact first, then what was
// measured.
func newNetwork(q Query, base train.Answer) *network {
	n := &network{q: q, paths: map[string]*path{}, hour: -1}
	n.layOut()
	n.hourArbor(base)
	n.goingExact()
	n.strike()
	n.motion()
	n.makes(false)
	n.measured()
	n.makes(true)
	n.motion()
	n.slow()
	return n
}

func (n *network) add(p *path) {
	n.paths[p.name] = p
	n.names = append(n.names, p.name)
}

func (n *network) layOut() {
	q := n.q.Train
	tooth := q.PerTooth
	if tooth == 0 {
		tooth = 2
	}
	for _, name := range []string{train.Going, train.Strike, train.Quarter} {
		if t := n.q.of(name); t != nil {
			n.add(trainPath(*t, name, tooth, q.PerTurn.Rat()))
		}
	}
	if len(q.Motion.Arbors()) > 1 {
		n.add(pairsPath(q.Motion, motionWork, "the hour hand"))
	}
	if t := n.q.of(train.Strike); t != nil && len(t.Report.Arbors()) > 1 {
		n.add(pairsPath(t.Report, countWheel, "the count wheel"))
	}
	if len(n.q.Slow.Arbors()) > 1 {
		n.add(pairsPath(n.q.Slow, slowDial, "the slow dial"))
	}
}

// fix states a speed and keeps the clash that comes of it.
func (n *network) fix(name string, node int, s span, why string) {
	p := n.paths[name]
	if p == nil || node < 0 || node >= len(p.nodes) {
		return
	}
	if c := p.fix(node, s, why); c != nil {
		n.clashes = append(n.clashes, *c)
	}
}

// hourArbor finds the arbor of one turn an hour: as the train's own sums have
// it, or by rule the third from the escape wheel.
func (n *network) hourArbor(base train.Answer) {
	t := n.q.of(train.Going)
	if t == nil || n.q.noHour() {
		return
	}
	if a := base.Anchor; a.Kind == train.ByHourArbor && a.Arbor != nil {
		n.hour, n.supposed = *a.Arbor, a.Supposed
		return
	}
	if m := n.q.Train.MotionArbor; m != "" && len(n.q.Train.Motion.Arbors()) > 1 && motionRatio(n.q.Train.Motion) != nil {
		return // the motion work tells
	}
	rows := t.Rows()
	n.hour, n.supposed = max(0, len(rows)-3), true
}

// goingExact fixes what is exact in the going train.
func (n *network) goingExact() {
	q := n.q.Train
	if n.hour >= 0 {
		turn := 1.0
		if q.ArborTurn.Set {
			turn = float64(q.ArborTurn.Value) / 3600
		}
		if r := train.Decimal(turn); r != nil && r.Sign() > 0 {
			why := fmt.Sprintf("arbor %d turns once in %s", n.hour+1, hours(turn))
			if n.supposed {
				why += " (supposed)"
			}
			n.fix(train.Going, n.hour, exact(r.Inv(r)), why)
		}
	}
	if n.q.SecondsHand != "" {
		n.fix(train.Going, n.q.of(train.Going).Find(n.q.SecondsHand), whole(60), "the seconds hand on arbor "+n.q.SecondsHand+" turns once a minute")
	}
	if p := n.paths[train.Going]; p != nil && q.Beats.Known() && p.nodes[len(p.nodes)-1].name == "the beat" {
		n.fix(train.Going, len(p.nodes)-1, exact(q.Beats.Rat()), q.Beats.Mixed()+" beats an hour were stated")
	}
}

func hours(turn float64) string {
	if turn == 1 {
		return "an hour"
	}
	return unit.Significant(turn, 4) + " h"
}

// strike fixes the blows.
func (n *network) strike() {
	t := n.q.of(train.Strike)
	if t == nil {
		return
	}
	blows := t.BlowsPer12h
	if blows == 0 {
		blows = hoursBlows.V
	}
	each := big.NewRat(int64(blows), 12) // an hour
	if t.Pins > 0 {
		if at := t.PinPlace(); at >= 0 {
			n.fix(train.Strike, at, exact(quo(each, big.NewRat(int64(t.Pins), 1))), fmt.Sprintf("%d pins strike %d blows in 12 hours", t.Pins, blows))
		}
	}
	if n.q.BlowArbor != "" {
		n.fix(train.Strike, t.Find(n.q.BlowArbor), exact(each), fmt.Sprintf("arbor %s turns once a blow, %d in 12 hours", n.q.BlowArbor, blows))
	}
	if p := n.paths[countWheel]; p != nil {
		n.fix(countWheel, 0, exact(big.NewRat(1, 12)), "the count wheel turns once in 12 hours")
		if at := t.PinPlace(); at >= 0 {
			if s := n.paths[train.Strike].nodes[at].speed; s != nil {
				n.fix(countWheel, len(p.nodes)-1, *s, n.paths[train.Strike].nodes[at].why)
			}
		}
	}
}

// motionRatio is what the motion work makes, nil where a count is missing.
func motionRatio(c train.Chain) *big.Rat {
	r := big.NewRat(1, 1)
	for _, e := range pairsPath(c, motionWork, "").edges {
		x := e.ratio()
		if x == nil {
			return nil
		}
		r.Mul(r, x)
	}
	return r
}

// motion joins the motion work to the arbor that carries it.
func (n *network) motion() {
	p, going := n.paths[motionWork], n.paths[train.Going]
	if p == nil {
		return
	}
	dial := n.q.Train.DialHours
	if dial == 0 {
		dial = 12
	}
	if p.nodes[0].speed == nil {
		n.fix(motionWork, 0, exact(big.NewRat(1, int64(dial))), fmt.Sprintf("the hour hand turns once in %d hours", dial))
	}
	at := n.hour
	if a := n.q.Train.MotionArbor; a != "" && going != nil {
		at = n.q.of(train.Going).Find(a)
	}
	end := len(p.nodes) - 1
	switch {
	case at < 0 && going == nil && p.nodes[end].speed == nil:
		n.fix(motionWork, end, whole(1), "the motion work begins from an arbor of one turn an hour (supposed)")
	case at < 0 || going == nil:
	case going.nodes[at].speed != nil && p.nodes[end].speed == nil:
		n.fix(motionWork, end, *going.nodes[at].speed, going.nodes[at].why)
	case going.nodes[at].speed == nil && p.nodes[end].speed != nil:
		n.fix(train.Going, at, *p.nodes[end].speed, p.nodes[end].why+", through the motion work")
	case going.nodes[at].speed != nil && !going.nodes[at].speed.meets(*p.nodes[end].speed):
		n.clashes = append(n.clashes, clash{going, at, *going.nodes[at].speed, *p.nodes[end].speed, [2]string{going.nodes[at].why, p.nodes[end].why}})
	}
}

// makes states the lines that tell the turns of arbors against each other.
func (n *network) makes(measured bool) {
	for _, m := range n.q.Makes.lines {
		if m.measured.Set != measured {
			continue
		}
		t, p := n.q.of(m.train), n.paths[m.train]
		from, to := t.Find(m.from), t.Find(m.to)
		why := "“" + m.text + "” was stated"
		switch {
		case p.nodes[from].speed != nil:
			n.fix(m.train, to, p.nodes[from].speed.times(m.span()), why)
		case p.nodes[to].speed != nil:
			n.fix(m.train, from, p.nodes[to].speed.over(m.span()), why)
		default:
			n.fix(m.train, from, whole(1), why)
			n.fix(m.train, to, m.span(), why)
		}
	}
}

// measured fixes what rests on a measurement: the pendulum and the times of
// running.
func (n *network) measured() {
	if b := n.q.trains().PendulumBeats(); b.Set && n.paths[train.Going] != nil {
		p := n.paths[train.Going]
		last := len(p.nodes) - 1
		if p.nodes[last].name == "the beat" {
			n.fix(train.Going, last, doubted(float64(b.Value), float64(b.U/b.Value)), "the pendulum of "+n.q.Train.Pendulum.Written("mm")+" beats "+meas.WithU(b.Value, b.U, "")+" an hour")
		}
	}
	for _, r := range []struct {
		name string
		runs meas.Reading[unit.Duration]
	}{{train.Going, n.q.GoingRuns}, {train.Strike, n.q.StrikeRuns}} {
		t := n.q.of(r.name)
		if t == nil || !r.runs.Set || !t.BarrelTurns.Set {
			continue
		}
		rel := runsDoubt.V
		if r.runs.HasU {
			rel = float64(r.runs.U / r.runs.Value)
		}
		rel = math.Hypot(rel, float64(t.BarrelTurns.U/t.BarrelTurns.Value))
		speed := float64(t.BarrelTurns.Value) / (float64(r.runs.Value) / 3600)
		n.fix(r.name, 0, doubted(speed, rel), fmt.Sprintf("%s turns of the barrel run %s", t.BarrelTurns, r.runs.Written("h")))
	}
}

// slow fixes the slow dial.
func (n *network) slow() {
	p := n.paths[slowDial]
	if p == nil {
		return
	}
	turn := 12.0
	if n.q.SlowTurn.Set {
		turn = float64(n.q.SlowTurn.Value) / 3600
	}
	for _, s := range slowShows.Rows {
		if s.Name != n.q.SlowShows {
			continue
		}
		within := slowDoubt.V
		if n.q.SlowWithin.Set {
			within = n.q.SlowWithin.Value
		}
		rel := float64(within) / (s.Days * 86400)
		if s.Exactly {
			rel = 0
		}
		n.fix(slowDial, len(p.nodes)-1, exact(quo(big.NewRat(1, 1), train.Decimal(turn))), "the slow dial begins from an arbor of one turn in "+hours(turn))
		period := doubted(s.Days*24, rel)
		n.fix(slowDial, 0, whole(1).over(period), s.Says)
	}
}
