package mesh

import (
	"math"
	"slices"

	"seatboard/internal/kit/geom"
)

// looks is how many points of a piece of a driving flank are tried before
// the contact is closed in.
const looks = 10

// look is a point of the driving flank as it was tried first.
type look struct {
	t     float64
	p     geom.Pt
	r, at float64 // distance and angle in the gear, mm and radians
}

// side is a piece of the driving flank with the points that are tried.
type side struct {
	curve geom.Curve
	looks []look
}

// flank is the driving side of a tooth.
type flank struct {
	sides []side
	count int // points that are tried, of all pieces
}

// flankOf lays the points to be tried along a flank.
func flankOf(curves []geom.Curve) flank {
	f := flank{sides: make([]side, len(curves))}
	for i, c := range curves {
		s := side{curve: c, looks: make([]look, 0, looks+2)}
		for k := 0; k <= looks; k++ {
			s.insert(float64(k) / looks)
		}
		f.sides[i] = s
		f.count += len(s.looks)
	}
	return f
}

// insert adds a point to be tried, in order.
func (s *side) insert(t float64) {
	p, _ := s.curve.At(t)
	l := look{t, p, p.Len(), math.Atan2(p.Y, p.X)}
	i := len(s.looks)
	for i > 0 && s.looks[i-1].t > t {
		i--
	}
	s.looks = slices.Insert(s.looks, i, l)
}

// pit is a flank of which a pit is gone: so deep in its middle, running out
// to nothing at two distances from the centre.
type pit struct {
	of       geom.Curve
	depth    float64 // mm, along the circle about the centre
	from, to float64 // mm from the centre
}

// At implements geom.Curve.
func (w pit) At(t float64) (p, d geom.Pt) {
	p, d = w.of.At(t)
	r := p.Len()
	if !(r > w.from && r < w.to) || w.depth == 0 {
		return p, d
	}
	x := math.Pi * (r - w.from) / (w.to - w.from)
	sin, cos := math.Sincos(x)
	gone := w.depth * sin * sin
	slope := w.depth * 2 * sin * cos * math.Pi / (w.to - w.from)
	turn := -gone / r
	rate := (-slope/r + gone/(r*r)) * p.Dot(d) / r
	p, d = p.Turn(turn), d.Turn(turn)
	return p, d.Plus(p.Left().Times(rate))
}
