// Package saw lays out teeth like those of a saw, of escape wheels, ratchets and
// racks: a straight face that holds or pushes, a land on the circle over the
// tips, and a back, straight or hollow, down to the root circle.
package saw

import (
	"math"

	"seatboard/internal/kit/geom"
)

// Teeth are equal saw teeth round a circle. Lengths are millimetres, angles
// radians. They lie with the foremost point of the first tip on the x axis; the
// face of each is on its counter-clockwise side with y upwards, so that drawn
// with y downwards as it stands, the wheel leads with its faces clockwise.
type Teeth struct {
	Count    int     // in the whole circle
	Pitch    float64 // angle from tooth to tooth of a rack; 0: Count go round the circle
	Tip      float64 // radius over the tips
	Root     float64 // radius at the bottom
	Undercut float64 // of the face, back behind the radius
	Land     float64 // along the circle of the tips
	Base     float64 // thickness along the root circle; the whole pitch there leaves no bottom
	Back     float64 // radius of a hollow back; 0: straight
}

// Step is the angle from one tooth to the next.
func (t Teeth) Step() float64 {
	if t.Pitch > 0 {
		return t.Pitch
	}
	return 2 * math.Pi / float64(t.Count)
}

// Bottom is what is left between two teeth on the root circle.
func (t Teeth) Bottom() float64 { return t.Root*t.Step() - t.Base }

// Corners are those of one tooth.
type Corners struct {
	Front geom.Pt // foot of the face, on the root circle
	Tip   geom.Pt // foremost point
	Land  geom.Pt // where the land ends
	Back  geom.Pt // foot of the back
	Bulge float64 // of the back, from foot to land
}

// Corners lays a tooth out; ok is false where its face misses the root circle
// or its back has too small a radius.
func (t Teeth) Corners() (s Corners, ok bool) {
	under := t.Root*t.Root - math.Pow(t.Tip*math.Sin(t.Undercut), 2)
	if !(under > 0) || !(t.Root > 0) {
		return s, false
	}
	s.Tip = geom.Pt{X: t.Tip}
	long := t.Tip*math.Cos(t.Undercut) - math.Sqrt(under)
	s.Front = s.Tip.Plus(geom.Polar(-long, t.Undercut))
	s.Land = geom.Polar(t.Tip, -t.Land/t.Tip)
	s.Back = geom.Polar(t.Root, s.Front.Angle()-t.Base/t.Root)
	if t.Back > 0 {
		half := s.Land.Minus(s.Back).Len() / 2 / t.Back
		if half >= 1 {
			return s, false
		}
		s.Bulge = -math.Tan(math.Asin(half) / 2)
	}
	return s, true
}

// least is the shortest edge that is drawn, mm: shorter ones are rounding.
const least = 1e-6

// Outline is the whole circle as one closed path, counter-clockwise with y
// upwards; an empty one where there are no corners.
func (t Teeth) Outline() geom.Path {
	out := t.Run(t.Count)
	out.Closed = true
	if n := len(out.Segs); n > 0 {
		out.Segs[n-1].To = out.From
	}
	return out
}

// Run is so many teeth one after the other as an open path, from the foot of
// the first back to the foot of the back behind the last.
func (t Teeth) Run(teeth int) geom.Path {
	s, ok := t.Corners()
	if !ok {
		return geom.Path{}
	}
	land := math.Tan(t.Land / t.Tip / 4)
	bottom := math.Tan((t.Step() + s.Back.Angle() - s.Front.Angle()) / 4)
	out := geom.Path{From: s.Back, Segs: make([]geom.Seg, 0, 4*teeth)}
	for i := range teeth {
		a := float64(i) * t.Step()
		out.Segs = append(out.Segs, geom.Seg{To: s.Land.Turn(a), Bulge: s.Bulge})
		if t.Land > least {
			out.Segs = append(out.Segs, geom.Seg{To: s.Tip.Turn(a), Bulge: land})
		}
		if t.Bottom() > least {
			out.Segs = append(out.Segs, geom.Seg{To: s.Front.Turn(a)})
			out.Segs = append(out.Segs, geom.Seg{To: s.Back.Turn(a + t.Step()), Bulge: bottom})
			continue
		}
		out.Segs = append(out.Segs, geom.Seg{To: s.Back.Turn(a + t.Step())})
	}
	return out
}

// Thin tells whether the back runs into the face, into the root circle, or out
// over the tips anywhere.
func (t Teeth) Thin() bool {
	s, ok := t.Corners()
	if !ok {
		return true
	}
	back := geom.Seg{To: s.Land, Bulge: s.Bulge}
	const look = 64
	for i := 1; i < look; i++ {
		p := Along(back, s.Back, float64(i)/look)
		r := p.Len()
		if r <= t.Root || r > t.Tip || p.Angle() >= t.face(r) {
			return true
		}
	}
	return false
}

// face is the angle of the face at a radius.
func (t Teeth) face(r float64) float64 {
	long := t.Tip*math.Cos(t.Undercut) - math.Sqrt(max(r*r-math.Pow(t.Tip*math.Sin(t.Undercut), 2), 0))
	return geom.Pt{X: t.Tip}.Plus(geom.Polar(-long, t.Undercut)).Angle()
}

// Along is the point of a segment after a part of its way.
func Along(s geom.Seg, from geom.Pt, part float64) geom.Pt {
	c, r, start, turn := s.Arc(from)
	if math.IsInf(r, 0) {
		return from.Plus(s.To.Minus(from).Times(part))
	}
	return c.Plus(geom.Polar(r, start+turn*part))
}

// Opening is the angle between the face of a tooth and the back of the next, at
// the root; not above 0 where a space is no wider at its mouth.
func (t Teeth) Opening() float64 {
	s, ok := t.Corners()
	if !ok {
		return 0
	}
	back := s.Land.Minus(s.Back).Turn(t.Step() + 2*math.Atan(-s.Bulge))
	face := s.Tip.Minus(s.Front)
	return -math.Atan2(back.Cross(face), back.Dot(face))
}
