package ratchet

import (
	"fmt"
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Click is the click in its working place, its nose in the space before the
// tooth on the x axis, drawn as the wheel is. Spring, tail and screw are the
// maker's.
type Click struct {
	Arm  unit.Length `json:"arm"`  // width of its arm
	Hole unit.Length `json:"hole"` // for its pivot, diameter
	Boss unit.Length `json:"boss"` // round the hole, diameter
	Nose unit.Angle  `json:"nose"` // between the side that bears on the face and the other
	Free unit.Length `json:"free"` // between the arm and the tips that it passes

	Outline geom.Path `json:"-"` // mm
	Point   geom.Pt   `json:"-"` // end of the nose
	Bears   geom.Pt   `json:"-"` // at the tip of the tooth: where it is least drawn in
	Pivot   geom.Pt   `json:"-"`
	Thrust  geom.Pt   `json:"-"` // the way in which the face pushes, of length 1
}

// Proportions of a click where nothing was measured.
const (
	armPart  = 1.2  // width of the arm over the depth of a tooth
	holePart = 0.12 // hole over the length of the click
	bossPart = 2.4  // boss over the hole
	nosePart = 0.8  // nose over the opening of a space
	freePart = 0.15 // what the arm clears the tips by, over the depth; the point of the nose clears the bottom by as much
	least    = 1.4  // boss over the hole, the least that is drawn
)

// layClick lays the click out in its place.
func (b *bench) layClick(a *Answer) {
	q := b.q
	if !a.Complete || !a.Click.Set {
		return
	}
	r, l, d := a.Diameter.Value.MM()/2, a.Click.Value.MM(), a.Distance.Value.MM()
	depth := a.Depth.MM()
	at := angle(r, l, d)
	c := Click{Nose: unit.Angle(nosePart * float64(a.Opening)), Free: unit.Millimetres(freePart * depth), Arm: q.Arm.Value, Hole: q.Hole.Value}
	if !q.Arm.Set {
		c.Arm, a.Chosen = unit.Millimetres(armPart*depth), append(a.Chosen, "arm of the click")
	}
	if !q.Hole.Set {
		c.Hole, a.Chosen = unit.Millimetres(holePart*l), append(a.Chosen, "hole of its pivot")
	}
	room := d - r - c.Free.MM() // for the boss, to the tips
	c.Boss = unit.Millimetres(min(max(bossPart*c.Hole.MM(), c.Arm.MM()), 2*room))
	if c.Boss.MM() < least*c.Hole.MM() {
		b.Say(meas.Clash, "hole", fmt.Sprintf("Between a hole of %s for the pivot and the tips of the wheel there is no room for a boss: the pivot is %s from the tips.", unit.Text(c.Hole, "mm", 2), unit.Text(unit.Millimetres(d-r), "mm", 2)),
			"Look at the place of the pivot; a longer click has it farther out. The click is not drawn.", exact, "hole", "distance", "click")
		return
	}
	c.Bears, c.Pivot = geom.Pt{X: r}, geom.Pt{X: r}.Plus(geom.Polar(l, at))
	c.Thrust = geom.Polar(1, float64(a.Undercut)).Left()
	corners, _ := a.Teeth.Corners()
	long := corners.Tip.Minus(corners.Front).Len()
	c.Point = corners.Front.Plus(geom.Polar(freePart*long, float64(a.Undercut)))
	var ok bool
	if c.Outline, ok = c.lay(r, float64(a.Undercut)); !ok {
		b.Say(meas.Clash, "arm", fmt.Sprintf("With an arm of %s the click cannot be drawn from a pivot there.", unit.Text(c.Arm, "mm", 2)), "Enter another width of the arm, or look at length and pivot.", exact, "arm", "click", "distance")
		return
	}
	a.Drawn = &c
}

// lay goes round the click: up the side that bears on the face of the tooth,
// along the outside of the arm, round the boss, back beside the tips and down
// the other side of the nose. The arm runs round the wheel as far as it must
// and straight from there.
func (c Click) lay(tips, undercut float64) (geom.Path, bool) {
	inner := tips + c.Free.MM()
	boss, far, to := c.Boss.MM()/2, c.Pivot.Len(), c.Pivot.Angle()
	outer := min(inner+c.Arm.MM(), far+boss-1e-6)
	front, okFront := outward(c.Point, geom.Polar(1, undercut), outer)
	back, okBack := outward(c.Point, geom.Polar(1, undercut+float64(c.Nose)), inner)
	if !okFront || !okBack || outer-inner < 0.2*c.Arm.MM() || !(inner+boss <= far+1e-9) {
		return geom.Path{}, false
	}
	// Where the sides leave the circles about the wheel for the boss.
	leaves := to - math.Acos(min((outer-boss)/far, 1))
	comes := to - math.Acos(min((inner+boss)/far, 1))
	p := geom.Path{From: c.Point, Closed: true}
	line := func(q geom.Pt) { p.Segs = append(p.Segs, geom.Seg{To: q}) }
	arc := func(q geom.Pt, turn float64) {
		p.Segs = append(p.Segs, geom.Seg{To: q, Bulge: math.Tan(turn / 4)})
	}
	line(front)
	on := leaves // direction from the pivot in which the boss begins
	if turn := leaves - front.Angle(); turn > 1e-6 {
		arc(geom.Polar(outer, leaves), turn)
	} else if on = tangentFrom(front, c.Pivot, boss, -1); math.IsNaN(on) {
		return geom.Path{}, false
	}
	off := comes + math.Pi
	turn := comes - back.Angle()
	if turn <= 1e-6 {
		if off = tangentFrom(back, c.Pivot, boss, 1); math.IsNaN(off) {
			return geom.Path{}, false
		}
	}
	line(c.Pivot.Plus(geom.Polar(boss, on)))
	round := math.Mod(off-on+4*math.Pi, 2*math.Pi)
	arc(c.Pivot.Plus(geom.Polar(boss, on+round/2)), round/2)
	arc(c.Pivot.Plus(geom.Polar(boss, off)), round/2)
	if turn > 1e-6 {
		line(geom.Polar(inner, comes))
		arc(back, -turn)
	} else {
		line(back)
	}
	line(c.Point)
	return p, p.Simple()
}

// outward is where a ray comes to a circle about the wheel's centre.
func outward(from, way geom.Pt, radius float64) (geom.Pt, bool) {
	along := from.Dot(way)
	in := along*along - from.Dot(from) + radius*radius
	if in < 0 {
		return geom.Pt{}, false
	}
	return from.Plus(way.Times(math.Sqrt(in) - along)), true
}

// tangentFrom is the direction from a circle's centre in which the tangent from
// a point touches it, on the right of the way to it (−1) or the left (1); NaN
// for a point inside.
func tangentFrom(p, centre geom.Pt, radius, side float64) float64 {
	v := p.Minus(centre)
	if v.Len() <= radius {
		return math.NaN()
	}
	return v.Angle() - side*math.Acos(radius/v.Len())
}

// thrust says whether the click pulls itself in past its friction, and how
// hard it is pushed.
func (b *bench) thrust(a *Answer) {
	draw := float64(a.Draw.Value)
	a.Holds = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return math.Tan(b.draw(n)) })
	b.Step("Pulls itself in", "N L sin δ > µ N L cos δ, or µ < tan δ", "δ = "+a.Draw.Text("°", 2), "µ < "+unit.Number(math.Tan(draw), 3), exact)
	if mu := b.q.Friction; mu.Set {
		if m := float64(mu.Value); draw > 0 && math.Tan(draw) < m {
			b.Say(meas.Doubt, "friction", fmt.Sprintf("At a coefficient of friction of %s the nose stays where it first catches, half way in; it would pull itself in from a draw of %s.", unit.Number(m, 2), unit.Text(unit.Angle(math.Atan(m)), "°", 1)),
				"Give the face more undercut, or a spring that carries the nose to the bottom; look at each tooth as it drops.", exact, "friction", "undercut")
		} else if draw < 0 && -math.Tan(draw) > m {
			b.Say(meas.Danger, "slips", fmt.Sprintf("At a coefficient of friction of %s the face throws the click out: nothing but its spring holds it.", unit.Number(m, 2)),
				"Do not wind it. Set the pivot farther out, or undercut the face. Local law and licensed practice decide.", exact, "friction", "distance")
		}
	}
	if !b.q.Torque.Set {
		return
	}
	a.Force = meas.Find[unit.Force](&b.Bench, func(n numbers) float64 { return n.torque / (n.diameter / 2 * math.Cos(n.undercut)) })
	b.Step("Thrust on the click and its pivot", "N = T / (R cos u)", fmt.Sprintf("%s / (%s · cos %s)", b.q.Torque.Written("N m"), unit.Text(a.Diameter.Value/2, "mm", 2), unit.Text(a.Undercut, "°", 1)), a.Force.Text("N", 1), exact)
}
