package drawing_test

import (
	"math"
	"testing"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/drawing"
	"seatboard/internal/paper/pdf"
	"seatboard/internal/paper/svg"
)

// wheel400 is a drawing of a wheel of 400 teeth of eight segments each.
func wheel400() doc.Drawing {
	const teeth, r, side = 400, 78.0, 170.0
	step := 2 * math.Pi / teeth
	tip, root := r*(1+0.3*step), r*(1-0.4*step)
	c := geom.Pt{X: side / 2, Y: side / 2}
	p := geom.Path{Closed: true, From: c.Plus(geom.Polar(root, -0.25*step))}
	for i := range teeth {
		on := func(r, k float64) geom.Pt { return c.Plus(geom.Polar(r, (float64(i)+k)*step)) }
		p.Segs = append(p.Segs, geom.Seg{To: on(r, -0.25)}, geom.Seg{To: on(r+(tip-r)*0.6, -0.18), Bulge: 0.05}, geom.Seg{To: on(tip, 0), Bulge: 0.1},
			geom.Seg{To: on(r+(tip-r)*0.6, 0.18), Bulge: 0.1}, geom.Seg{To: on(r, 0.25), Bulge: 0.05}, geom.Seg{To: on(root, 0.25)},
			geom.Seg{To: on(root, 0.5), Bulge: 0.02}, geom.Seg{To: on(root, 0.75), Bulge: 0.02})
	}
	picture := pic.Picture{Title: "wheel", W: side, H: side, Scale: pic.TrueSize, Items: []pic.Item{pic.Group{Layer: "outline", Items: []pic.Item{pic.Outline{Paths: []geom.Path{p, geom.Round(c, 3)}}}}}}
	return doc.Drawing{Name: "wheel", Title: "Wheel of 400", Views: []doc.View{{Name: "True size", Scale: 1, Picture: picture}}}
}

func BenchmarkWheel400PDF(b *testing.B) {
	d := wheel400()
	for b.Loop() {
		sheets, err := drawing.Lay(d, drawing.Options{Day: day})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := pdf.Sheets("wheel", day, sheets...); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWheel400SVG(b *testing.B) {
	d := wheel400()
	for b.Loop() {
		svg.File(d.Views[0].Picture)
	}
}
