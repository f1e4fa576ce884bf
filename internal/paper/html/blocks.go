package html

import (
	"strconv"
	"strings"
	"unicode"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/svg"
)

func (w *writer) facts(facts doc.Facts) {
	w.line(`<dl class="facts">`)
	for _, f := range facts {
		f = f.Joined()
		class := "v"
		if words(f.Value) {
			class = "v words"
		}
		w.put(`<div><dt>`, esc(f.Label), `</dt><dd><span class="`, class, `">`, esc(f.Value), `</span>`)
		if f.Doubt != "" {
			w.put(` <span class="u">`, esc(f.Doubt), `</span>`)
		}
		if f.Unit != "" {
			w.put(` <span class="u">`, esc(f.Unit), `</span>`)
		}
		w.put(`</dd>`)
		if f.Note != "" {
			w.put(`<dd class="note">`, esc(f.Note), `</dd>`)
		}
		w.line(`</div>`)
	}
	w.line(`</dl>`)
}

// words tells a sentence from a figure.
func words(s string) bool {
	letters := 0
	for _, r := range s {
		if unicode.IsLetter(r) {
			letters++
		}
	}
	return letters > 6
}

// wideTable is the number of columns from which a table may be broader than
// a phone and is put in a strip that can be moved sideways.
const wideTable = 4

func (w *writer) table(t doc.Table) {
	id := w.next()
	wordy := inWords(t)
	strip := len(t.Columns) >= wideTable && !wordy
	if strip {
		w.line(`<div class="strip" tabindex="0" role="group" aria-labelledby="`, esc(id), `">`)
	}
	if wordy { // on a phone its rows become blocks; the roles keep it a table
		w.line(`<table class="wordy" role="table">`)
	} else {
		w.line(`<table>`)
	}
	w.line(`<caption id="`, esc(id), `">`, esc(t.Caption), `</caption>`)
	w.put(`<thead><tr>`)
	for _, c := range t.Columns {
		w.put(`<th scope="col"`, number(c.Number), `>`, esc(c.Head))
		if c.Unit != "" {
			w.put(`<span class="u">, `, esc(c.Unit), `</span>`)
		}
		w.put(`</th>`)
	}
	w.line(`</tr></thead>`)
	w.line(`<tbody>`)
	for _, row := range t.Rows {
		w.row(t.Columns, row, wordy)
	}
	w.line(`</tbody></table>`)
	if strip {
		w.line(`</div>`)
	}
	if t.Note != "" {
		w.line(`<p class="tnote">`, esc(t.Note), `</p>`)
	}
}

// inWords tells whether a broad table has more words than numbers.
func inWords(t doc.Table) bool {
	words := 0
	for _, c := range t.Columns {
		if !c.Number {
			words++
		}
	}
	return len(t.Columns) >= wideTable && 2*words >= len(t.Columns)
}

func (w *writer) row(columns []doc.Column, cells []string, wordy bool) {
	if wordy {
		w.put(`<tr role="row">`)
	} else {
		w.put(`<tr>`)
	}
	for i, c := range columns {
		cell := ""
		if i < len(cells) {
			cell = cells[i]
		}
		tag, attrs := "td", ""
		if i == 0 && cell != "" { // an empty heading heads nothing
			tag, attrs = "th", ` scope="row"`
		}
		if wordy {
			role := "cell"
			if tag == "th" {
				role = "rowheader"
			}
			attrs += ` role="` + role + `" data-label="` + esc(c.Head) + `"`
		}
		w.put(`<`, tag, attrs, number(c.Number), `>`, esc(cell), `</`, tag, `>`)
	}
	w.line(`</tr>`)
}

func number(yes bool) string {
	if yes {
		return ` class="num"`
	}
	return ""
}

// figure writes both drawings, the caption, the table and the downloads.
func (w *writer) figure(f doc.Figure) {
	id := w.next()
	w.line(`<div class="plate">`)
	w.line(`<figure>`)
	wide, narrow := f.Wide.W > 0, f.Narrow.W > 0
	if wide {
		w.drawing(f.Wide, id+"-w", "wide", narrow)
	}
	if narrow {
		w.drawing(f.Narrow, id+"-n", "narrow", wide)
	}
	if f.Caption != "" {
		w.line(`<figcaption>`, esc(f.Caption), `</figcaption>`)
	}
	w.line(`</figure>`)
	w.choices(f)
	w.tools(f)
	w.line(`</div>`)
}

// choices are links to the other things the figure could show.
func (w *writer) choices(f doc.Figure) {
	if w.o.Choose == nil || len(f.Choices) < 2 {
		return
	}
	w.line(`<div class="choices" role="group" aria-label="`, esc(first(f.Caption, f.Name)), `">`)
	for _, c := range f.Choices {
		current := ""
		if c.Chosen {
			current = ` aria-current="true"`
		}
		w.line(`<a href="`, esc(w.o.Choose(c.Value)), `"`, current, `>`, esc(c.Words), `</a>`)
	}
	w.line(`</div>`)
}

