// Package labelsheet lays labels out on sheets and tapes, in millimetres, for
// paper/pdf: the number in large type, the name, the short id in words, and a
// QR code (ISO/IEC 18004) that a telephone's camera opens.
//
// Words and code of a label come from one value, in one pass, and every code
// is read back before it is given out ([ErrUnread]); nothing is kept from one
// label to the next. The quiet zone is the four cells that the standard asks
// for; a cell is 0.4 mm at least where there is room (common practice for
// telephone cameras, no source), and a label that is too small for that says
// so in [Laid.Warnings]. A number is never cut; a name that has no room is, and
// that is said too.
//
// A sheet is begun at any position. A tape's page is its label, as long as
// its words.
package labelsheet

import (
	"errors"
	"fmt"
	"math"

	"seatboard/internal/book/label"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/pdf"
)

// Label is what stands on one label.
type Label struct {
	Clock string // the clock's number
	Part  string // the part's number under it: "2.1"; "" for the clock itself
	Name  string
	Short string // the short id, in words and in the code

	Cautions []clean.Brief // what can hurt on it
}

// whole is the number in one piece.
func (l Label) whole() string {
	if l.Part == "" {
		return l.Clock
	}
	return l.Clock + "." + l.Part
}

// Order is what is to be printed.
type Order struct {
	Profile label.Profile
	Address string // what the codes begin with
	Labels  []Label
	Copies  int // of each, 1 to MaxCopies
	First   int // position of the first label on the first sheet, from 1
}

// The most that is printed at once.
const (
	MaxCopies = 99
	MaxLabels = 5000
)

// Laid is labels on their sheets.
type Laid struct {
	Sheets   []pdf.Sheet
	Labels   int // with copies
	Next     int // the first free position of the last sheet; 1 where it is full, and for a tape
	Warnings []string
}

// ErrUnread is the error of a code that does not read back as what was put in:
// a fault of the program, and nothing is printed.
var ErrUnread = errors.New("labelsheet: a code does not read back as its label")

// Lay lays an order out. Mistakes in the order are meas.Faults.
func Lay(o Order) (Laid, error) {
	if f := o.check(); len(f) > 0 {
		return Laid{}, f
	}
	r, err := pdf.NewRuler()
	if err != nil {
		return Laid{}, err
	}
	l := &layer{Order: o, ruler: r}
	return l.lay()
}

func (o Order) check() meas.Faults {
	f := o.Profile.Check()
	_, wrong := label.CheckAddress(o.Address)
	f = append(f, wrong...)
	add := func(field, text string) { f = append(f, meas.Fault{Field: field, Text: text}) }
	if len(o.Labels) == 0 {
		add("part", "Tick what is to have a label")
	}
	if o.Copies < 1 || o.Copies > MaxCopies {
		add("copies", fmt.Sprintf("Of each label there can be 1 to %d", MaxCopies))
	} else if n := o.Copies * len(o.Labels); n > MaxLabels {
		add("copies", fmt.Sprintf("That would be %d labels; print %d at most at once", n, MaxLabels))
	}
	if n := o.Profile.OnSheet(); n > 0 && (o.First < 1 || o.First > n) {
		add("first", fmt.Sprintf("The first free position is a number from 1 to %d: labels are counted from the upper left, row by row", n))
	}
	return f
}

// layer lays one order out.
type layer struct {
	Order
	ruler *pdf.Ruler
	warns warnings
}

// box is where a label lies on its page.
type box struct{ x, y, w, h float64 }

// inset is the box without its margin.
func (b box) inset(by float64) box { return box{b.x + by, b.y + by, b.w - 2*by, b.h - 2*by} }

func (l *layer) lay() (Laid, error) {
	out := Laid{Labels: l.Copies * len(l.Labels), Next: 1}
	at := l.First - 1
	for _, one := range l.Labels {
		c, err := newCode(l.Address + "/p/" + one.Short)
		if err != nil {
			return Laid{}, err
		}
		for range l.Copies {
			if l.Profile.Kind == label.Tape {
				out.Sheets = append(out.Sheets, l.tape(one, c))
				continue
			}
			if len(out.Sheets) == 0 || at == l.Profile.OnSheet() {
				if len(out.Sheets) > 0 {
					at = 0
				}
				out.Sheets = append(out.Sheets, sheet(l.Profile, l.Profile.PageWidth.Value.MM(), l.Profile.PageHeight.Value.MM()))
			}
			p := &out.Sheets[len(out.Sheets)-1].Picture
			p.Items = append(p.Items, l.one(one, c, place(l.Profile, at))...)
			at++
		}
	}
	if l.Profile.Kind == label.Sheet && at < l.Profile.OnSheet() {
		out.Next = at + 1
	}
	out.Warnings = l.warns.words()
	return out, nil
}

