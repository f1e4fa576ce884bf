// Package svg sets a [pic.Picture] as SVG, in two ways.
//
// [Inline] is for a page: pens, fills and letterings become class names that
// paper/theme colours for light, dark and print, and no style attribute or
// style element is written, so that a strict content security policy holds.
// Its width and height are CSS pixels and its lettering keeps its size: a page
// shows the picture drawn for its width and never scales one.
//
// [File] is for keeping and printing: the same drawing with black ink and the
// few colours of the trade on white, complete in itself. A picture at true
// size is as many millimetres wide as it says.
//
// Numbers have two decimals at most and are written the same way every time,
// so that a drawing can be compared with an earlier one line by line; the
// coordinates of a file at true size have four, a tenth of a micrometre. A
// coordinate that is not a number is written as nought. Outlines are paths of
// lines and arcs, filled by the even-odd rule; an arc of more than a quarter
// circle is written in parts, so that the rounding of its numbers does not
// move its centre. The layer of a group is its attribute data-layer.
package svg

import (
	"encoding/xml"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/pic"
)

// Placed says how a picture stands in a page.
type Placed struct {
	ID    string  // prefix of every id in the picture, unique in the page
	Class string  // further class names of the root, "" for none
	Room  float64 // CSS pixels that there are for a picture at true size: it is made to fit, at most to twice its size; 0 keeps its size
}

// Inline sets a picture for a page.
func Inline(p pic.Picture, at Placed) string {
	w := writer{id: at.ID, k: 1, pen: 1, digits: 2, look: classes{}}
	if p.Scale == pic.TrueSize {
		w.k = pxPerMM
	}
	class := "fig"
	if at.Class != "" {
		class += " " + at.Class
	}
	width, height := w.n(p.W), w.n(p.H)
	shown := 1.0
	if at.Room > 0 && p.Scale == pic.TrueSize {
		shown = min(at.Room/(p.W*w.k), 2)
	}
	w.s(`<svg xmlns="http://www.w3.org/2000/svg" class="`, esc(class), `" width="`, w.n(p.W*shown), `" height="`, w.n(p.H*shown),
		`" viewBox="0 0 `, width, ` `, height, `"`)
	return w.rest(p)
}

// File sets a picture as a file of its own.
func File(p pic.Picture) []byte {
	w := writer{id: "p", k: 1, pen: 1, digits: 2}
	unit := ""
	if p.Scale == pic.TrueSize {
		w.pen, w.digits, unit = 1/pxPerMM, 4, "mm"
	}
	w.look = inks{pen: w.pen}
	width, height := w.n(p.W), w.n(p.H)
	w.s(xml.Header, `<svg xmlns="http://www.w3.org/2000/svg" width="`, width, unit, `" height="`, height, unit,
		`" viewBox="0 0 `, width, ` `, height, `" font-family="`, esc(fileFont), `"`)
	return []byte(w.rest(p) + "\n")
}

// pxPerMM is the CSS pixel: 96 to the inch of 25.4 mm.
const pxPerMM = 96 / 25.4

// fileFont names faces that other programs are likely to have.
const fileFont = "'IBM Plex Sans', 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"

// look is how pens, fills and letterings are written as attributes.
type look interface {
	line(pic.Pen) string
	area(pic.Pen, pic.Fill) string             // for hatched fills the stroke alone
	text(l pic.Lettering, size float64) string // size 0 is that of the lettering
	paper(w, h string) string                  // what lies under the drawing
}

// writer writes one picture.
type writer struct {
	strings.Builder
	id     string
	k      float64 // coordinates are multiplied by this
	pen    float64 // one CSS pixel in the unit of the file
	digits int     // decimals of a coordinate
	look   look
}