// drawing is one of the two; where there is no other it is shown everywhere.
func (w *writer) drawing(p pic.Picture, id, width string, other bool) {
	class := "drawing"
	if other {
		class += " " + width
	}
	w.line(`<div class="`, class, `">`, svg.Inline(p, svg.Placed{ID: id}), `</div>`)
}

// tools is the row under a figure: the same numbers, and the downloads.
func (w *writer) tools(f doc.Figure) {
	var links []Link
	if w.o.Links != nil {
		links = w.o.Links(f.Name)
	}
	if f.Numbers == nil && len(links) == 0 {
		return
	}
	about := `<span class="visually-hidden">: ` + esc(first(f.Caption, f.Wide.Title, f.Name)) + `</span>`
	w.line(`<div class="tools">`)
	for _, l := range links {
		w.line(`<a href="`, esc(l.Href), `">`, esc(l.Text), about, `</a>`)
	}
	if f.Numbers != nil {
		w.line(`<details><summary>Table`, about, `</summary>`)
		w.table(*f.Numbers)
		w.line(`</details>`)
	}
	w.line(`</div>`)
}

func first(candidates ...string) string {
	for _, s := range candidates {
		if s != "" {
			return s
		}
	}
	return ""
}

// notice is a sentence that begins with a word for its kind, so that colour
// is never alone.
func (w *writer) notice(n doc.Notice) {
	kinds := [...]struct{ class, word string }{
		doc.NoteNotice:    {"note", "Note"},
		doc.DoubtNotice:   {"doubt", "Cannot be told"},
		doc.ClashNotice:   {"clash", "Does not agree"},
		doc.CautionNotice: {"caution", "Danger"},
	}
	kind := kinds[doc.NoteNotice]
	if int(n.Kind) < len(kinds) {
		kind = kinds[n.Kind]
	}
	w.line(`<div class="notice `, kind.class, `">`)
	w.line(`<p><strong>`, esc(stopped(first(n.Title, kind.word))), `</strong> `, esc(n.Text), `</p>`)
	if n.Next != "" {
		w.line(`<p class="next">`, esc(n.Next), `</p>`)
	}
	if s := reference(n.Ref); s != "" {
		w.line(`<p class="authority">`, esc(s), `</p>`)
	}
	w.line(`</div>`)
}

// stopped ends a heading within a paragraph with a full stop.
func stopped(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".:!?") {
		return s
	}
	return s + "."
}

// reference is a source in words, "" where none is named.
func reference(r cite.Ref) string {
	if r == (cite.Ref{}) {
		return ""
	}
	return r.String()
}

func (w *writer) working(k doc.Working) {
	if len(k.Steps) == 0 {
		return
	}
	open := ""
	if w.o.Open {
		open = ` open="open"`
	}
	w.line(`<details class="working"`, open, `><summary>`, esc(first(k.Title, "Working")), `</summary>`)
	w.line(`<ol>`)
	for _, s := range k.Steps {
		w.put(`<li><span class="step">`, esc(s.Name), `</span><span class="sum">`, sum(s), `</span>`)
		if ref := reference(s.Ref); ref != "" {
			w.put(`<span class="source">`, esc(ref), `</span>`)
		}
		w.line(`</li>`)
	}
	w.line(`</ol>`)
	w.line(`</details>`)
}

// sum is the formula, the numbers put in and the result, each with the equals
// sign before it, so that a narrow column breaks the line there.
func sum(s cite.Step) string {
	var parts []string
	for _, p := range []string{s.Formula, s.Numbers, s.Result} {
		if p == "" {
			continue
		}
		equals := ""
		if len(parts) > 0 {
			equals = "=\u00a0"
		}
		parts = append(parts, `<span>`+equals+esc(p)+`</span>`)
	}
	return strings.Join(parts, " ")
}

// budget lists the shares with a rule as long as each.
func (w *writer) budget(b doc.Budget) {
	if len(b.Lines) == 0 {
		return
	}
	w.line(`<div class="budget">`)
	w.heading(1, "", "Measure again")
	w.line(`<p>The doubt in `, esc(b.Of), ` comes from</p>`)
	w.line(`<ul>`)
	for _, l := range b.Lines {
		share := strconv.FormatFloat(min(max(l.Percent, 0), 100), 'f', 0, 64)
		w.line(`<li><span>`, esc(l.Input), `</span> <span class="num">`, share, "\u00a0%</span>",
			`<svg class="share" width="`, share, `%" height="3" aria-hidden="true"><rect width="100%" height="3"/></svg></li>`)
	}
	w.line(`</ul>`)
	w.line(`</div>`)
}

// sources lists the works with their places.
func (w *writer) sources(s doc.Sources) {
	lines := s.Lines()
	if len(lines) == 0 {
		return
	}
	w.line(`<details class="sources"><summary>Sources</summary>`)
	w.line(`<ul>`)
	for _, l := range lines {
		w.line(`<li>`, esc(l), `</li>`)
	}
	w.line(`</ul>`)
	w.line(`</details>`)
}
