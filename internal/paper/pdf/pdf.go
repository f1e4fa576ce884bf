// Package pdf sets documents and true-size pictures as PDF, with their faces
// inside, for paper and for sending.
//
// [Render] prints a [doc.Doc]: the same words, tables and figures as the page
// and the terminal have, black on white. A heading stays with what follows, a
// row of a table and a figure with its caption are not cut (one that is higher
// than a page is), the head of a table stands again on every page, and each
// page says which of how many it is.
//
// [Sheets] prints pictures in millimetres, each on a page of exactly its size:
// label sheets, labels on tape, templates to work from. Every file asks the
// reader's program not to scale it (ISO 32000-1:2008, 12.2, PrintScaling
// None), which most heed; [ScaleBar] tells whether a printer did.
// Shapes hold to 0.1 µm, arcs too: they are cubic curves that lie no farther
// from their circle. Words stand to 0.01 point.
//
// Type is that of paper/theme. A letter that the face does not have is set as
// �, and a line at the end of the document names it; [Ruler] tells it before.
// Links and script are not written. Equal input gives equal bytes.
//
// Photographs are JPEG files that the caller has made safe; one that cannot be
// read leaves a frame with its caption.
//
// Gaps: no tags for screen readers (the page has them),
// scripts that run from the right are not set.
package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
)

// Paper is a size of sheet in millimetres, upright.
type Paper struct {
	Name string
	W, H float64
}

// A4 is the sheet of ISO 216.
func A4() Paper { return Paper{"A4", 210, 297} }

// Letter is 8 1/2 by 11 inches.
func Letter() Paper { return Paper{"Letter", 215.9, 279.4} }

// Options say how a document is printed.
type Options struct {
	Paper Paper     // A4 if it has no size
	Foot  string    // at the foot of every page, beside "Page 1 of 3"
	Made  time.Time // when; it stands in the file, and in the foot as a day where it is not zero
	// Photo gives a photograph by its name as JPEG, upright, nil where there is
	// none; nil where the document has no photographs.
	Photo func(name string) []byte
	// Sheets at true size that follow the document: they have no foot.
	Sheets []Sheet
}

// Render prints a document.
func Render(d doc.Doc, o Options) ([]byte, error) {
	if o.Paper.W <= 0 || o.Paper.H <= 0 {
		o.Paper = A4()
	}
	w, err := newWriter(d.Title, o.Made, o.Paper.W, o.Paper.H)
	if err != nil {
		return nil, err
	}
	w.photo = o.Photo
	w.page()
	w.document(d)
	w.missing()
	w.feet(o)
	if err := w.sheets(o.Sheets); err != nil {
		return nil, err
	}
	return w.finish()
}

// Sheet is one page: a picture at true size, and what its printer gets wrong.
// The picture is scaled about its upper left corner, then moved.
type Sheet struct {
	Picture        pic.Picture
	Right, Down    float64 // millimetres by which it is moved
	Across, Upward float64 // by how much it is scaled in width and height; 0 is 1
}

// Sheets prints true-size pictures, a page for each. A picture that is not at
// true size or has no size is an error.
func Sheets(title string, made time.Time, sheets ...Sheet) ([]byte, error) {
	if len(sheets) == 0 {
		return nil, errors.New("pdf: there is no sheet to print")
	}
	first := sheets[0].Picture
	w, err := newWriter(title, made, first.W, first.H)
	if err != nil {
		return nil, err
	}
	if err := w.sheets(sheets); err != nil {
		return nil, err
	}
	return w.finish()
}

// sheets adds a page for each.
func (w *writer) sheets(sheets []Sheet) error {
	for i, s := range sheets {
		p := s.Picture
		if p.Scale != pic.TrueSize || !(p.W > 0 && p.H > 0) || math.IsInf(p.W+p.H, 0) {
			return fmt.Errorf("pdf: sheet %d is not a picture at true size", i+1)
		}
		w.f.AddPageFormat("P", fpdf.SizeType{Wd: p.W, Ht: p.H})
		w.sheet(s, p.H)
	}
	return nil
}

// sheet draws one page of Sheets. A transformation is written only where
// there is something to correct.
func (w *writer) sheet(s Sheet, height float64) {
	across, upward := s.Across, s.Upward
	if across == 0 {
		across = 1
	}
	if upward == 0 {
		upward = 1
	}
	corrected := across != 1 || upward != 1 || s.Right != 0 || s.Down != 0
	if corrected {
		w.f.TransformBegin()
		// PDF measures upwards from the foot of the page: a point at height−y goes to height−(down+upward·y).
		w.f.Transform(fpdf.TransformMatrix{A: across, D: upward, E: s.Right * pointsPerMM, F: (height*(1-upward) - s.Down) * pointsPerMM})
	}
	placed{w: w, k: 1, px: mmPerPx}.items(s.Picture.Items)
	if corrected {
		w.f.TransformEnd()
	}
}

const (
	pointsPerMM = 72 / 25.4
	mmPerPx     = 25.4 / 96
)

// ScaleBar is a [Bar] with a line to write down what it measures on paper.
func ScaleBar(from pic.Pt, down bool) []pic.Item {
	words, at := "across", pic.Pt{X: from.X, Y: from.Y + 5}
	if down {
		words, at = "down", pic.Pt{X: from.X + 3, Y: from.Y + 99}
	}
	return append(Bar(from, down), pic.Text{P: at, S: "This bar is 100 mm " + words + ". Measured: ____________ mm", Style: pic.Plain, Size: 3.5})
}

// Bar is a bar of 100 mm between its outer edges, across or down.
func Bar(from pic.Pt, down bool) []pic.Item {
	const half = 1.2 * mmPerPx / 2 // half of the pen: the outer ticks are drawn inside the bar
	var out []pic.Item
	line := func(along1, across1, along2, across2 float64) {
		a, b := pic.Pt{X: from.X + along1, Y: from.Y + across1}, pic.Pt{X: from.X + along2, Y: from.Y + across2}
		if down {
			a, b = pic.Pt{X: from.X + across1, Y: from.Y + along1}, pic.Pt{X: from.X + across2, Y: from.Y + along2}
		}
		out = append(out, pic.Line{A: a, B: b, Pen: pic.Ink})
	}
	line(0, 0, 100, 0)
	for i := 0; i <= 100; i += 10 {
		long := 2.0
		if i%50 == 0 {
			long = 4
		}
		at := min(max(float64(i), half), 100-half)
		line(at, 0, at, -long)
	}
	return out
}

// finish closes the document and gives its bytes.
func (w *writer) finish() ([]byte, error) {
	var b bytes.Buffer
	if err := w.f.Output(&b); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return unscaled(b.Bytes())
}
