// Package doc holds documents as data: what a page, a terminal and a printed
// sheet all show. A calculation's answer becomes one [Doc]; paper/html,
// paper/text and paper/pdf print it. Nothing here knows about fonts,
// widths or markup.
//
// A document is a list of sections. Each has a body, which says what is, and
// a margin, which says how it is known: working, sources, what to measure
// again, and what can hurt. A wide page sets the margin beside the body; a
// phone sets it after the body, closed.
package doc

import (
	"slices"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/pic"
)

// Doc is one document.
type Doc struct {
	Title    string
	Lead     string // one sentence under the title, may be empty
	Sections []Section
}

// Section is a heading with what stands under it.
type Section struct {
	Heading string // "" for the opening
	Body    []Block
	Margin  []Block
}

// Block is one of the types below.
type Block interface{ block() }

// Para is a paragraph of plain words.
type Para struct{ Text string }

// Say is the one sentence that matters, set large.
type Say struct{ Text string }

// Facts are the large figures at the head of a section.
type Facts []Fact

// Fact is one figure with its unit and doubt, and a note beneath.
type Fact struct {
	Label string // "Pendulum"
	Value string // "993.6", or words
	Unit  string // "mm"
	Doubt string // "± 0.4", "" where none was stated
	Note  string // "to the centre of swing, at the shop"
}

// Joined is the fact with a unit that is a mark put to its figure: apart from
// it and small, ° is not seen at arm's length.
func (f Fact) Joined() Fact {
	if f.Unit != "°" && f.Unit != "′" && f.Unit != "″" {
		return f
	}
	if f.Doubt == "" {
		f.Value += f.Unit
	} else {
		f.Doubt += f.Unit
	}
	f.Unit = ""
	return f
}

// Table is a table of results; the first column is a row heading.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]string // each as long as Columns
	Note    string
}

// Column heads a column; numbers are set right.
type Column struct {
	Head   string
	Unit   string
	Number bool
}

// Figure is a picture, drawn once for a wide page and once for a phone so
// that its lettering keeps its size, with the same numbers in a table.
type Figure struct {
	Name    string // file name without suffix: "plates"
	Caption string
	Wide    pic.Picture
	Narrow  pic.Picture
	Numbers *Table
	Choices []Choice // other things that could be drawn in its place
}

// Choice is something else that a figure could show; Value names it to
// whoever makes the document again.
type Choice struct {
	Words  string
	Value  string
	Chosen bool
}

// Notice is a framed sentence.
type Notice struct {
	Kind  NoticeKind
	Title string // "Two things do not agree"
	Text  string
	Next  string // what to do
	Ref   cite.Ref
}

// NoticeKind is how a notice is set.
type NoticeKind uint8

// The kinds of notice.
const (
	NoteNotice    NoticeKind = iota // worth knowing
	DoubtNotice                     // cannot be told
	ClashNotice                     // does not agree
	CautionNotice                   // can hurt; carries its authority
)

// Working is the sums, opened when wanted.
type Working struct {
	Title string
	Steps []cite.Step
}

// Budget says which inputs the doubt of a result comes from.
type Budget struct {
	Of    string // "one turn of the nut"
	Lines []BudgetLine
}

// BudgetLine is an input's share in per cent.
type BudgetLine struct {
	Input   string
	Percent float64
}

// List is a list of short sentences.
type List struct{ Items []string }

// Blanks are lines to be filled in with a pen: a signature, a day. Those of
// one row stand side by side.
type Blanks struct{ Rows [][]string }

// Photos are photographs, two side by side, each with what is written under it.
type Photos struct{ Shots []Photo }

// Photo is one photograph. It is no part of the document: who prints asks for
// it by its name.
type Photo struct {
	Name    string // "" leaves its place empty
	Caption string
	W, H    float64    // pixels of the photograph, upright; 0 where not known
	Marks   []pic.Item // drawn over it, in its pixels
}

// Sources lists references, without repeats.
type Sources struct{ Refs []cite.Ref }

func (Para) block()    {}
func (Say) block()     {}
func (Facts) block()   {}
func (Table) block()   {}
func (Figure) block()  {}
func (Drawing) block() {}
func (Notice) block()  {}
func (Working) block() {}
func (Budget) block()  {}
func (List) block()    {}
func (Sources) block() {}
func (Blanks) block()  {}
func (Photos) block()  {}

// Lines gathers the references by work, each place once, in order of first
// mention: "Beckett, …, p. 34; p. 36".
func (s Sources) Lines() []string {
	var heads []string
	places := map[string][]string{}
	for _, r := range s.Refs {
		head, place := r.Parts()
		if head == "" { // no work: the kind of evidence stands in its place
			if r.Place == "" && r.Note == "" && (r.Grade == cite.Exact || r.Grade == cite.Printed) {
				continue
			}
			head, place = r.Grade.String(), join(r.Place, r.Note)
			if r.Grade == cite.Printed {
				head, place = join(r.Place, r.Note), ""
			}
		}
		if _, known := places[head]; !known {
			heads = append(heads, head)
			places[head] = nil
		}
		if place != "" && !slices.Contains(places[head], place) {
			places[head] = append(places[head], place)
		}
	}
	out := make([]string, len(heads))
	for i, h := range heads {
		out[i] = strings.Join(append([]string{h}, places[h]...), "; ")
		out[i] = strings.Replace(out[i], "; ", ", ", 1)
	}
	return out
}

func join(a, b string) string {
	if a != "" && b != "" {
		return a + ", " + b
	}
	return a + b
}

// Figures lists the figures of all sections in order.
func (d Doc) Figures() []Figure {
	var all []Figure
	for _, s := range d.Sections {
		for _, b := range append(s.Body[:len(s.Body):len(s.Body)], s.Margin...) {
			if f, ok := b.(Figure); ok {
				all = append(all, f)
			}
		}
	}
	return all
}
