package mesh

import (
	"math"
	"slices"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/num"
)

// Moment is the pair at one angle of the wheel, with the tooth that drives:
// where another one does, the angles are still those of the first.
type Moment struct {
	Wheel  float64 `json:"wheel"` // angles of a tooth and of its leaf past the line of centres, from middle to middle, radians
	Pinion float64 `json:"pinion"`
	Touch  geom.Pt `json:"-"`         // where they touch, mm; the wheel's centre at the origin, the pinion's on the x axis
	Press  geom.Pt `json:"-"`         // the way in which the tooth presses, of length 1
	Ratio  float64 `json:"ratio"`     // turning of the pinion to that of the wheel, over the ratio of the counts; 0 while the wheel runs free
	Passed float64 `json:"passed"`    // torque on the pinion over what it would be without friction at the ratio of the counts; not above 0 where it locks
	Slides float64 `json:"slides_mm"` // that the flanks slide on one another for a radian of the wheel; negative before the line of centres
	Ahead  float64 `json:"ahead"`     // of the pinion against even turning, radians of the pinion
	Play   float64 `json:"play"`      // free turning of the pinion, radians
}

// Turn is a pair turned through one pitch at one distance.
type Turn struct {
	Distance float64  // mm
	Moments  []Moment // one pitch, until a tooth gives over for good; two at one angle where the load changes over inside it
	In, Out  Moment   // where a tooth first takes its leaf, and the last of them
	Carries  []Span   // over which a tooth carries
	Line     float64  // angle of the wheel at which the touch is on the line of centres, as Wheel of a Moment
	LineLeaf float64  // and of the pinion
	Drop     float64  // radians that the wheel runs free before the next tooth catches up
	Butts    float64  // radians by which the leaf is too far back for the next tooth to enter; 0 where it enters
	Play     float64  // the least free turning of the pinion, radians; negative: they bind
	Bottom   float64  // the least room between tips and bottoms, mm; negative: they bind
	Apart    bool     // they do not reach one another
}

// Lead is the angle of the pinion before the line of centres through which a
// tooth drives, radians; negative where the tooth takes over behind the line.
func (t Turn) Lead() float64 { return t.LineLeaf - t.In.Pinion }

// After is the angle of the pinion after the line of centres.
func (t Turn) After() float64 { return t.Out.Pinion - t.LineLeaf }

