package pdf_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/pdf"
)

var made = time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)

// tool finds a program that reads PDF, or skips saying so.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not on this computer: what it would read is not checked", name)
	}
	return path
}

// kept writes a file for a program to read.
func kept(t *testing.T, b []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "x.pdf")
	if err := os.WriteFile(name, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// raster is the page as a printer of so many dots to the inch would have it.
func raster(t *testing.T, b []byte, dpi int) *image.Gray {
	t.Helper()
	base := filepath.Join(t.TempDir(), "r")
	if out := run(t, "pdftoppm", "-singlefile", "-r", fmt.Sprint(dpi), "-gray", "-png", kept(t, b), base); out != "" {
		t.Errorf("pdftoppm says %s", out)
	}
	f, err := os.Open(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	gray := image.NewGray(img.Bounds())
	draw.Draw(gray, gray.Rect, img, image.Point{}, draw.Src)
	return gray
}

func longDoc(rows int) doc.Doc {
	t := doc.Table{Caption: "What came off", Columns: []doc.Column{{Head: "Number"}, {Head: "Part"}, {Head: "Pieces", Number: true}, {Head: "Reason"}}}
	for i := range rows {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("2026-014.%d", i+1), "third arbor, without its wheel", fmt.Sprint(i), strings.Repeat("a reason in words ", i%7)})
	}
	figure := pic.Picture{Title: "bar", W: 700, H: 200}
	figure.Add(pic.Rect{Min: pic.Pt{X: 10, Y: 10}, W: 200, H: 100, Fill: pic.Hatch}, pic.Circle{C: pic.Pt{X: 400, Y: 90}, R: 60, Fill: pic.Band, Pen: pic.Steel},
		pic.Arc{C: pic.Pt{X: 560, Y: 90}, R: 60, From: 0, To: 1.5, Pen: pic.Dashed}, pic.Dim{A: pic.Pt{X: 10, Y: 140}, B: pic.Pt{X: 210, Y: 140}, S: "50 mm", Off: -16},
		pic.Text{P: pic.Pt{X: 300, Y: 95}, S: "Third 56 · 8", Style: pic.Name})
	return doc.Doc{Title: "Close-out of 2026-014", Lead: "Ø 12.7 ± 0.1 mm, −3 s/d, ½″", Sections: []doc.Section{
		{Body: []doc.Block{doc.Facts{{Label: "Came off", Value: "12", Note: "pieces"}, {Label: "Pendulum", Value: "993.6", Unit: "mm", Doubt: "± 0.4", Note: "to the centre of swing, at the shop"}, {Label: "Runs", Value: "8 days"}, {Label: "Elsewhere", Value: "3"}},
			doc.Notice{Kind: doc.ClashNotice, Title: "Not accounted for", Text: "3 centre wheel.", Next: "Open the part and move it."}},
			Margin: []doc.Block{doc.Notice{Kind: doc.CautionNotice, Text: "Lead."}, doc.Para{Text: "By the log."}}},
		{Heading: "Part by part", Body: []doc.Block{t}},
		{Heading: "Drawn", Body: []doc.Block{doc.Figure{Name: "bar", Caption: "A plate in section", Wide: figure}, doc.Blanks{Rows: [][]string{{"Received by", "Day"}}}}},
	}}
}