func (w *writer) s(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

// n is a coordinate.
func (w *writer) n(x float64) string { return decimals(x*w.k, w.digits) }

// rest is everything after the size of the root.
func (w *writer) rest(p pic.Picture) string {
	role := "img"
	if hasLink(p.Items) {
		role = "group" // the parts of an img cannot be touched
	}
	w.s(` role="`, role, `" aria-labelledby="`, esc(w.id), `-t"`)
	if p.Desc != "" {
		w.s(` aria-describedby="`, esc(w.id), `-d"`)
	}
	w.s(">\n<title id=\"", esc(w.id), `-t">`, esc(p.Title), "</title>\n")
	if p.Desc != "" {
		w.s(`<desc id="`, esc(w.id), `-d">`, esc(p.Desc), "</desc>\n")
	}
	w.patterns(p.Items)
	w.s(w.look.paper(w.n(p.W), w.n(p.H)))
	w.items(p.Items)
	w.s("</svg>")
	return w.String()
}

func (w *writer) items(items []pic.Item) {
	for _, it := range items {
		w.item(it)
	}
}

func (w *writer) item(it pic.Item) {
	switch it := it.(type) {
	case pic.Line:
		w.line(it.A, it.B, it.Pen)
	case pic.Poly:
		w.poly(it)
	case pic.Rect:
		w.s(`<rect x="`, w.n(it.Min.X), `" y="`, w.n(it.Min.Y), `" width="`, w.n(it.W), `" height="`, w.n(it.H), `"`, w.area(it.Pen, it.Fill), "/>\n")
	case pic.Circle:
		w.s(`<circle cx="`, w.n(it.C.X), `" cy="`, w.n(it.C.Y), `" r="`, w.n(it.R), `"`, w.area(it.Pen, it.Fill), "/>\n")
	case pic.Arc:
		w.arc(it)
	case pic.Outline:
		w.outline(it)
	case pic.Cells:
		w.cells(it)
	case pic.Text:
		w.text(it, "")
	case pic.Group:
		w.group(it)
	case pic.Window:
		w.window(it)
	case pic.Dim:
		w.dim(it)
	}
}

func (w *writer) line(a, b pic.Pt, pen pic.Pen) {
	w.s(`<line x1="`, w.n(a.X), `" y1="`, w.n(a.Y), `" x2="`, w.n(b.X), `" y2="`, w.n(b.Y), `"`, w.look.line(pen), "/>\n")
}

func (w *writer) poly(p pic.Poly) {
	tag := "polyline"
	if p.Closed {
		tag = "polygon"
	}
	w.s("<", tag, ` points="`)
	for i, pt := range p.Pts {
		if i > 0 {
			w.s(" ")
		}
		w.s(w.n(pt.X), ",", w.n(pt.Y))
	}
	w.s(`"`, w.area(p.Pen, p.Fill), "/>\n")
}

func (w *writer) arc(a pic.Arc) {
	turn := a.To - a.From
	if math.Abs(turn) >= 2*math.Pi {
		w.item(pic.Circle{C: a.C, R: a.R, Pen: a.Pen})
		return
	}
	on := func(angle float64) pic.Pt {
		return pic.Pt{X: a.C.X + a.R*math.Cos(angle), Y: a.C.Y + a.R*math.Sin(angle)}
	}
	flag := func(b bool) string {
		if b {
			return "1"
		}
		return "0"
	}
	from, to := on(a.From), on(a.To)
	w.s(`<path d="M`, w.n(from.X), " ", w.n(from.Y), " A", w.n(a.R), " ", w.n(a.R), " 0 ",
		flag(math.Abs(turn) > math.Pi), " ", flag(turn > 0), " ", w.n(to.X), " ", w.n(to.Y), `"`, w.area(a.Pen, pic.Empty), "/>\n")
}

// cells writes a pattern as one path, a run of cells at a time.
func (w *writer) cells(c pic.Cells) {
	w.s(`<path d="`)
	for r := range c.Runs() {
		w.s("M", w.n(r.Min.X), " ", w.n(r.Min.Y), "h", w.n(r.W), "v", w.n(r.H), "h", w.n(-r.W), "z")
	}
	w.s(`"`, w.look.area(pic.NoLine, pic.Solid), "/>\n")
}

// text writes a line of words; transform may be "".
func (w *writer) text(t pic.Text, transform string) {
	w.s(`<text x="`, w.n(t.P.X), `" y="`, w.n(t.P.Y), `"`, w.look.text(t.Style, t.Size*w.k))
	switch t.Anchor {
	case pic.Middle:
		w.s(` text-anchor="middle"`)
	case pic.End:
		w.s(` text-anchor="end"`)
	}
	if transform != "" {
		w.s(` transform="`, transform, `"`)
	}
	w.s(">", esc(t.S), "</text>\n")
}

func (w *writer) group(g pic.Group) {
	open, end := "<g", "</g>\n"
	if g.Link != "" {
		open, end = `<a href="`+esc(g.Link)+`"`, "</a>\n"
	}
	w.s(open)
	if g.Words != "" && g.Link != "" {
		w.s(` aria-label="`, esc(g.Words), `"`)
	}
	if g.Layer != "" {
		w.s(` data-layer="`, esc(g.Layer), `"`)
	}
	w.s(">\n")
	w.items(g.Items)
	w.s(end)
}

// window is a picture in the picture, which shows nothing outside its edge.
func (w *writer) window(v pic.Window) {
	x, y, width, height := w.n(v.Min.X), w.n(v.Min.Y), w.n(v.W), w.n(v.H)
	w.s(`<svg x="`, x, `" y="`, y, `" width="`, width, `" height="`, height, `" viewBox="`, x, " ", y, " ", width, " ", height, `">`, "\n")
	w.items(v.Items)
	w.s("</svg>\n")
}

func hasLink(items []pic.Item) bool {
	for _, it := range items {
		if g, ok := it.(pic.Group); ok && (g.Link != "" || hasLink(g.Items)) {
			return true
		}
	}
	return false
}

// number has two decimals at most.
func number(x float64) string { return decimals(x, 2) }

// decimals has so many decimals at most, no trailing noughts and no −0.
func decimals(x float64, digits int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "0"
	}
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if digits > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// esc escapes text and attribute values and drops what XML cannot hold.
func esc(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&#34;")
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case r < 0x20 || r == 0xFFFE || r == 0xFFFF:
			b.WriteRune('\uFFFD')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
