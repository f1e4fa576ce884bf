package pdf

import (
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/theme"
)

// Sizes of type in points.
const (
	titleSize = 20
	leadSize  = 11
	headSize  = 13.5
	saySize   = 13
	bodySize  = 10
	noteSize  = 8.5
)

func (w *writer) document(d doc.Doc) {
	w.para(sideMargin, w.wide(), d.Title, w.serif(d.Title, titleSize))
	if d.Lead != "" {
		w.y++
		w.para(sideMargin, w.wide(), d.Lead, w.soft(leadSize))
	}
	for _, s := range d.Sections {
		w.section(s)
	}
}

// section sets the body, then the margin in smaller type: what can hurt
// first, then how it is known.
func (w *writer) section(s doc.Section) {
	if s.Heading != "" {
		h := w.serif(s.Heading, headSize)
		w.need(6 + h.leading() + w.least(s.Body))
		w.gap(6)
		w.para(sideMargin, w.wide(), s.Heading, h)
	}
	for _, b := range s.Body {
		w.block(b, bodySize)
	}
	var rest []doc.Block
	for _, b := range s.Margin {
		if n, ok := b.(doc.Notice); ok && n.Kind == doc.CautionNotice {
			w.notice(n)
			continue
		}
		rest = append(rest, b)
	}
	if len(rest) == 0 {
		return
	}
	w.need(20)
	w.gap(4)
	w.rule(sideMargin, sideMargin+30, w.y, theme.Soft, 0.15)
	w.y++
	w.para(sideMargin, w.wide(), "How this is known", w.bold(noteSize))
	for _, b := range rest {
		w.block(b, noteSize)
	}
}

// least is the room that must be under a heading for it to stay here.
func (w *writer) least(blocks []doc.Block) float64 {
	if len(blocks) == 0 {
		return 0
	}
	if f, ok := blocks[0].(doc.Figure); ok {
		_, height := w.fit(f)
		return min(height+10, w.low()-headMargin-20)
	}
	return 22
}

func (w *writer) block(b doc.Block, size float64) {
	switch b := b.(type) {
	case doc.Para:
		w.gap(2)
		w.para(sideMargin, w.wide(), b.Text, w.plain(size))
	case doc.Say:
		w.gap(2.5)
		w.para(sideMargin, w.wide(), b.Text, w.serif(b.Text, saySize))
	case doc.Facts:
		w.facts(b)
	case doc.Table:
		w.table(b)
	case doc.Figure:
		w.figure(b)
	case doc.Drawing:
		w.drawing(b)
	case doc.Notice:
		w.notice(b)
	case doc.Working:
		w.working(b)
	case doc.Budget:
		w.budget(b, size)
	case doc.List:
		w.list(b.Items, size)
	case doc.Sources:
		if lines := b.Lines(); len(lines) > 0 {
			w.gap(2)
			w.need(2 * w.bold(noteSize).leading())
			w.para(sideMargin, w.wide(), "Sources", w.bold(noteSize))
			w.list(lines, noteSize)
		}
	case doc.Photos:
		w.photos(b)
	case doc.Blanks:
		w.blanks(b)
	}
}

// drawing says where a drawing is; its sheets have the views and numbers.
func (w *writer) drawing(d doc.Drawing) {
	w.list([]string{"Drawn at true size, on the sheets that follow: " + d.Title + "."}, noteSize)
}

func (w *writer) list(items []string, size float64) {
	w.gap(1.5)
	s := w.plain(size)
	for _, item := range items {
		w.hanging("–", item, sideMargin, 4, s)
	}
}

// hanging sets a mark and a text beside it.
func (w *writer) hanging(mark, text string, x, indent float64, s style) {
	w.need(s.leading())
	from := w.y + s.leading() - 0.3*s.mm()
	w.put(x, from, w.faces.printable(s.face, mark), s)
	w.para(x+indent, w.w-sideMargin-x-indent, text, s)
}

// factColumns is how many facts stand side by side.
const factColumns = 3

// facts stand in rows, as large figures under their labels.
func (w *writer) facts(facts doc.Facts) {
	column := w.wide() / factColumns
	for len(facts) > 0 {
		row := facts[:min(factColumns, len(facts))]
		facts = facts[len(row):]
		height := 0.0
		for _, f := range row {
			height = max(height, w.fact(f, 0, 0, column-5, false))
		}
		w.gap(3)
		w.need(height)
		for i, f := range row {
			w.fact(f, sideMargin+float64(i)*column, w.y, column-5, true)
		}
		w.y += height
	}
}

