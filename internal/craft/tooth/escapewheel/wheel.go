package escapewheel

import (
	"math"

	"seatboard/internal/kit/geom"
)

// sides are the corners of one tooth, the foremost point of its tip on the x
// axis; the wheel turns counter-clockwise with y upwards.
type sides struct {
	front geom.Pt // foot of the face, on the root circle
	tip   geom.Pt // foremost point
	land  geom.Pt // where the land ends
	back  geom.Pt // foot of the back
	bulge float64 // of the back, from foot to land
}

// corners lays a tooth out; ok is false where face and root circle do not meet.
func (t Tooth) corners() (s sides, ok bool) {
	root, u := t.Root.MM(), float64(t.Undercut)
	under := root*root - math.Pow(t.tip*math.Sin(u), 2)
	if !(under > 0) || !(root > 0) {
		return s, false
	}
	s.tip = geom.Pt{X: t.tip}
	long := t.tip*math.Cos(u) - math.Sqrt(under)
	s.front = s.tip.Plus(geom.Polar(-long, u))
	s.land = geom.Polar(t.tip, -t.Land.MM()/t.tip)
	s.back = geom.Polar(root, s.front.Angle()-t.Base.MM()/root)
	if r := t.BackRadius.MM(); r > 0 {
		half := s.land.Minus(s.back).Len() / 2 / r
		if half >= 1 {
			return s, false
		}
		s.bulge = -math.Tan(math.Asin(half) / 2)
	}
	return s, true
}

// Outline is the wheel as one closed path, counter-clockwise with y upwards,
// in which it turns counter-clockwise: drawn with y downwards as it stands, the
// wheel turns clockwise.
func (t Tooth) Outline() geom.Path {
	s, ok := t.corners()
	if !ok {
		return geom.Path{}
	}
	step := 2 * math.Pi / float64(t.count)
	land := math.Tan(t.Land.MM() / t.tip / 4)
	bottom := math.Tan((step + s.back.Angle() - s.front.Angle()) / 4)
	out := geom.Path{From: s.back, Closed: true, Segs: make([]geom.Seg, 0, 4*t.count)}
	for i := range t.count {
		a := float64(i) * step
		out.Segs = append(out.Segs,
			geom.Seg{To: s.land.Turn(a), Bulge: s.bulge}, geom.Seg{To: s.tip.Turn(a), Bulge: land},
			geom.Seg{To: s.front.Turn(a)}, geom.Seg{To: s.back.Turn(a + step), Bulge: bottom})
	}
	out.Segs[len(out.Segs)-1].To = out.From
	return out
}

// Piece is so many teeth of the outline as an open path, the middle one with
// the foremost point of its tip on the x axis.
func (t Tooth) Piece(teeth int) geom.Path {
	whole := t.Outline()
	if len(whole.Segs) < 4*teeth {
		return whole
	}
	p := geom.Path{From: whole.From, Segs: whole.Segs[:4*teeth]}
	a := -float64(teeth/2) * 2 * math.Pi / float64(t.count)
	return p.Map(func(q geom.Pt) geom.Pt { return q.Turn(a) }, false)
}

// thin tells whether the back runs into the face, into the root circle, or out
// over the tips anywhere.
func (t Tooth) thin() bool {
	s, ok := t.corners()
	if !ok {
		return true
	}
	face := func(r float64) float64 { // angle of the face at a radius
		u := math.Pow(t.tip*math.Sin(float64(t.Undercut)), 2)
		long := t.tip*math.Cos(float64(t.Undercut)) - math.Sqrt(max(r*r-u, 0))
		return s.tip.Plus(geom.Polar(-long, float64(t.Undercut))).Angle()
	}
	back := geom.Seg{To: s.land, Bulge: s.bulge}
	const look = 64
	for i := 1; i < look; i++ {
		p := along(back, s.back, float64(i)/look)
		r := p.Len()
		if r <= t.Root.MM() || r > t.tip || p.Angle() >= face(r) {
			return true
		}
	}
	return false
}

// along is the point of a segment after a part of its way.
func along(s geom.Seg, from geom.Pt, part float64) geom.Pt {
	c, r, start, turn := s.Arc(from)
	if math.IsInf(r, 0) {
		return from.Plus(s.To.Minus(from).Times(part))
	}
	return c.Plus(geom.Polar(r, start+turn*part))
}

// cutter is the angle between the face of a tooth and the back of the next, at
// the root.
func (t Tooth) cutter() float64 {
	s, ok := t.corners()
	if !ok {
		return 0
	}
	step := 2 * math.Pi / float64(t.count)
	back := s.land.Minus(s.back).Turn(step + 2*math.Atan(-s.bulge))
	face := s.tip.Minus(s.front)
	return math.Atan2(back.Cross(face), back.Dot(face)) * -1
}
