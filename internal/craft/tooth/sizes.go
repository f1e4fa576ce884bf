package tooth

import (
	"fmt"
	"math"
	"slices"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// runOut is what the edge of a blank may run out on its arbor, in modules: an
// eighth of the clearance of the teeth.
const runOut = clearance / 8

// sizes are those of the wheel or of the pinion.
func (b *bench) sizes(wheel bool) Sizes {
	gear := func(n numbers) Gear {
		if wheel {
			return b.pair(n).Wheel
		}
		return b.pair(n).Pinion
	}
	find := func(f func(g Gear) float64) meas.Result[unit.Length] {
		return meas.Find[unit.Length](&b.Bench, func(n numbers) float64 {
			if g := gear(n); g.Count > 0 {
				return f(g)
			}
			return math.NaN() // a doubt as large as the size leaves nothing to lay out
		})
	}
	g := gear(b.N)
	s := Sizes{
		Count: g.Count, RootRadius: g.RootRadius, TipRadius: g.TipRadius,
		Pitch:    find(func(g Gear) float64 { return 2 * float64(g.Pitch) }),
		Over:     find(func(g Gear) float64 { return 2 * float64(g.Tip) }),
		Root:     find(func(g Gear) float64 { return 2 * float64(g.Root) }),
		Addendum: find(func(g Gear) float64 { return float64(g.Tip - g.Pitch) }),
		Dedendum: find(func(g Gear) float64 { return float64(g.Pitch - g.Root) }),
		Depth:    find(func(g Gear) float64 { return float64(g.Tip - g.Root) }),
		Tooth:    find(func(g Gear) float64 { return 2 * g.Half * float64(g.Pitch) }),
		Space:    find(func(g Gear) float64 { return (g.Step() - 2*g.Half) * float64(g.Pitch) }),
		RunOut:   meas.Exactly(unit.Length(runOut * b.module(b.N))),
	}
	if pair := b.pair(b.N); g.RootRadius > 0 {
		mate := pair.Wheel
		if wheel {
			mate = pair.Pinion
		}
		if room := g.RootRoom(mate, pair.Distance); !math.IsInf(room, 0) {
			s.RootRoom = meas.Exactly(unit.Millimetres(room))
		}
	}
	if !g.Lantern {
		if s.SpaceBottom = meas.Exactly(unit.Length(0)); g.RootRadius == 0 || b.q.Bottom != RoundBottom {
			s.SpaceBottom = find(func(g Gear) float64 { return (g.Step() - 2*g.foot()) * float64(g.Root) })
		}
		s.Cutter = g.cutter()
	}
	return s
}

// foot is half the angle of a tooth on the root circle.
func (g Gear) foot() float64 {
	p, _ := g.Flank[0].At(0)
	return p.Angle()
}

// cutter is the space between two teeth by points of its side.
func (g Gear) cutter() Cutter {
	var c Cutter
	bottom := geom.Polar(g.Root.MM(), g.Step()/2-g.foot()).X
	side := func(piece geom.Curve, steps int) {
		for i := 1; i <= steps; i++ {
			p, _ := piece.At(float64(i) / float64(steps))
			p = geom.Pt{X: p.X, Y: -p.Y}.Turn(g.Step() / 2) // of the next tooth, the middle of the space on the x axis
			c.Widths = append(c.Widths, Width{unit.Millimetres(p.X - bottom), unit.Millimetres(2 * p.Y)})
		}
	}
	c.Widths = append(c.Widths, Width{0, unit.Millimetres(2 * geom.Polar(g.Root.MM(), g.Step()/2-g.foot()).Y)})
	straight := false
	for _, piece := range g.Flank {
		_, line := piece.(Straight)
		switch {
		case line:
			side(piece, 2)
		case straight: // the curve that begins on the pitch circle
			side(piece, 6)
		default:
			side(piece, 4)
		}
		straight = line
	}
	arc, miss := g.oneArc()
	c.Arc, c.Deviation = unit.Millimetres(arc), unit.Millimetres(miss)
	return c
}

// oneArc is the radius of the arc through both ends of the curve beyond the
// pitch circle that comes nearest to it, and by how much it misses it, in mm;
// nought where the flank is an arc there or the gear has none.
func (g Gear) oneArc() (radius, miss float64) {
	i := slices.IndexFunc(g.Flank, func(c geom.Curve) bool { _, cycloid := c.(Epicycloid); return cycloid })
	if i < 0 {
		return 0, 0
	}
	e := g.Flank[i]
	from, _ := e.At(0)
	to, _ := e.At(1)
	off := func(bulge float64) float64 {
		arc, worst := geom.Seg{To: to, Bulge: bulge}, 0.0
		for k := 1; k < 32; k++ {
			p, _ := e.At(float64(k) / 32)
			worst = max(worst, arc.Distance(from, p))
		}
		return worst
	}
	low, high := -0.4, 0.0 // the flank bends to the right
	for range 60 {         // the miss falls and rises again
		if a, b := low+(high-low)*0.382, low+(high-low)*0.618; off(a) < off(b) {
			high = b
		} else {
			low = a
		}
	}
	_, radius, _, _ = geom.Seg{To: to, Bulge: high}.Arc(from)
	return radius, off(high)
}

// stepSizes writes how the sizes follow from the module.
func (b *bench) stepSizes(a *Answer) {
	m := unit.Text(a.Module.Value, "mm", 4)
	b.Step("Circular pitch", "p = π m", "π · "+m, a.CircularPitch.Text("mm", 4), shapeRule)
	b.Step("Distance of the centres", "a = m (N + n) / 2", fmt.Sprintf("%s · %d / 2", m, b.q.Wheel+b.q.Leaves), a.Distance.Text("mm", 3), shapeRule)
	high := func(s Sizes) float64 { return float64(s.Addendum.Value / a.Module.Value) }
	rule := fineRule
	switch {
	case b.q.Height.Set:
		rule = shapeRule
	case a.Form == Exact:
		rule = cycloidRule
	case a.Form == LanternOf:
		rule = pinRule
	}
	b.Step("Height of the wheel's teeth", "h = as far as the form has it", unit.Number(high(a.Wheel), 3)+" · "+m, a.Wheel.Addendum.Text("mm", 3), rule)
	b.Step("Blank of the wheel", "D = m (N + 2h)", fmt.Sprintf("%s · (%d + 2 · %s)", m, b.q.Wheel, unit.Number(high(a.Wheel), 3)), a.Wheel.Over.Text("mm", 3), shapeRule)
	b.Step("Blank of the pinion", "d = m (n + 2h)", fmt.Sprintf("%s · (%d + 2 · %s)", m, b.q.Leaves, unit.Number(high(a.Pinion), 3)), a.Pinion.Over.Text("mm", 3), leafRule)
	b.Step("Depth of cut, wheel", "tip to bottom", fmt.Sprintf("%s + %s, clearance %s m", a.Wheel.Addendum.Text("mm", 3), a.Wheel.Dedendum.Text("mm", 3), unit.Number(clearance, 1)), a.Wheel.Depth.Text("mm", 3), fineRule)
	if !a.Pair.Pinion.Lantern {
		b.Step("Depth of cut, pinion", "tip to bottom", fmt.Sprintf("%s + %s, clearance %s m", a.Pinion.Addendum.Text("mm", 3), a.Pinion.Dedendum.Text("mm", 3), unit.Number(clearance, 1)), a.Pinion.Depth.Text("mm", 3), fineRule)
	}
}
