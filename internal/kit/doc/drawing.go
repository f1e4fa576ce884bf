package doc

import "seatboard/internal/kit/pic"

// Drawing is a part to be made, at true size: printed on sheets with a title
// block and a bar of 100 mm each way, and written as SVG and as DXF.
type Drawing struct {
	Name  string   // file name without suffix: "third-wheel"
	Title string   // "Third wheel, 60 teeth"
	Of    string   // number of the clock; "" where it is for none
	Views []View   // the first is at true size
	Data  []Datum  // counts and sizes, in the block beside the views
	Notes []string // what to know before it is cut: cautions with their authority, sources
}

// View is the part seen once.
type View struct {
	Name    string      // "True size", "One tooth, 20 : 1"
	Scale   float64     // of paper to part: 1 is true size
	Picture pic.Picture // at true size: in millimetres of the part
}

// Datum is a line of a drawing's data.
type Datum struct {
	Name  string // "Depth of cut"
	Value string // "1.42 mm"
}

// Table is the drawing's data as a table.
func (d Drawing) Table() Table {
	t := Table{Caption: d.Title, Columns: []Column{{Head: "What"}, {Head: "Size or count"}}}
	for _, x := range d.Data {
		t.Rows = append(t.Rows, []string{x.Name, x.Value})
	}
	return t
}

// Drawings lists the drawings of all sections in order.
func (d Doc) Drawings() []Drawing {
	var all []Drawing
	for _, s := range d.Sections {
		for _, b := range s.Body {
			if f, ok := b.(Drawing); ok {
				all = append(all, f)
			}
		}
	}
	return all
}
