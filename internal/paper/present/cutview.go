package present

import (
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

// Layers of a drawing.
const (
	outlineLayer = "outline"
	centreLayer  = "centres"
	dimLayer     = "dimensions"
)

// cutView is a part seen from the front, at true size, with room round it for
// its dimensions. Coordinates are those of its outlines, shifted.
type cutView struct {
	p    pic.Picture
	move geom.Pt
}

// beginView opens a view on a box of the part, in mm, with a margin; room for
// more is left below.
func beginView(title, desc string, box geom.Box, margin, below float64) *cutView {
	return &cutView{
		p:    pic.Picture{Title: title, Desc: desc, W: box.W() + 2*margin, H: box.H() + 2*margin + below, Scale: pic.TrueSize},
		move: geom.Pt{X: margin - box.Min.X, Y: margin - box.Min.Y},
	}
}

// at is a point of the part in the picture.
func (v *cutView) at(p geom.Pt) pic.Pt {
	q := p.Plus(v.move)
	return pic.Pt{X: q.X, Y: q.Y}
}

// cut draws the edges that are to be cut.
func (v *cutView) cut(paths ...geom.Path) { v.lines(outlineLayer, pic.Ink, paths...) }

// guide draws centre lines and circles of reference.
func (v *cutView) guide(paths ...geom.Path) { v.lines(centreLayer, pic.Chain, paths...) }

func (v *cutView) lines(layer string, pen pic.Pen, paths ...geom.Path) {
	o := pic.Outline{Pen: pen}
	for _, p := range paths {
		o.Paths = append(o.Paths, p.Map(func(q geom.Pt) geom.Pt { return q.Plus(v.move) }, false))
	}
	v.p.Add(pic.Group{Items: []pic.Item{o}, Layer: layer})
}

// cross marks a centre with lines of a half length.
func (v *cutView) cross(c geom.Pt, half float64) {
	v.guide(straight(c.Plus(geom.Pt{X: -half}), c.Plus(geom.Pt{X: half})), straight(c.Plus(geom.Pt{Y: -half}), c.Plus(geom.Pt{Y: half})))
}

// dim writes a dimension between two points; off is to the left of a→b.
func (v *cutView) dim(a, b geom.Pt, off float64, words string) {
	v.p.Add(pic.Group{Layer: dimLayer, Items: []pic.Item{pic.Dim{A: v.at(a), B: v.at(b), S: words, Off: off}}})
}

// view closes it.
func (v *cutView) view(name string, scale float64) doc.View {
	return doc.View{Name: name, Scale: scale, Picture: v.p}
}

func straight(a, b geom.Pt) geom.Path { return geom.Path{From: a, Segs: []geom.Seg{{To: b}}} }

// square is the box round a circle about the origin.
func square(r float64) geom.Box {
	return geom.Box{Min: geom.Pt{X: -r, Y: -r}, Max: geom.Pt{X: r, Y: r}}
}

// enlargement is the largest of the usual scales at which something of this
// size stays within 90 mm.
func enlargement(size float64) float64 {
	best := 2.0
	for _, s := range []float64{2, 5, 10, 20, 50} {
		if size*s <= 90 {
			best = s
		}
	}
	return best
}
