package pic

import "seatboard/internal/kit/geom"

// Window shows what lies inside a rectangle and nothing else.
type Window struct {
	Min   Pt // upper left corner
	W, H  float64
	Items []Item
}

func (Window) item() {}

// Place puts items that were drawn elsewhere into a picture: every point is
// enlarged by k about the origin and then moved by at. Lettering of a size of
// its own is enlarged too; pens, and lettering in the size of its style, are
// not.
func Place(items []Item, at Pt, k float64) []Item {
	m := mover{at, k}
	out := make([]Item, len(items))
	for i, it := range items {
		out[i] = m.item(it)
	}
	return out
}

type mover struct {
	at Pt
	k  float64
}

func (m mover) pt(p Pt) Pt { return Pt{m.at.X + m.k*p.X, m.at.Y + m.k*p.Y} }

func (m mover) item(it Item) Item {
	switch it := it.(type) {
	case Line:
		it.A, it.B = m.pt(it.A), m.pt(it.B)
		return it
	case Poly:
		pts := make([]Pt, len(it.Pts))
		for i, p := range it.Pts {
			pts[i] = m.pt(p)
		}
		it.Pts = pts
		return it
	case Rect:
		it.Min, it.W, it.H = m.pt(it.Min), m.k*it.W, m.k*it.H
		return it
	case Circle:
		it.C, it.R = m.pt(it.C), m.k*it.R
		return it
	case Arc:
		it.C, it.R = m.pt(it.C), m.k*it.R
		return it
	case Text:
		it.P, it.Size = m.pt(it.P), m.k*it.Size
		return it
	case Outline:
		paths := make([]geom.Path, len(it.Paths))
		for i, p := range it.Paths {
			paths[i] = p.Map(func(q geom.Pt) geom.Pt { return geom.Pt(m.pt(Pt(q))) }, false)
		}
		it.Paths = paths
		return it
	case Group:
		it.Items = Place(it.Items, m.at, m.k)
		return it
	case Window:
		it.Min, it.W, it.H, it.Items = m.pt(it.Min), m.k*it.W, m.k*it.H, Place(it.Items, m.at, m.k)
		return it
	case Dim:
		it.A, it.B, it.Off = m.pt(it.A), m.pt(it.B), m.k*it.Off
		return it
	case Cells:
		it.Min, it.Side = m.pt(it.Min), m.k*it.Side
		return it
	}
	return it
}
