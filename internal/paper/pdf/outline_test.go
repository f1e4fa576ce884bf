package pdf_test

import (
	"image"
	"testing"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/pdf"
)

// TestCircleTrueSize measures a circle of 80 mm on the raster, with the bars,
// both ways.
func TestCircleTrueSize(t *testing.T) {
	c := geom.Pt{X: 105, Y: 200}
	p := pic.Picture{Title: "circle", W: 210, H: 297, Scale: pic.TrueSize, Items: append(pdf.ScaleBar(pic.Pt{X: 38, Y: 20}, false), pdf.ScaleBar(pic.Pt{X: 20, Y: 28}, true)...)}
	p.Add(pic.Outline{Paths: []geom.Path{geom.Round(c, 40), geom.Round(c, 30)}, Pen: pic.NoLine, Fill: pic.Solid})
	b, err := pdf.Sheets("circle", made, pdf.Sheet{Picture: p})
	if err != nil {
		t.Fatal(err)
	}
	const dpi = 600
	img := raster(t, b, dpi)
	mm := func(px int) float64 { return float64(px) * 25.4 / dpi }
	dot := func(x, y float64) image.Point { return image.Pt(int(x*dpi/25.4), int(y*dpi/25.4)) }
	_, across := longestRun(img, true)
	_, down := longestRun(img, false)
	ring := img.SubImage(image.Rectangle{dot(60, 155), dot(150, 245)}).(*image.Gray)
	box := dark(ring)
	for _, x := range []struct {
		what      string
		got, want float64
	}{{"the bar across", mm(across), 100}, {"the bar down", mm(down), 100}, {"the circle across", mm(box.Dx()), 80}, {"the circle down", mm(box.Dy()), 80}} {
		if d := x.got - x.want; d > 0.05 || d < -0.05 {
			t.Errorf("%s: %.3f mm, want %.3f", x.what, x.got, x.want)
		}
	}
	if img.GrayAt(dot(c.X, c.Y).X, dot(c.X, c.Y).Y).Y < 0x80 {
		t.Error("the hole is filled")
	}
}

// dark is the box round what is dark.
func dark(img *image.Gray) image.Rectangle {
	var out image.Rectangle
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			if img.GrayAt(x, y).Y < 0x80 {
				out = out.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return out
}
