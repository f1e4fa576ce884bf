package web

import (
	"math"
	"net/url"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/svg"
)

// TestBrowserMeasuresTrueSize: a circle of 80 mm in a file is 80 mm in a
// browser, 96 pixels to the inch, both ways.
func TestBrowserMeasuresTrueSize(t *testing.T) {
	b := openTab(t, &visit{}, 1280)
	c := geom.Pt{X: 51.2345, Y: 60.1234}
	p := pic.Picture{Title: "circle", W: 110, H: 120, Scale: pic.TrueSize, Items: []pic.Item{pic.Outline{Paths: []geom.Path{geom.Round(c, 40)}},
		pic.Window{Min: pic.Pt{X: 0, Y: 0}, W: 110, H: 120, Items: []pic.Item{pic.Rect{Min: pic.Pt{X: 5, Y: 5}, W: 100, H: 1}}}}}
	file := filepath.Join(t.TempDir(), "circle.svg")
	if err := os.WriteFile(file, svg.File(p), 0o600); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()))
	const perMM = 96 / 25.4
	for _, x := range []struct {
		what string
		want [4]float64
	}{
		{"path", [4]float64{(c.X - 40) * perMM, (c.Y - 40) * perMM, 80 * perMM, 80 * perMM}},
		{"svg svg rect", [4]float64{5 * perMM, 5 * perMM, 100 * perMM, perMM}},
	} {
		got := js[[]float64](b, `(r => [r.x, r.y, r.width, r.height])(document.querySelector("`+x.what+`").getBoundingClientRect())`)
		for i, want := range x.want {
			if math.Abs(got[i]-want) > 0.05 {
				t.Errorf("%s, number %d: %.4f px, want %.4f", x.what, i, got[i], want)
			}
		}
	}
}
