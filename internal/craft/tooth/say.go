package tooth

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// sayAction says where the leaves are met.
func (b *bench) sayAction(a *Answer) {
	c := a.Action
	if !c.Known {
		b.Say(meas.Note, "action", "Arcs are not cycloids: where they meet the leaves is not told by a rule.", "Turn the pair against each other under Depthing.", usage, "form")
		return
	}
	rule := cycloidRule
	if a.Form == LanternOf {
		rule = pinRule
	}
	turn := unit.Angle(float64(c.After) * float64(b.q.Leaves) / float64(b.q.Wheel))
	b.Step("Driven past the line of centres", "φ = turn of the wheel · N/n", fmt.Sprintf("%s · %d/%d", unit.Text(turn, "°", 3), b.q.Wheel, b.q.Leaves), unit.Text(c.After, "°", 2), rule)
	b.Step("From leaf to leaf", "360° / n", fmt.Sprintf("360° / %d", b.q.Leaves), unit.Text(c.Needed, "°", 2), shapeRule)
	if a.Form == LanternOf {
		b.sayPins(c)
		return
	}
	if c.Before <= 0 {
		b.Say(meas.Note, "action", fmt.Sprintf("Every leaf can be met on the line of centres: a tooth drives it to %s past the line and the next follows after %s.", unit.Text(c.After, "°", 1), unit.Text(c.Needed, "°", 1)), "", willisRule, "leaves")
		return
	}
	text := fmt.Sprintf("Each leaf is met %s before the line of centres, where tooth and leaf push against each other: a tooth drives to %s past the line, and the next leaf stands %s behind.",
		unit.Text(c.Before, "°", 1), unit.Text(c.After, "°", 1), unit.Text(c.Needed, "°", 1))
	next := "Polish the leaves, keep the depth full"
	if c.LeastLeaves > 0 {
		next += fmt.Sprintf("; a wheel of %d needs a pinion of %d or more to have none of it", b.q.Wheel, c.LeastLeaves)
	}
	b.Say(meas.Note, "before-the-line", text, next+".", willisRule, "leaves")
}

func (b *bench) sayPins(c Action) {
	b.Say(meas.Note, "pins", fmt.Sprintf("A pin is met %s past the line of centres: nearer to it the curve is sharper than the pin and would be undercut, so the side is straight there.", unit.Text(c.Begins, "°", 1)), "", pinRule, "pin")
	if c.Before > 1e-9 {
		b.Say(meas.Doubt, "pins-late", fmt.Sprintf("A tooth leaves its pin %s before the next one is met.", unit.Text(c.Before, "°", 1)),
			"Thinner pins or more of them bring the teeth to a later point.", pinRule, "pin", "leaves")
	}
}

// sayShape says what is odd about the teeth.
func (b *bench) sayShape(a *Answer) {
	q, m := b.q, a.Module.Value.MM()
	for _, g := range goodrichHeights {
		if g.wrong && g.leaves == q.Leaves && a.Form != LanternOf {
			b.Say(meas.Note, "misprint", fmt.Sprintf("For %d leaves the height is printed as %s of the radius, %s modules; a tooth of this wheel comes to its point at %s: the print is wrong and is not used.",
				g.leaves, fraction(g.over, g.part), unit.Number(g.over/g.part*float64(g.leaves)/2, 2), unit.Number(PointHeight(q.Wheel, q.Leaves), 2)), "", heightRule, "leaves")
		}
	}
	p := a.Pair.Pinion
	if !p.Lantern {
		if foot := 2 * math.Sin(p.foot()) * p.Root.MM(); foot < 0.3*m {
			b.Say(meas.Doubt, "thin-leaf", fmt.Sprintf("The leaves are only %s thick at the bottom: their sides run to the centre.", unit.Text(unit.Millimetres(foot), "mm", 3)),
				"A fillet at the bottom and tough steel, or more leaves.", shapeRule, "leaves")
		}
		if p.Root.MM() < 0.6*m {
			b.Say(meas.Doubt, "thin-core", fmt.Sprintf("Between the bottoms of the spaces the pinion is %s thick; there is no room for an arbor of its own through it.", unit.Text(2*p.Root, "mm", 2)),
				"Cut it solid with its arbor.", usage, "leaves")
		}
	}
	if pointed(a.Pair.Wheel) {
		b.Say(meas.Note, "pointed", "The teeth of the wheel run to their point before the action ends; take the sharpness off, no more.", "", cycloidRule, "form")
	}
	if m < 0.1 || m > 3 {
		b.Say(meas.Doubt, "module", "A module of "+unit.Text(a.Module.Value, "mm", 3)+" is seldom met in a clock with plates.", "Look at the unit and the counts again.", usage, "module")
	}
}

