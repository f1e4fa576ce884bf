package drawing_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/drawing"
	"seatboard/internal/paper/pdf"
)

var day = time.Date(2026, 11, 26, 0, 0, 0, 0, time.UTC)

// disc is a view of a disc with a cross in its middle.
func disc(name string, scale, w, h float64) doc.View {
	p := pic.Picture{Title: "disc", W: w, H: h, Scale: pic.TrueSize}
	c := geom.Pt{X: w / 2, Y: h / 2}
	r := min(w, h)/2 - 2/scale
	p.Add(pic.Group{Layer: "outline", Items: []pic.Item{pic.Outline{Paths: []geom.Path{geom.Round(c, r), geom.Round(c, r/8)}, Fill: pic.Hatch}}},
		pic.Group{Layer: "centres", Items: []pic.Item{pic.Line{A: pic.Pt{X: c.X - r - 1, Y: c.Y}, B: pic.Pt{X: c.X + r + 1, Y: c.Y}, Pen: pic.Chain},
			pic.Line{A: pic.Pt{X: c.X, Y: c.Y - r - 1}, B: pic.Pt{X: c.X, Y: c.Y + r + 1}, Pen: pic.Chain}}},
		pic.Dim{A: pic.Pt{X: c.X - r, Y: c.Y}, B: pic.Pt{X: c.X + r, Y: c.Y}, S: fmt.Sprintf("Ø %.4g mm", 2*r), Off: r / 3})
	return doc.View{Name: name, Scale: scale, Picture: p}
}

func sample() doc.Drawing {
	return doc.Drawing{Name: "third-wheel", Title: "Third wheel, 60 teeth", Of: "2026-014", Views: []doc.View{disc("One tooth, 20 : 1", 20, 4, 4), disc("True size", 1, 84, 84)},
		Data:  []doc.Datum{{Name: "Teeth", Value: "60"}, {Name: "Over the tips", Value: "38.4 ± 0.1 mm"}, {Name: "Depth of cut", Value: "1.42 mm"}},
		Notes: []string{"A cutter thrown by a lathe can blind: wear glasses, guard the cutter, and let who is trained do it. Local rules and licensed practice come first.", "Cycloidal form after the sources on the page."}}
}

// words are all texts of a picture.
func words(items []pic.Item) string {
	var b strings.Builder
	for _, it := range items {
		switch it := it.(type) {
		case pic.Text:
			b.WriteString(it.S + "\n")
		case pic.Dim:
			b.WriteString(it.S + "\n")
		case pic.Group:
			b.WriteString(words(it.Items))
		case pic.Window:
			b.WriteString(words(it.Items))
		}
	}
	return b.String()
}

func TestOneSheet(t *testing.T) {
	sheets, err := drawing.Lay(sample(), drawing.Options{Day: day})
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	p := sheets[0].Picture
	if p.W != 210 || p.H != 297 || p.Scale != pic.TrueSize {
		t.Errorf("the sheet is %g by %g", p.W, p.H)
	}
	got := words(p.Items)
	for _, want := range []string{"Third wheel, 60 teeth", "2026-014", "1 of 1", "1 : 1, 20 : 1", "2026-11-26", "Seatboard", "38.4 ± 0.1 mm", "can blind", "One tooth, 20 : 1", "This bar is 100 mm across", "down.", "Ø 80 mm"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not on the sheet:\n%s", want, got)
		}
	}
	if strings.Index(got, "True size") > strings.Index(got, "One tooth") {
		t.Error("the enlarged view comes first")
	}
	inside(t, p)
}

// inside looks for words and shapes that leave the sheet.
func inside(t *testing.T, p pic.Picture) {
	t.Helper()
	page, err := pdf.NewRuler()
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range p.Items {
		x, ok := it.(pic.Text)
		if !ok {
			continue
		}
		w := page.Width(x.S, x.Size, x.Style == pic.Name)
		from := x.P.X
		if x.Anchor == pic.End {
			from -= w
		}
		if from < 2 || from+w > p.W-8 || x.P.Y < 5 || x.P.Y > p.H-5 {
			t.Errorf("%q leaves the sheet of %g by %g: from %.1f to %.1f, at %.1f", x.S, p.W, p.H, from, from+w, x.P.Y)
		}
	}
}

func TestTurnedOnItsSide(t *testing.T) {
	d := sample()
	d.Views = []doc.View{disc("True size", 1, 230, 60)}
	sheets, err := drawing.Lay(d, drawing.Options{Day: day, Paper: pdf.Letter()})
	if err != nil || sheets[0].Picture.W != 279.4 || sheets[0].Picture.H != 215.9 {
		t.Fatalf("%v %+v", err, sheets[0].Picture.W)
	}
	inside(t, sheets[0].Picture)
}

