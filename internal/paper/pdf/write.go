package pdf

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"seatboard/internal/paper/theme"
)

// Margins of a page in millimetres, within what every office printer reaches.
const (
	sideMargin = 18
	headMargin = 16
	footMargin = 20
	footLine   = 11 // of the foot's words, above the lower edge
)

// writer writes one file. y grows downwards, in millimetres.
type writer struct {
	f     *fpdf.Fpdf
	faces *faces
	w, h  float64
	y     float64
	photo func(name string) []byte // nil for none
}

// type sizes in points, colours and leading.
type style struct {
	face   *face
	size   float64
	colour string
}

func newWriter(title string, made time.Time, width, height float64) (*writer, error) {
	all, err := newFaces()
	if err != nil {
		return nil, err
	}
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: width, Ht: height}})
	for _, x := range []*face{all.sans, all.bold, all.serif} {
		f.AddUTF8FontFromBytes(x.family, "", x.data)
	}
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineCapStyle("butt")
	f.SetLineJoinStyle("round")
	f.SetCatalogSort(true)
	f.SetCreationDate(made.UTC())
	f.SetModificationDate(made.UTC())
	f.SetTitle(title, true)
	f.SetProducer("Seatboard", true)
	f.SetLang("en")
	return &writer{f: f, faces: all, w: width, h: height}, f.Error()
}

// page begins a page.
func (w *writer) page() {
	w.f.AddPage()
	w.y = headMargin
}

func (w *writer) wide() float64 { return w.w - 2*sideMargin }
func (w *writer) low() float64  { return w.h - footMargin }

// need begins a page where so much does not fit on this one.
func (w *writer) need(height float64) {
	if w.y+height > w.low() && w.y > headMargin {
		w.page()
	}
}

// gap leaves room, but not at the head of a page.
func (w *writer) gap(height float64) {
	if w.y > headMargin {
		w.y += height
	}
}

func (w *writer) plain(size float64) style { return style{w.faces.sans, size, theme.Ink} }
func (w *writer) soft(size float64) style  { return style{w.faces.sans, size, theme.Soft} }
func (w *writer) bold(size float64) style  { return style{w.faces.bold, size, theme.Ink} }

// serif is the face of headings, where it has the letters.
func (w *writer) serif(s string, size float64) style {
	if w.faces.serif.has(s) {
		return style{w.faces.serif, size, theme.Ink}
	}
	return w.bold(size)
}

// mm is the size of the type, leading is the height of a line of it.
func (s style) mm() float64      { return s.size / pointsPerMM }
func (s style) leading() float64 { return 1.35 * s.mm() }

func (s style) width(text string) float64 { return s.face.width(text, s.mm()) }

// put sets a text with its baseline at y.
func (w *writer) put(x, y float64, text string, s style) {
	if text == "" {
		return
	}
	w.f.SetFont(s.face.family, "", s.size)
	r, g, b := rgb(s.colour)
	w.f.SetTextColor(r, g, b)
	w.f.Text(x, y, text)
}

// lines breaks a text at spaces, and a word that is wider than the line
// within; line ends in the text hold.
func (w *writer) lines(text string, width float64, s style) []string {
	var out []string
	for par := range strings.SplitSeq(strings.Trim(text, "\n"), "\n") {
		out = append(out, breakLine(w.faces.printable(s.face, par), width, s)...)
	}
	return out
}

func breakLine(text string, width float64, s style) []string {
	var out []string
	line := ""
	for word := range strings.SplitSeq(text, " ") {
		switch {
		case word == "":
			continue
		case line != "" && s.width(line+" "+word) <= width:
			line += " " + word
			continue
		case line != "":
			out = append(out, line)
		}
		for s.width(word) > width && len([]rune(word)) > 1 {
			n := fitting(word, width, s)
			out, word = append(out, word[:n]), word[n:]
		}
		line = word
	}
	return append(out, line)
}

// fitting is how many bytes of a word fit, at least one letter.
func fitting(word string, width float64, s style) int {
	sum, n := 0.0, 0
	for i, r := range word {
		sum += s.face.glyph(r).width * s.mm()
		if i > 0 && sum > width {
			break
		}
		n = i + len(string(r))
	}
	return n
}

// para sets a text in lines at x; two lines at least stay together.
func (w *writer) para(x, width float64, text string, s style) {
	lines := w.lines(text, width, s)
	for i, l := range lines {
		if i == 0 || i == len(lines)-2 {
			w.need(float64(min(2, len(lines)-i)) * s.leading())
		}
		w.need(s.leading())
		w.y += s.leading()
		w.put(x, w.y-0.3*s.mm(), l, s)
	}
}

// rule draws a thin line across.
func (w *writer) rule(x1, x2, y float64, colour string, width float64) {
	w.ink(colour, width)
	w.f.Line(x1, y, x2, y)
}

func (w *writer) ink(colour string, width float64) {
	r, g, b := rgb(colour)
	w.f.SetDrawColor(r, g, b)
	w.f.SetLineWidth(width)
}

// missing names the letters that could not be set.
func (w *writer) missing() {
	all := w.faces.lackingLetters()
	if len(all) == 0 {
		return
	}
	var codes []string
	for _, r := range all {
		codes = append(codes, fmt.Sprintf("U+%04X", r))
	}
	w.gap(4)
	w.para(sideMargin, w.wide(), "Letters that the type of this sheet does not have stand as �; they are in the record: "+strings.Join(codes, ", ")+".", w.soft(8))
	delete(w.faces.lacking, missingLetter)
}

// feet writes the foot of every page once their number is known.
func (w *writer) feet(o Options) {
	left := o.Foot
	if !o.Made.IsZero() {
		left = strings.TrimPrefix(left+" · "+o.Made.Format("2006-01-02"), " · ")
	}
	s := w.soft(8.5)
	left = w.faces.printable(s.face, left)
	pages := w.f.PageCount()
	for n := 1; n <= pages; n++ {
		w.f.SetPage(n)
		y := w.h - footLine
		right := "Page " + strconv.Itoa(n) + " of " + strconv.Itoa(pages)
		w.rule(sideMargin, w.w-sideMargin, y-5, theme.Soft, 0.15)
		w.put(sideMargin, y, cut(left, w.wide()-s.width(right)-6, s), s)
		w.put(w.w-sideMargin-s.width(right), y, right, s)
	}
}

// cut shortens a text to a width.
func cut(text string, width float64, s style) string {
	if s.width(text) <= width {
		return text
	}
	n := fitting(text, width-s.width("…"), s)
	return text[:n] + "…"
}

// rgb reads #rrggbb; black where it is none.
func rgb(colour string) (r, g, b int) {
	v, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if err != nil {
		return 0, 0, 0
	}
	return int(v >> 16 & 255), int(v >> 8 & 255), int(v & 255)
}