func fraction(over, part float64) string {
	return fmt.Sprintf("%d/%d", int(over), int(part))
}

// pointed tells whether the flank of a wheel ends in a cycloid.
func pointed(g Gear) bool {
	switch g.Flank[len(g.Flank)-1].(type) {
	case Epicycloid, Parallel:
		return true
	}
	return false
}

// sayRounds says what rounded corners do.
func (b *bench) sayRounds(a *Answer) {
	for _, x := range []struct {
		of, mate string
		gear     Gear
		sizes    Sizes
	}{{"wheel", "leaves", a.Pair.Wheel, a.Wheel}, {"pinion", "teeth", a.Pair.Pinion, a.Pinion}} {
		r := x.gear.RootRadius
		if r == 0 {
			continue
		}
		root := unit.Text(x.gear.Root, "mm", 3)
		if b.q.Bottom == RoundBottom {
			half := unit.Angle(x.gear.Step()/2 - x.gear.sharpFoot())
			b.Step("Round of a space, "+x.of, "r = ρ sin β / (1 − sin β), β half of the space", fmt.Sprintf("ρ = %s, β = %s", root, unit.Text(half, "°", 3)), unit.Text(r, "mm", 3), shapeRule)
		}
		if room := x.sizes.RootRoom; room.Set && room.Value < 0 {
			b.Say(meas.Clash, "root-room-"+x.of, fmt.Sprintf("The rounding at the bottom of the %s, %s, stands in the way of the tips of the %s by up to %s.", x.of, unit.Text(r, "mm", 3), x.mate, unit.Text(-room.Value, "mm", 3)),
				"Take a smaller radius, or cut the spaces deeper by more than that.", rollRule, "root-radius", "bottom")
		} else if room.Set {
			b.Say(meas.Note, "root-room-"+x.of, fmt.Sprintf("The rounding at the bottom of the %s clears the tips of the %s by %s.", x.of, x.mate, unit.Text(room.Value, "mm", 3)), "", rollRule, "root-radius")
		}
	}
	if t := a.Pair.Wheel.TipRadius; t > 0 {
		b.Say(meas.Note, "tip-radius", "The corners at the tips of the wheel are rounded by "+unit.Text(t, "mm", 3)+": the tooth drives as far as the rounding begins.", "", shapeRule, "tip-radius")
	}
}

// rollRule is how the room at a rounding is found.
var rollRule = cite.Ref{Grade: cite.Computed, Note: "both rolled on their pitch circles, the mate to either side of its space"}

// sharpFoot is half the angle at which the flanks would stand on the root
// circle without a rounding.
func (g Gear) sharpFoot() float64 {
	for _, c := range g.Flank {
		if s, ok := c.(Straight); ok {
			w := s.To.Minus(s.From).Unit()
			along := s.To.Dot(w)
			return s.To.Plus(w.Times(math.Sqrt(along*along-s.To.Dot(s.To)+g.Root.MM()*g.Root.MM()) - along)).Angle()
		}
	}
	return g.Half
}

// sayCare says what can hurt.
func (b *bench) sayCare(*Answer) {
	b.Say(meas.Danger, "cutting", "A cutter and a turning blank catch gloves, sleeves, rag and hair; no emery is held against turning work by hand, and brass chips fly into eyes.",
		"Eyes covered, guards on, hands away until it stands still. Local law and licensed practice decide.", latheRule)
}