// TestRenderPaged: the text can be taken out again, the head of the table
// stands on every page it goes over, and pages are counted.
func TestRenderPaged(t *testing.T) {
	b, err := pdf.Render(longDoc(90), pdf.Options{Foot: "Quay Lane Clockroom", Made: made})
	if err != nil {
		t.Fatal(err)
	}
	name := kept(t, b)
	text := run(t, "pdftotext", "-layout", name, "-")
	pages := strings.Count(text, "\f")
	for _, want := range []string{"Close-out of 2026-014", "Ø 12.7 ± 0.1 mm, −3 s/d, ½″", "2026-014.90", "Not accounted for", "993.6", "Danger", "Third 56 · 8", "50 mm", "Received by", "Quay Lane Clockroom · 2026-11-25", fmt.Sprintf("Page %d of %d", pages, pages)} {
		if !strings.Contains(text, want) {
			t.Errorf("%q cannot be taken out of the file", want)
		}
	}
	if heads := strings.Count(text, "Reason"); pages < 3 || heads < pages-1 {
		t.Errorf("%d pages with %d heads of the table", pages, heads)
	}
	for i := 1; i <= 90; i++ {
		if n := strings.Count(text, fmt.Sprintf("2026-014.%d ", i)); n != 1 {
			t.Errorf("row %d stands %d times", i, n)
		}
	}
	for _, line := range strings.Split(strings.TrimSpace(run(t, "pdffonts", name)), "\n")[2:] {
		if f := strings.Fields(line); f[len(f)-5] != "yes" {
			t.Errorf("a face is not inside: %s", line)
		}
	}
}

func TestFileIsSound(t *testing.T) {
	b, err := pdf.Render(longDoc(3), pdf.Options{Paper: pdf.Letter(), Made: made})
	if err != nil {
		t.Fatal(err)
	}
	again, _ := pdf.Render(longDoc(3), pdf.Options{Paper: pdf.Letter(), Made: made})
	if !bytes.Equal(b, again) {
		t.Error("the same document gives other bytes")
	}
	name := kept(t, b)
	if out := run(t, "qpdf", "--check", name); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
	if out := run(t, "qpdf", "--show-object=trailer", name); !strings.Contains(out, "/Root") {
		t.Error(out)
	}
	if out := run(t, "qpdf", "--qdf", "--object-streams=disable", name, "-"); !strings.Contains(out, "/PrintScaling /None") || strings.Contains(out, "/JavaScript") {
		t.Error("the file does not ask to be printed at its own size, or has script in it")
	}
	if info := run(t, "pdfinfo", name); !strings.Contains(info, "612 x 792 pts (letter)") {
		t.Error(info)
	}
}

// TestTrueSize measures the bars on the raster, and what a correction of the
// printer does to them.
func TestTrueSize(t *testing.T) {
	p := pic.Picture{Title: "bars", W: 210, H: 297, Scale: pic.TrueSize, Items: append(pdf.ScaleBar(pic.Pt{X: 38, Y: 40}, false), pdf.ScaleBar(pic.Pt{X: 30, Y: 48}, true)...)}
	for _, s := range []struct {
		sheet        pdf.Sheet
		across, down float64
		x, y         float64 // where the corner comes to lie
	}{
		{pdf.Sheet{Picture: p}, 100, 100, 30, 40},
		{pdf.Sheet{Picture: p, Right: 2, Down: -1.5, Across: 1.01, Upward: 0.98}, 101, 98, 32.3, 37.7},
	} {
		b, err := pdf.Sheets("bars", made, s.sheet)
		if err != nil {
			t.Fatal(err)
		}
		const dpi, half = 300, 0.3175 / 2 // half of the pen's width
		img := raster(t, b, dpi)
		mm := func(px int) float64 { return float64(px) * 25.4 / dpi }
		row, across := longestRun(img, true)
		column, down := longestRun(img, false)
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"the bar across", mm(across), s.across}, {"the bar down", mm(down), s.down}, {"the bar down from the left", mm(column) + half, s.x}, {"the bar across from above", mm(row) + half, s.y}} {
			if d := c.got - c.want; d > 0.1 || d < -0.1 {
				t.Errorf("%s: %.3f mm, want %.3f", c.what, c.got, c.want)
			}
		}
	}
}

// longestRun is the longest dark run along rows or columns: its first line,
// and how long it is.
func longestRun(img *image.Gray, rows bool) (where, length int) {
	w, h, along, across := img.Rect.Dx(), img.Rect.Dy(), 1, img.Stride
	if !rows {
		w, h, along, across = h, w, across, along
	}
	for y := range h {
		run := 0
		for x := range w {
			if img.Pix[y*across+x*along] >= 0x80 {
				run = 0
				continue
			}
			if run++; run > length {
				where, length = y, run
			}
		}
	}
	return where, length
}

