package pdf_test

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"strings"
	"testing"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/pdf"
)

// TestPhotographs: two stand side by side with what is under them, marks over
// them, and one that is not there leaves a frame that says so.
func TestPhotographs(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 800, 600))
	draw.Draw(m, m.Rect, image.NewUniform(color.Gray{40}), image.Point{}, draw.Src)
	var file bytes.Buffer
	if err := jpeg.Encode(&file, m, nil); err != nil {
		t.Fatal(err)
	}
	mark := pic.Rect{Min: pic.Pt{X: 350, Y: 250}, W: 100, H: 100, Pen: pic.NoLine, Fill: pic.Ground}
	d := doc.Doc{Title: "Condition", Sections: []doc.Section{{Body: []doc.Block{doc.Photos{Shots: []doc.Photo{
		{Name: "dark", Caption: "Before: the dial", W: 800, H: 600, Marks: []pic.Item{mark}}, {Name: "dark", Caption: "After: the dial"},
		{Name: "", Caption: ""}, {Name: "gone", Caption: "After: the hood"}, {Name: "broken", Caption: "Before: the base"}}}}}}}
	b, err := pdf.Render(d, pdf.Options{Made: made, Photo: func(name string) []byte {
		switch name {
		case "dark":
			return file.Bytes()
		case "broken":
			return []byte("\xff\xd8\xff no picture")
		}
		return nil
	}})
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(b, []byte("/DCTDecode")); n != 1 {
		t.Errorf("the photograph that stands twice is in the file %d times", n)
	}
	text := run(t, "pdftotext", "-layout", kept(t, b), "-")
	for _, want := range []string{"Before: the dial", "After: the dial", "After: the hood", "Before: the base", "it is not here to print"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the sheet:\n%s", want, text)
		}
	}
	const dpi = 100
	img := raster(t, b, dpi)
	mm := func(x, y float64) color.Gray { return img.GrayAt(int(x*dpi/25.4), int(y*dpi/25.4)) }
	column, high := longestRun(img, false)
	// Two photographs of 84 mm with 6 mm between them, 63 mm high.
	if h := float64(high) * 25.4 / dpi; h < 62.5 || h > 63.5 {
		t.Errorf("a photograph is %.1f mm high", h)
	}
	top := 0.0
	for y, n := 0, 0; top == 0 && y < img.Rect.Dy(); y++ {
		if n++; img.GrayAt(column, y).Y >= 0x80 {
			n = 0
		}
		if n == high {
			top = float64(y-high) * 25.4 / dpi
		}
	}
	if c := mm(18+42, top+31.5); c.Y < 200 {
		t.Error("the mark does not stand over the photograph")
	}
	if c := mm(18+84+6+42, top+31.5); c.Y > 60 {
		t.Error("the second photograph has the mark of the first, or is not there")
	}
}
