// Package html sets a [doc.Doc] as the markup of a page, for the classes of
// paper/theme. It writes well-formed markup (every element closed, every
// attribute quoted), no style attribute, no script, and escapes every word
// that comes from a document.
//
// A section becomes
//
//	<section class="leaf">
//	 <div class="body"> heading, what is </div>
//	 <details class="margin"> how it is known </details>
//	</section>
//
// A wide page sets the margin beside the body and opens it by the style
// sheet; on a phone it follows, closed. A figure is written twice, drawn for
// a wide page and for a phone, and the style sheet shows one of them.
package html

import (
	"fmt"
	"html/template"
	"strings"

	"seatboard/internal/kit/doc"
)

// Options say how a document stands in a page.
type Options struct {
	ID    string // prefix of all ids, "d" if empty; must be unique in the page
	Level int    // of the section headings, 2 if 0
	// Links gives the downloads of a figure by its name, nil for none.
	Links func(figure string) []Link
	// Drawings gives the files of a drawing by its name, nil for none.
	Drawings func(drawing string) []Link
	// Choose gives the address of the page with another choice of a figure,
	// nil for none.
	Choose func(value string) string
	// Open shows the working opened.
	Open bool
}

// Link is a download or a next step.
type Link struct {
	Text string // "SVG"
	Href string
}

// Render sets the lead and the sections of a document; the title is the
// page's heading and is not written.
func Render(d doc.Doc, o Options) template.HTML {
	if o.ID == "" {
		o.ID = "d"
	}
	if o.Level == 0 {
		o.Level = 2
	}
	w := &writer{o: o, id: o.ID}
	if d.Lead != "" {
		w.line(`<p class="lead">`, esc(d.Lead), `</p>`)
	}
	for i, s := range d.Sections {
		w.section(fmt.Sprintf("%s-%d", o.ID, i+1), s)
	}
	return template.HTML(w.String()) // every word has passed through esc
}

// writer writes one document.
type writer struct {
	strings.Builder
	o      Options
	id     string // of the section or block being written
	blocks int    // counts blocks that need an id
	bare   bool   // the section being written has no heading
}

func (w *writer) put(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

func (w *writer) line(parts ...string) {
	w.put(parts...)
	w.WriteByte('\n')
}

// next is an id that no other block has.
func (w *writer) next() string {
	w.blocks++
	return fmt.Sprintf("%s-b%d", w.o.ID, w.blocks)
}

// heading writes a heading so many levels below the sections'. In a section
// without one no level is left out.
func (w *writer) heading(below int, attr, words string) {
	if w.bare {
		below = 0
	}
	n := min(w.o.Level+below, 6)
	w.line(fmt.Sprintf("<h%d%s>", n, attr), esc(words), fmt.Sprintf("</h%d>", n))
}

func (w *writer) section(id string, s doc.Section) {
	named := ""
	w.bare = s.Heading == ""
	if s.Heading != "" {
		named = ` aria-labelledby="` + esc(id) + `"`
	}
	w.line(`<section class="leaf"`, named, `>`)
	w.line(`<div class="body">`)
	if s.Heading != "" {
		w.heading(0, ` id="`+esc(id)+`"`, s.Heading)
	}
	for _, b := range s.Body {
		w.block(b)
	}
	w.line(`</div>`)
	if len(s.Margin) > 0 {
		w.margin(s)
	}
	w.line(`</section>`)
}

// margin writes the cautions in the open, where the work is done, and the
// rest in one details.
func (w *writer) margin(s doc.Section) {
	w.line(`<div class="margin">`)
	var rest []doc.Block
	for _, b := range s.Margin {
		if n, ok := b.(doc.Notice); ok && n.Kind == doc.CautionNotice {
			w.block(n)
			continue
		}
		rest = append(rest, b)
	}
	if len(rest) > 0 {
		about := ""
		if s.Heading != "" {
			about = `<span class="visually-hidden">: ` + esc(s.Heading) + `</span>`
		}
		w.line(`<details class="known"><summary>How this is known`, about, `</summary>`)
		for _, b := range rest {
			w.block(b)
		}
		w.line(`</details>`)
	}
	w.line(`</div>`)
}

func (w *writer) block(b doc.Block) {
	switch b := b.(type) {
	case doc.Para:
		w.line(`<p>`, esc(b.Text), `</p>`)
	case doc.Say:
		w.line(`<p class="say">`, esc(b.Text), `</p>`)
	case doc.Facts:
		w.facts(b)
	case doc.Table:
		w.table(b)
	case doc.Figure:
		w.figure(b)
	case doc.Drawing:
		w.trueSize(b)
	case doc.Notice:
		w.notice(b)
	case doc.Working:
		w.working(b)
	case doc.Budget:
		w.budget(b)
	case doc.List:
		w.line(`<ul class="list">`)
		for _, s := range b.Items {
			w.line(`<li>`, esc(s), `</li>`)
		}
		w.line(`</ul>`)
	case doc.Sources:
		w.sources(b)
	case doc.Photos:
		w.line(`<ul class="list">`)
		for _, p := range b.Shots {
			if p.Name != "" {
				w.line(`<li>Photograph: `, esc(p.Caption), `</li>`)
			}
		}
		w.line(`</ul>`)
	case doc.Blanks:
		for _, row := range b.Rows {
			w.put(`<p class="blanks">`)
			for _, label := range row {
				w.put(`<span>`, esc(label), `</span> `)
			}
			w.line(`</p>`)
		}
	}
}

// esc escapes text and attribute values, and drops what a page cannot hold.
func esc(s string) string {
	clean := func(r rune) rune {
		if r < 0x20 && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF {
			return '\uFFFD'
		}
		return r
	}
	return template.HTMLEscapeString(strings.Map(clean, s))
}