// Span is a piece of the way of a tooth: the angles of its middle past the
// line of centres, radians of the wheel.
type Span struct {
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// Two is where the load may rest on either of two pairs: the one that does
// not carry stands back by so little.
type Two struct {
	Span           // of the tooth in front
	Over   float64 `json:"over"`   // its angle where it gives over for good
	Within float64 `json:"within"` // by which the other stands back at the most, radians of the pinion
}

// Pitch is the angle of the wheel that was turned, from tooth to tooth,
// radians.
func (t Turn) Pitch() float64 { return t.Out.Wheel - t.Moments[0].Wheel }

// fall is how far a leaf is let fall back, radians, before its course is left.
const fall = 1e-3

// gearing is a pair at a distance, ready to be turned.
type gearing struct {
	drive, back        course
	pitch, leafPitch   float64 // radians
	even               float64 // turns of the pinion for one of the wheel
	friction, distance float64
	parts              int
	symmetric          bool
}

// shape is what drives and what is driven: the driving flanks, and those at
// the back where they differ.
type shape struct {
	wheel, pinion  tooth.Gear
	drive, driven  []geom.Curve
	back           []geom.Curve // nil: as the driving ones
	leaf, backLeaf *leaf
}

func shapeOf(p tooth.Pair) shape {
	return shape{wheel: p.Wheel, pinion: p.Pinion, drive: p.Wheel.Flank, driven: p.Pinion.Flank, leaf: leafOf(p.Pinion.Flank)}
}

func (s shape) at(distance, friction float64, parts int) gearing {
	g := gearing{pitch: s.wheel.Step(), leafPitch: s.pinion.Step(), friction: friction, distance: distance, parts: parts, symmetric: s.back == nil}
	g.even = g.leafPitch / g.pitch
	g.drive = courseOf(closingOf(s.drive, s.leaf, distance), g.pitch, parts, fall)
	g.back = g.drive
	if !g.symmetric {
		g.back = courseOf(closingOf(s.back, s.backLeaf, distance), g.pitch, parts, fall)
	}
	return g
}

// turn turns the pair through the pitch between two handovers.
func (g *gearing) turn(s shape) Turn {
	t := Turn{Distance: g.distance, Bottom: s.bottom(g.distance)}
	if len(g.drive.touches) == 0 {
		t.Apart = true
		return t
	}
	out, butts := handover(&g.drive, &g.drive, g.pitch, g.leafPitch, g.parts)
	in := out - g.pitch
	t.Butts = butts
	t.Drop = max(out-g.drive.last, 0)
	t.Line, t.LineLeaf = g.line()
	t.Play = math.Inf(1)
	take := func(m Moment) {
		m.Ahead = m.Pinion - t.LineLeaf - (m.Wheel-t.Line)*g.even
		t.Play = min(t.Play, m.Play)
		t.Moments = append(t.Moments, m)
	}
	g.carry(&t, in, out, take)
	t.In, t.Out = t.Moments[0], t.Moments[len(t.Moments)-1]
	if early := t.Carries[0].From; early < in-level {
		t.In = g.moment(early+g.pitch, 1)
		t.In.Wheel, t.In.Pinion = early, t.In.Pinion-g.leafPitch
	}
	return t
}

// line is where the touch is on the line of centres; where it never is, the
// first touch behind it.
func (g *gearing) line() (wheel, leaf float64) {
	all := g.drive.touches
	i := slices.IndexFunc(all, func(t touch) bool { return t.P.Y >= 0 })
	switch {
	case i < 0:
		return all[len(all)-1].Tooth, all[len(all)-1].Leaf
	case i == 0:
		return all[0].Tooth, all[0].Leaf
	}
	x, err := num.Root(func(a float64) float64 {
		t, ok := g.drive.touch(a)
		if !ok {
			return math.NaN()
		}
		return t.P.Y
	}, all[i-1].Tooth, all[i].Tooth, 1e-14)
	if t, ok := g.drive.touch(x); err == nil && ok {
		return x, t.Leaf
	}
	if -all[i-1].P.Y < all[i].P.Y { // it lies on the line but for the last digit
		i--
	}
	return all[i].Tooth, all[i].Leaf
}

// press is what passes in a touch.
func (g *gearing) press(m *Moment) {
	p, n := m.Touch, m.Press
	u := geom.Pt{X: p.X - g.distance, Y: p.Y}
	lever := -u.Cross(n)
	if lever == 0 { // it presses through the middle of the pinion: nothing turns
		return
	}
	turns := p.Cross(n) / lever
	m.Ratio = turns / g.even
	along := n.Left()
	slip := p.Left().Plus(u.Left().Times(turns)).Dot(along)
	m.Slides = math.Copysign(slip, p.Y)
	force := n.Plus(along.Times(math.Copysign(g.friction, slip)))
	m.Passed = -u.Cross(force) / p.Cross(force) * g.even
}

// play is how far the pinion can be turned on before a leaf meets the back of
// the tooth before it, a pitch at the most: the picture of the closing in a
// mirror.
func (g *gearing) play(pinion, angle float64, k int, grid bool) float64 {
	least := g.leafPitch
	for i := -3; i <= 3; i++ {
		var (
			t  touch
			ok bool
		)
		if grid {
			j := -(k + i*g.parts) - g.back.first
			if j < 0 || j >= len(g.back.touches) {
				continue
			}
			t, ok = g.back.touches[j], true
		} else {
			t, ok = g.back.touch(-(angle + float64(i)*g.pitch))
		}
		if ok {
			least = min(least, g.leafPitch*float64(1-i)-t.Leaf-pinion)
		}
	}
	return least
}

// bottom is the least room between the tips of one and the bottoms of the
// other.
func (s shape) bottom(distance float64) float64 {
	room := distance - s.pinion.Tip.MM() - s.wheel.Root.MM()
	if !s.pinion.Lantern {
		room = min(room, distance-s.wheel.Tip.MM()-s.pinion.Root.MM())
	}
	return room
}
