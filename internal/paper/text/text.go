// Package text sets a [doc.Doc] for a terminal: aligned facts, tables with a
// rule under their heads, notices that begin with a word for their kind, and
// on request the working. Pictures are not drawn: their numbers stand as a
// table in their place.
//
// Colour is used only where the caller says that the reader is a terminal;
// nothing is said by colour alone. Lines are broken at the width asked for,
// tables are not.
package text

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
)

// Options say how a document is set.
type Options struct {
	Width   int  // characters on a line, 80 if 0
	Working bool // show the sums and the sources
	Colour  bool
}

// Render sets a document.
func Render(d doc.Doc, o Options) string {
	if o.Width <= 0 {
		o.Width = 80
	}
	w := &writer{o: o, noted: map[string]bool{}}
	w.heading(d.Title, "=")
	if d.Lead != "" {
		w.para(d.Lead, "")
	}
	for _, s := range d.Sections {
		w.section(s)
	}
	return clean(strings.Trim(w.String(), "\n")+"\n", o.Colour)
}

type writer struct {
	strings.Builder
	o     Options
	tied  bool            // what follows stands close: it is under a heading
	noted map[string]bool // notes of drawings that were said: several drawings have the same
}

// space leaves an empty line between blocks.
func (w *writer) space() {
	if !w.tied {
		w.line("")
	}
}

func (w *writer) line(s string) {
	w.tied = s == ""
	w.WriteString(strings.TrimRight(s, " "))
	w.WriteByte('\n')
}

func (w *writer) heading(s, rule string) {
	if s == "" {
		return
	}
	w.line(w.paint(bold, s))
	w.line(strings.Repeat(rule, min(width(s), w.o.Width)))
	w.tied = true
}

func (w *writer) section(s doc.Section) {
	w.space()
	w.heading(s.Heading, "-")
	for _, b := range s.Body {
		w.block(b, false)
	}
	for _, b := range s.Margin {
		w.block(b, true)
	}
}

// block sets one block; what is known from where is shown on request, except
// what can hurt and what to measure again.
func (w *writer) block(b doc.Block, margin bool) {
	switch b := b.(type) {
	case doc.Para:
		if !margin || w.o.Working {
			w.space()
			w.para(b.Text, "")
		}
	case doc.Say:
		w.space()
		w.para(b.Text, "  ")
	case doc.Facts:
		w.facts(b)
	case doc.Table:
		w.table(b)
	case doc.Figure:
		if b.Numbers != nil {
			w.table(*b.Numbers)
		}
	case doc.Drawing:
		w.drawing(b)
	case doc.Notice:
		w.notice(b)
	case doc.Working:
		w.working(b)
	case doc.Budget:
		w.budget(b)
	case doc.List:
		w.space()
		for _, s := range b.Items {
			w.hanging("- ", s, "")
		}
	case doc.Sources:
		w.sources(b)
	case doc.Photos:
		w.space()
		for _, p := range b.Shots {
			if p.Name != "" {
				w.hanging("- Photograph: ", p.Caption, "")
			}
		}
	case doc.Blanks:
		w.space()
		for _, row := range b.Rows {
			for _, label := range row {
				w.line(label + ": " + strings.Repeat("_", 24))
			}
		}
	}
}

// drawing says that there is one and what to know before it is cut; its sheets
// have the numbers.
func (w *writer) drawing(d doc.Drawing) {
	w.space()
	w.para("Drawn at true size: "+d.Title+" (drawing "+d.Name+").", "")
	for _, n := range d.Notes {
		if !w.noted[n] {
			w.noted[n] = true
			w.hanging("- ", n, "")
		}
	}
}

func (w *writer) para(s, indent string) {
	for _, l := range wrap(s, w.o.Width-width(indent)) {
		w.line(indent + l)
	}
}

// hanging sets a text whose first line begins with a mark.
func (w *writer) hanging(mark, s, colour string) {
	pad := strings.Repeat(" ", width(mark))
	for i, l := range wrap(s, w.o.Width-width(mark)) {
		if i == 0 {
			w.line(w.paint(colour, mark) + l)
			continue
		}
		w.line(pad + l)
	}
}

