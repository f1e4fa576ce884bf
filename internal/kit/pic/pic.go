// Package pic holds pictures as data: lines, curves, text and dimensions in
// the manner of an engraving. A figure is drawn once as a [Picture] and set
// by paper/svg for the screen, by paper/pdf on paper and later by paper/dxf, at
// true size.
//
// Coordinates grow to the right and downwards. The unit is the CSS pixel for
// a picture to look at ([Screen]) and the millimetre for one to work from
// ([TrueSize]); text is sized in the same unit, 14 px and up on a screen, so
// that it can be read at arm's length. Pens and fills have meanings, not
// colours: the theme gives them colour for paper, light and dark.
package pic

import (
	"iter"

	"seatboard/internal/kit/geom"
)

// Scale tells what a coordinate means.
type Scale uint8

// The scales.
const (
	Screen   Scale = iota // CSS pixels
	TrueSize              // millimetres
)

// Picture is a drawing with its words for those who cannot see it.
type Picture struct {
	Title string // what it shows
	Desc  string // what is to be learned from it, in words
	W, H  float64
	Scale Scale
	Items []Item
}

// Add appends items.
func (p *Picture) Add(items ...Item) { p.Items = append(p.Items, items...) }

// Item is one of the types below.
type Item interface{ item() }

// Pt is a point.
type Pt struct{ X, Y float64 }

// Pen is what a line means.
type Pen uint8

// The pens.
const (
	Ink    Pen = iota // 1.2 outline of a part
	Hair              // 0.6 leader, tooth line, grid
	Dashed            // hidden or supposed
	Heavy             // 2.2 arbor, cut edge
	Chosen            // brass: selected
	Steel             // blued steel: a curve that is measured or computed
	Good              // verdigris
	Bad               // red oxide
	NoLine            // no outline
	Chain             // long dash and dot: centre line, pitch circle, axis of symmetry
)

// Fill is what an area means.
type Fill uint8

// The fills.
const (
	Empty   Fill = iota // nothing: what lies behind shows
	Ground              // the colour of the page: hides what lies behind
	Hatch               // cut metal, 45°
	Hatch2              // second cut part, 135°
	Shaded              // a band or a zone, brass hatching
	Band                // a band of doubt, light steel
	Solid               // ink
	BadFill             // red oxide, solid
)

// Line is straight.
type Line struct {
	A, B Pt
	Pen  Pen
}

// Poly is a run of points, closed or open.
type Poly struct {
	Pts    []Pt
	Closed bool
	Pen    Pen
	Fill   Fill
}

// Rect has its corner at Min, upper left.
type Rect struct {
	Min  Pt
	W, H float64
	Pen  Pen
	Fill Fill
}

// Circle is a full circle.
type Circle struct {
	C    Pt
	R    float64
	Pen  Pen
	Fill Fill
}

// Arc is part of a circle; angles in radians, clockwise on the screen from
// the positive x axis.
type Arc struct {
	C        Pt
	R        float64
	From, To float64
	Pen      Pen
}

// Anchor is where text hangs from its point.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Lettering is the style of a text.
type Lettering uint8

// The letterings.
const (
	Label Lettering = iota // 14, soft
	Name                   // 16, semibold, ink
	Mark                   // 14, brass
	Alarm                  // 14, semibold, red oxide
	Fine                   // 14, verdigris
	Plain                  // 14, ink
)

// Text is one line of words; P is on its baseline.
type Text struct {
	P      Pt
	S      string
	Anchor Anchor
	Style  Lettering
	Size   float64 // height of the type in the unit of the picture; 0 is that of its style
}

// Outline is paths of lines and arcs, in the coordinates of the picture. Filled,
// the inside is what an odd number of the paths goes round: a hole is a path
// inside another.
type Outline struct {
	Paths []geom.Path
	Pen   Pen
	Fill  Fill
}

// Group holds items that belong together; Link makes them touchable, Words
// is the accessible name of the link. Layer is the layer of a drawing that
// they are written on, in plain words: "outline", "centres", "dimensions".
type Group struct {
	Items []Item
	Link  string
	Words string
	Layer string
}

// Dim is a dimension line between two points with its text above the middle.
type Dim struct {
	A, B Pt
	S    string
	Off  float64 // distance of the line from the points, to the left of A→B
}

// Cells is a pattern of square cells, drawn as one shape in solid ink so that
// no seam shows between them.
type Cells struct {
	Min  Pt // corner of the first cell, upper left
	Side float64
	Dark [][]bool // rows from the top, cells from the left
}

// Runs are the dark cells as rectangles, as many side by side as there are.
func (c Cells) Runs() iter.Seq[Rect] {
	return func(yield func(Rect) bool) {
		for y, row := range c.Dark {
			for x := 0; x < len(row); x++ {
				from := x
				for x < len(row) && row[x] {
					x++
				}
				if x == from {
					continue
				}
				r := Rect{Min: Pt{c.Min.X + float64(from)*c.Side, c.Min.Y + float64(y)*c.Side}, W: float64(x-from) * c.Side, H: c.Side, Pen: NoLine, Fill: Solid}
				if !yield(r) {
					return
				}
			}
		}
	}
}

func (Line) item()    {}
func (Poly) item()    {}
func (Rect) item()    {}
func (Circle) item()  {}
func (Arc) item()     {}
func (Text) item()    {}
func (Group) item()   {}
func (Dim) item()     {}
func (Cells) item()   {}
func (Outline) item() {}

// TextWidth estimates the width of a text on a screen picture, in pixels,
// on the wide side: for keeping labels apart.
func TextWidth(s string, style Lettering) float64 {
	per := 7.6
	if style == Name {
		per = 8.9
	}
	return per * float64(len([]rune(s)))
}