// TestTiles: the tiles cover all of a large view, and every cross of a joint
// is at one place of the part on each of its tiles.
func TestTiles(t *testing.T) {
	d := sample()
	d.Views = []doc.View{disc("True size", 1, 420, 420)}
	sheets, err := drawing.Lay(d, drawing.Options{Day: day})
	if err != nil {
		t.Fatal(err)
	}
	covered, tiles := map[[2]int]bool{}, 0
	seen := map[string]int{}
	for _, s := range sheets {
		inside(t, s.Picture)
		for _, it := range s.Picture.Items {
			w, ok := it.(pic.Window)
			if !ok {
				continue
			}
			tiles++
			c := circleIn(w.Items) // where the middle of the disc lies on this sheet
			for x := 2.5; x < 420; x += 5 {
				for y := 2.5; y < 420; y += 5 {
					at := pic.Pt{X: x - 210 + c.X, Y: y - 210 + c.Y}
					if at.X >= w.Min.X && at.X <= w.Min.X+w.W && at.Y >= w.Min.Y && at.Y <= w.Min.Y+w.H {
						covered[[2]int{int(x), int(y)}] = true
					}
				}
			}
			for _, it := range s.Picture.Items {
				if x, ok := it.(pic.Text); ok && x.Size == 1.8 {
					var px, py float64
					fmt.Sscanf(x.S, "%f, %f", &px, &py)
					side := 0.6
					if x.Anchor == pic.End {
						side = -0.6
					}
					if want := (pic.Pt{X: c.X - 210 + px + side, Y: c.Y + 210 - py - 0.6}); math.Hypot(want.X-x.P.X, want.Y-x.P.Y) > 0.08 {
						t.Errorf("the cross %s stands %.2f mm from its place", x.S, math.Hypot(want.X-x.P.X, want.Y-x.P.Y))
					}
					seen[x.S]++
				}
			}
		}
	}
	if len(covered) != 84*84 || tiles < 4 {
		t.Errorf("%d tiles cover %d of %d", tiles, len(covered), 84*84)
	}
	for s, n := range seen {
		if n != 2 && n != 4 {
			t.Errorf("the cross %s is on %d tiles", s, n)
		}
	}
	if len(seen) < 2*(tiles-1) {
		t.Errorf("there are %d crosses", len(seen))
	}
}

func circleIn(items []pic.Item) geom.Pt {
	for _, it := range items {
		if g, ok := it.(pic.Group); ok && g.Layer == "outline" {
			p := g.Items[0].(pic.Outline).Paths[0]
			return p.From.Plus(p.Segs[0].To).Times(0.5)
		}
	}
	return geom.Pt{}
}

func TestCorrection(t *testing.T) {
	sheets, err := drawing.Lay(sample(), drawing.Options{Day: day, BarAcross: 99.5, BarDown: 100.25})
	if err != nil || math.Abs(sheets[0].Across*99.5-100) > 1e-12 || math.Abs(sheets[0].Upward*100.25-100) > 1e-12 {
		t.Errorf("%v %v %v", err, sheets[0].Across, sheets[0].Upward)
	}
	if !strings.Contains(words(sheets[0].Picture.Items), "99.50, 100.25") {
		t.Error("the sheet does not say that it is corrected")
	}
}

func TestNothingToDraw(t *testing.T) {
	for _, v := range [][]doc.View{nil, {{Scale: 1}}, {disc("x", 0, 10, 10)}, {disc("x", 1, math.NaN(), 10)}, {disc("x", 1, 1e9, 10)}} {
		if _, err := drawing.Lay(doc.Drawing{Views: v}, drawing.Options{}); !errors.Is(err, drawing.ErrNothing) {
			t.Errorf("%v: %v", v, err)
		}
	}
}

// TestAnyDrawing: every view is on some sheet, whatever its size, and the file
// can be made.
func TestAnyDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := doc.Drawing{Title: rapid.String().Draw(t, "title"), Of: rapid.String().Draw(t, "of")}
		for i := range rapid.IntRange(1, 4).Draw(t, "views") {
			scale := rapid.SampledFrom([]float64{1, 2, 20}).Draw(t, "scale")
			w, h := rapid.Float64Range(1, 1000).Draw(t, "w")/scale, rapid.Float64Range(1, 1000).Draw(t, "h")/scale
			d.Views = append(d.Views, disc(fmt.Sprintf("view %d.", i), scale, w, h))
		}
		for range rapid.IntRange(0, 90).Draw(t, "data") {
			d.Data = append(d.Data, doc.Datum{Name: "name", Value: "value"})
		}
		sheets, err := drawing.Lay(d, drawing.Options{Day: day})
		if err != nil {
			t.Fatal(err)
		}
		all := ""
		for _, s := range sheets {
			all += words(s.Picture.Items)
		}
		for i := range d.Views {
			if !strings.Contains(all, fmt.Sprintf("view %d.", i)) {
				t.Fatalf("view %d is on no sheet", i)
			}
		}
		if n := strings.Count(all, "value\n"); n != len(d.Data) {
			t.Fatalf("%d of %d data", n, len(d.Data))
		}
	})
}