// facts align labels, figures and notes.
func (w *writer) facts(facts doc.Facts) {
	w.space()
	label, value := 0, 0
	figures := make([]string, len(facts))
	for i, f := range facts {
		f = f.Joined()
		figures[i] = join(f.Value, f.Doubt, f.Unit)
		label = max(label, width(f.Label))
		value = max(value, min(width(figures[i]), 28))
	}
	for i, f := range facts {
		head := pad(f.Label, label) + "  " + pad(w.paint(bold, figures[i]), value) + "  "
		room := w.o.Width - label - max(value, width(figures[i])) - 4
		notes := wrap(f.Note, max(room, 20))
		if room < 20 || len(notes) == 0 {
			w.line(head)
			for _, n := range wrap(f.Note, max(w.o.Width-label-2, 20)) {
				w.line(strings.Repeat(" ", label+2) + n)
			}
			continue
		}
		for j, n := range notes {
			if j == 0 {
				w.line(head + n)
				continue
			}
			w.line(strings.Repeat(" ", label+value+4) + n)
		}
	}
}

func join(parts ...string) string {
	var full []string
	for _, p := range parts {
		if p != "" {
			full = append(full, p)
		}
	}
	return strings.Join(full, " ")
}

func (w *writer) notice(n doc.Notice) {
	word, colour := "Note", ""
	switch n.Kind {
	case doc.DoubtNotice:
		word = "Cannot be told"
	case doc.ClashNotice:
		word, colour = "Does not agree", red
	case doc.CautionNotice:
		word, colour = "Danger", red
	}
	if n.Title != "" {
		word = strings.TrimRight(n.Title, ".:")
	}
	w.space()
	w.hanging("! ", w.paint(colour, word+".")+" "+n.Text, colour)
	if n.Next != "" {
		w.hanging("  → ", n.Next, "")
	}
	if (n.Kind == doc.CautionNotice || w.o.Working) && n.Ref != (cite.Ref{}) {
		w.para(n.Ref.String(), "    ")
	}
}

func (w *writer) working(k doc.Working) {
	if !w.o.Working || len(k.Steps) == 0 {
		return
	}
	title := k.Title
	if title == "" {
		title = "Working"
	}
	w.space()
	w.line(w.paint(bold, title))
	for _, s := range k.Steps {
		w.para(s.Name, "  ")
		for i, part := range []string{s.Formula, s.Numbers, s.Result} {
			if part == "" {
				continue
			}
			mark := "    = "
			if i == 0 {
				mark = "    "
			}
			w.hanging(mark, part, "")
		}
		if s.Ref != (cite.Ref{}) {
			w.para(s.Ref.String(), "      ")
		}
	}
}

func (w *writer) budget(b doc.Budget) {
	if len(b.Lines) == 0 {
		return
	}
	w.space()
	w.para("The doubt in "+b.Of+" comes from", "")
	wide := 34
	for _, l := range b.Lines {
		wide = max(wide, width(l.Input))
	}
	for _, l := range b.Lines {
		w.line("  " + pad(l.Input, wide) + " " + percent(l.Percent))
	}
}

func (w *writer) sources(s doc.Sources) {
	if !w.o.Working {
		return
	}
	w.space()
	w.line(w.paint(bold, "Sources"))
	for _, l := range s.Lines() {
		w.hanging("- ", l, "")
	}
}

// The few escapes that every terminal knows.
const (
	bold = "\x1b[1m"
	red  = "\x1b[31m"
	off  = "\x1b[0m"
)

func (w *writer) paint(colour, s string) string {
	if !w.o.Colour || colour == "" || s == "" {
		return s
	}
	return colour + s + off
}

// clean drops what could command a terminal: every control character but the
// line's end and, where colour is asked for, the three escapes above.
func clean(s string, colour bool) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		if e := escapeAt(s[i:]); colour && e != "" {
			b.WriteString(e)
			i += len(e)
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if r == '\n' || !unicode.IsControl(r) {
			b.WriteRune(r)
		}
		i += size
	}
	return b.String()
}

func escapeAt(s string) string {
	for _, e := range [...]string{bold, red, off} {
		if strings.HasPrefix(s, e) {
			return e
		}
	}
	return ""
}

// width counts the columns of a text: runes, without marks that combine and
// without the escapes of colour.
func width(s string) int {
	n := 0
	for len(s) > 0 {
		if strings.HasPrefix(s, "\x1b[") {
			_, s, _ = strings.Cut(s, "m")
			continue
		}
		r, size := utf8.DecodeRuneInString(s)
		if !unicode.Is(unicode.Mn, r) && unicode.IsPrint(r) || r == '\u00a0' || r == '\u2009' || r == '\u202f' {
			n++
		}
		s = s[size:]
	}
	return n
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(n-width(s), 0)) }

// wrap breaks a text at spaces; a word longer than the line stands alone.
// No-break spaces hold.
func wrap(s string, n int) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		switch {
		case line == "":
			line = word
		case width(line)+1+width(word) <= n:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