func TestSheetsRefuse(t *testing.T) {
	for _, s := range [][]pdf.Sheet{nil, {{Picture: pic.Picture{W: 10, H: 10}}}, {{Picture: pic.Picture{Scale: pic.TrueSize}}}} {
		if _, err := pdf.Sheets("x", made, s...); err == nil {
			t.Errorf("%v was printed", s)
		}
	}
}

// TestMissingLettersAreNamed: nothing is lost without a word.
func TestMissingLettersAreNamed(t *testing.T) {
	b, err := pdf.Render(doc.Doc{Title: "時計", Sections: []doc.Section{{Body: []doc.Block{doc.Para{Text: "⌀ 30 mm H□xmere 🕰"}}}}}, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text := run(t, "pdftotext", "-layout", kept(t, b), "-")
	for _, want := range []string{"⌀ 30 mm H□xmere", "U+6642", "U+8A08", "U+1F570"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is not in %s", want, text)
		}
	}
	r, err := pdf.NewRuler()
	if err != nil || r.Lacks("Zwölf ¾ Здесь") != "" || r.Lacks("a時") != "時" {
		t.Errorf("%v %q %q", err, r.Lacks("Zwölf ¾ Здесь"), r.Lacks("a時"))
	}
}

// TestRowHigherThanAPage: it goes on, under the head, and loses no word.
func TestRowHigherThanAPage(t *testing.T) {
	words := ""
	for i := range 900 {
		words += fmt.Sprintf("word%d ", i)
	}
	b, err := pdf.Render(doc.Doc{Title: "Long", Sections: []doc.Section{{Body: []doc.Block{doc.Table{Columns: []doc.Column{{Head: "Number"}, {Head: "Said"}, {Head: "Other"}}, Rows: [][]string{{"1", words, strings.Repeat("x", 200)}, {"2", "short", ""}}}}}}}, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text := run(t, "pdftotext", "-layout", kept(t, b), "-")
	for i := range 900 {
		if strings.Count(text, fmt.Sprintf("word%d", i)) == 0 {
			t.Errorf("word %d is lost", i)
		}
	}
	if strings.Count(text, "Said") < 2 || !strings.Contains(text, "short") {
		t.Error("the head does not stand again, or the next row is lost")
	}
}

// TestAnyWordsCanBeSet: whatever is typed becomes a file.
func TestAnyWordsCanBeSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		n := rapid.Float64().Draw(t, "n")
		p := pic.Picture{Title: s, W: n, H: n}
		p.Add(pic.Text{S: s, P: pic.Pt{X: n}}, pic.Dim{S: s, B: pic.Pt{X: n}, Off: n}, pic.Rect{W: n, H: 3, Fill: pic.Hatch}, pic.Cells{Side: n, Dark: [][]bool{{true}}})
		d := doc.Doc{Title: s, Lead: s, Sections: []doc.Section{{Heading: s, Body: []doc.Block{doc.Para{Text: s}, doc.Say{Text: s}, doc.Facts{{Label: s, Value: s, Unit: s, Note: s}},
			doc.Table{Caption: s, Columns: []doc.Column{{Head: s}, {Head: s, Number: true}}, Rows: [][]string{{s, s}, {s}}}, doc.Figure{Caption: s, Wide: p}, doc.List{Items: []string{s}}, doc.Blanks{Rows: [][]string{{s, s}}}}}}}
		b, err := pdf.Render(d, pdf.Options{Foot: s})
		if err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
			t.Fatalf("%v", err)
		}
	})
}

func BenchmarkRender(b *testing.B) {
	d := longDoc(160)
	for b.Loop() {
		if _, err := pdf.Render(d, pdf.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
