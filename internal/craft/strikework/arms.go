package strikework

import (
	"fmt"
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Arms are what carries the teeth and the tail of a rack.
type Arms struct {
	Between unit.Angle  `json:"between"` // from the middle of the teeth to the tail, the way the rack falls
	Arm     unit.Length `json:"arm"`     // width, of both
	Hub     unit.Length `json:"hub"`     // diameter
	Hole    unit.Length `json:"hole"`    // for the pivot, diameter

	Outline geom.Path `json:"-"` // the whole rack, its pivot at the origin, the middle of the teeth on the x axis
	Pin     geom.Pt   `json:"-"` // of the tail
	Snail   geom.Pt   `json:"-"` // centre of the snail, the pin on the step of 1 o'clock
}

// Proportions of a rack where nothing was measured.
const (
	usualBetween = 100  // degrees
	rimDepths    = 2.0  // width of the rim, and of the arms, in depths of a tooth
	holeArms     = 0.8  // hole, in widths of the arm
	hubHoles     = 2.5  // hub, in holes
	leastHub     = 1.15 // hub, in widths of the arm
)

// arms lays out what carries the teeth.
func (b *bench) arms(a *Answer) {
	q, r := b.q, a.Rack
	m := Arms{Between: q.Between.Value, Arm: q.Arm.Value, Hole: q.Hole.Value}
	if !q.Between.Set {
		m.Between, a.Chosen = unit.Deg(usualBetween), append(a.Chosen, "angle from the teeth to the tail")
	}
	if !q.Arm.Set {
		m.Arm, a.Chosen = unit.Length(rimDepths*float64(r.Depth)), append(a.Chosen, "width of the arms")
	}
	if !q.Hole.Set {
		m.Hole, a.Chosen = unit.Length(holeArms*float64(m.Arm)), append(a.Chosen, "hole of the pivot")
	}
	// Where the arms stand close together the hub reaches to where they part.
	apart := math.Sin(min(math.Abs(float64(m.Between)), math.Pi) / 2)
	m.Hub = max(unit.Length(hubHoles)*m.Hole, unit.Length(leastHub/apart)*m.Arm)
	tail := q.Tail.Value.MM()
	to := float64(m.Between)
	m.Pin = geom.Polar(tail, to)
	// The faces hold the rack against turning on this way; it falls so, and its
	// tail comes nearer to the centre of the snail.
	m.Snail = geom.Polar(r.Centres.MM(), to+b.N.angle(r.Radii[0].MM()/1e3+b.N.pin/2))
	var ok bool
	if m.Outline, ok = r.carried(m, tail); !ok {
		b.Say(meas.Clash, "between", fmt.Sprintf("Arms of %s at %s from each other, and a hub of %s, run into the teeth or into one another.", unit.Text(m.Arm, "mm", 2), unit.Text(m.Between, "°", 0), unit.Text(m.Hub, "mm", 2)),
			"Measure the angle at the pivot from the middle of the teeth to the pin of the tail, and the width of the arms. The rack is drawn without them.", exact, "between", "arm", "hole")
		return
	}
	r.Arms = &m
}

// carried goes round the whole rack: over the teeth, along the inside of the
// rim to the arm, round the hub to the tail, round its end and back.
func (r Rack) carried(m Arms, tail float64) (geom.Path, bool) {
	p := r.Saw.Run(r.Teeth)
	if len(p.Segs) == 0 {
		return p, false
	}
	last := p.Segs[len(p.Segs)-1].To
	first := p.From.Angle()
	turn := math.Mod(last.Angle()-first+2*fullTurn, fullTurn)
	mid := first + turn/2
	p = p.Map(func(q geom.Pt) geom.Pt { return q.Turn(-mid) }, false)
	half, hub, end := m.Arm.MM()/2, m.Hub.MM()/2, m.Arm.MM()/2
	inner := r.Saw.Root - rimDepths*(r.Saw.Tip-r.Saw.Root)
	if !(hub > half && inner > hub+half && tail > hub+end) || math.Asin(half/inner) >= turn/2 {
		return p, false
	}
	at := math.Mod(float64(m.Between)+2*fullTurn, fullTurn)
	on, rim := math.Asin(half/hub), math.Asin(half/inner)
	line := func(q geom.Pt) { p.Segs = append(p.Segs, geom.Seg{To: q}) }
	arc := func(q geom.Pt, by float64) { p.Segs = append(p.Segs, geom.Seg{To: q, Bulge: quarterTan(by)}) }
	line(geom.Polar(inner, turn/2))
	arc(geom.Polar(inner, rim), rim-turn/2)
	line(geom.Polar(hub, on))
	arc(geom.Polar(hub, at-on), at-2*on)
	side := geom.Polar(end, at+math.Pi/2)
	line(m.Pin.Minus(side))
	arc(m.Pin.Plus(side), math.Pi)
	line(geom.Polar(hub, at+on))
	arc(geom.Polar(hub, -on), fullTurn-at-2*on)
	line(geom.Polar(inner, -rim))
	arc(geom.Polar(inner, -turn/2), rim-turn/2)
	line(p.From)
	p.Closed = true
	return p, at > 2*on && fullTurn-at > 2*on && p.Simple()
}