// sheet is an empty page with what its printer gets wrong taken out.
func sheet(p label.Profile, w, h float64) pdf.Sheet {
	s := pdf.Sheet{Picture: pic.Picture{Title: "Labels", W: w, H: h, Scale: pic.TrueSize}, Right: p.Right.Value.MM(), Down: p.Down.Value.MM()}
	s.Across, s.Upward = correction(p.BarAcross), correction(p.BarDown)
	return s
}

// correction is by how much a printer's pages are to be stretched for its bar
// of 100 mm to come out as such.
func correction(bar label.Length) float64 {
	if !bar.Set {
		return 1
	}
	return 100 / bar.Value.MM()
}

// place is the box of a position, counted from 0.
func place(p label.Profile, at int) box {
	b := box{w: p.Width.Value.MM(), h: p.Height.Value.MM()}
	right, down := b.w, b.h
	if p.StepRight.Set {
		right = p.StepRight.Value.MM()
	}
	if p.StepDown.Set {
		down = p.StepDown.Value.MM()
	}
	b.x = p.Left.Value.MM() + right*float64(at%p.Columns)
	b.y = p.Top.Value.MM() + down*float64(at/p.Columns)
	return b
}

// margin is what is left free inside a label's edge.
func margin(w, h float64) float64 {
	if min(w, h) < 13 {
		return 0.8
	}
	return 1.5
}

// apart is between the code and the words.
const apart = 1

// one sets a label into its box: the code to the left where the label is
// broad, above where it is not.
func (l *layer) one(x Label, c code, b box) []pic.Item {
	in := b.inset(margin(b.w, b.h))
	side := min(in.h, in.w/2)
	broad := in.w >= 1.3*in.h
	if !broad {
		side = min(in.w, 0.62*in.h)
	}
	at := in
	if broad {
		at.y += max(0, (in.h-min(side, mostSide))/2)
	}
	cells, side := l.code(x, c, at, side)
	words := box{in.x + side + apart, in.y, in.w - side - apart, in.h}
	switch {
	case side == 0:
		words = in
	case !broad:
		words = box{in.x, in.y + side + apart, in.w, in.h - side - apart}
	}
	return append(cells, l.words(x, words)...)
}

// tape is a page that is its label.
func (l *layer) tape(x Label, c code) pdf.Sheet {
	h := l.Profile.Height.Value.MM()
	if l.Profile.Width.Set {
		s := sheet(l.Profile, l.Profile.Width.Value.MM(), h)
		s.Picture.Items = l.one(x, c, box{0, 0, s.Picture.W, h})
		return s
	}
	edge := margin(h, h)
	in := box{edge, edge, math.Inf(1), h - 2*edge}
	cells, side := l.code(x, c, in, in.h)
	if side > 0 {
		in.x += side + apart
	}
	in.w = l.longEnough(x, in.h)
	s := sheet(l.Profile, in.x+in.w+edge, h)
	s.Picture.Items = append(cells, l.words(x, in)...)
	return s
}

// TestSheet is the page by which a printer is measured: the outlines of the
// labels with their positions, a cross 20 mm from both edges, and the bars of
// 100 mm where there is room. It is printed as the printer does, or with what
// was measured taken out.
func TestSheet(p label.Profile, corrected bool) (pdf.Sheet, error) {
	if f := p.Check(); len(f) > 0 {
		return pdf.Sheet{}, f
	}
	w, h := p.PageWidth.Value.MM(), p.PageHeight.Value.MM()
	if p.Kind == label.Tape {
		w, h = max(p.Width.Value.MM(), 110), p.Height.Value.MM()
	}
	s := sheet(p, w, h)
	s.Picture.Title = "Test page"
	if !corrected {
		s.Right, s.Down, s.Across, s.Upward = 0, 0, 1, 1
	}
	for at := range p.OnSheet() {
		b := place(p, at)
		s.Picture.Add(pic.Rect{Min: pic.Pt{X: b.x, Y: b.y}, W: b.w, H: b.h, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: b.x + b.w - 1, Y: b.y + b.h - 1}, S: fmt.Sprint(at + 1), Anchor: pic.End, Style: pic.Plain, Size: min(4, b.h/3)})
	}
	if w >= 60 && h >= 60 {
		s.Picture.Add(pic.Line{A: pic.Pt{X: 15, Y: 20}, B: pic.Pt{X: 25, Y: 20}}, pic.Line{A: pic.Pt{X: 20, Y: 15}, B: pic.Pt{X: 20, Y: 25}},
			pic.Text{P: pic.Pt{X: 27, Y: 21}, S: "20 mm from both edges", Style: pic.Plain, Size: 3})
	}
	if w >= 108 {
		s.Picture.Add(pdf.ScaleBar(pic.Pt{X: (w - 100) / 2, Y: min(h/2, 40)}, false)...)
	}
	if h >= 160 {
		s.Picture.Add(pdf.ScaleBar(pic.Pt{X: w / 3, Y: 50}, true)...)
	}
	return s, nil
}