// fact sets one figure, or only tells how high it is.
func (w *writer) fact(f doc.Fact, x, y, width float64, draw bool) float64 {
	from := y
	f = f.Joined()
	set := func(text string, s style) {
		if text == "" {
			return
		}
		for _, l := range w.lines(text, width, s) {
			y += s.leading()
			if draw {
				w.put(x, y-0.3*s.mm(), l, s)
			}
		}
	}
	set(f.Label, w.soft(noteSize))
	value, unit := w.bold(15), w.soft(bodySize)
	rest := strings.TrimSpace(f.Doubt + " " + f.Unit)
	shown, tail := w.faces.printable(value.face, f.Value), w.faces.printable(unit.face, rest)
	if value.width(shown)+unit.width(" "+tail) > width {
		value.size = 11 // words, not a figure
	}
	if value.width(shown)+unit.width(" "+tail) <= width {
		y += value.leading()
		if draw {
			w.put(x, y-0.3*value.mm(), shown, value)
			w.put(x+value.width(shown+" "), y-0.3*value.mm(), tail, unit)
		}
	} else {
		set(f.Value, value)
		set(rest, unit)
	}
	set(f.Note, w.soft(noteSize))
	return y - from
}

// notice is a framed sentence: a bar at its side, its kind in words.
func (w *writer) notice(n doc.Notice) {
	word, colour := "Note", theme.Soft
	switch n.Kind {
	case doc.DoubtNotice:
		word, colour = "Cannot be told", theme.Brass
	case doc.ClashNotice:
		word, colour = "Does not agree", theme.Bad
	case doc.CautionNotice:
		word, colour = "Danger", theme.Bad
	}
	if n.Title != "" {
		word = strings.TrimRight(n.Title, ".:")
	}
	x, width := float64(sideMargin)+4, w.wide()-4
	body, small := w.plain(bodySize), w.soft(noteSize)
	ref := ""
	if n.Kind == doc.CautionNotice && n.Ref != (cite.Ref{}) {
		ref = n.Ref.String()
	}
	height := float64(len(w.lines(word, width, w.bold(bodySize)))+len(w.lines(n.Text, width, body)))*body.leading() + 2
	for _, more := range []string{n.Next, ref} {
		if more != "" {
			height += float64(len(w.lines(more, width, small))) * small.leading()
		}
	}
	w.gap(3)
	w.need(height)
	from, on := w.y, w.f.PageNo()
	w.para(x, width, word, style{w.faces.bold, bodySize, colour})
	w.para(x, width, n.Text, body)
	for _, more := range []string{n.Next, ref} {
		if more != "" {
			w.para(x, width, more, small)
		}
	}
	if w.f.PageNo() != on {
		from = headMargin
	}
	w.ink(colour, 0.9)
	w.f.Line(sideMargin+1, from+0.5, sideMargin+1, w.y+0.5)
}

func (w *writer) working(k doc.Working) {
	if len(k.Steps) == 0 {
		return
	}
	title := k.Title
	if title == "" {
		title = "Working"
	}
	w.gap(2)
	w.need(14)
	w.para(sideMargin, w.wide(), title, w.bold(noteSize))
	s := w.plain(noteSize)
	for _, step := range k.Steps {
		w.gap(1)
		w.need(2 * s.leading())
		w.para(sideMargin, w.wide(), step.Name, s)
		mark := ""
		for _, part := range []string{step.Formula, step.Numbers, step.Result} {
			if part != "" {
				w.hanging(mark, part, sideMargin+4, 4, s)
				mark = "="
			}
		}
		if step.Ref != (cite.Ref{}) {
			w.para(sideMargin+8, w.wide()-8, step.Ref.String(), w.soft(7.5))
		}
	}
}

func (w *writer) budget(b doc.Budget, size float64) {
	if len(b.Lines) == 0 {
		return
	}
	t := doc.Table{Caption: "The doubt in " + b.Of + " comes from", Columns: []doc.Column{{Head: "Input"}, {Head: "Share", Unit: "per cent", Number: true}}}
	for _, l := range b.Lines {
		t.Rows = append(t.Rows, []string{l.Input, share(l.Percent)})
	}
	w.table(t)
}

// blanks are lines for a pen, with room to write above them.
func (w *writer) blanks(b doc.Blanks) {
	s := w.soft(noteSize)
	const room, apart = 15, 8
	w.need(float64(len(b.Rows)) * (room + s.leading()))
	for _, row := range b.Rows {
		w.need(room + s.leading())
		w.y += room
		width := (w.wide() - apart*float64(len(row)-1)) / float64(len(row))
		for i, label := range row {
			x := sideMargin + float64(i)*(width+apart)
			w.rule(x, x+width, w.y, theme.Ink, 0.25)
			w.put(x, w.y+s.leading()-0.3*s.mm(), cut(w.faces.printable(s.face, label), width, s), s)
		}
		w.y += s.leading()
	}
}
