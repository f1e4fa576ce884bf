package pdf

import (
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/theme"
)

// Room of a table's cells in millimetres.
const (
	cellApart = 4   // between columns
	cellAbove = 0.8 // and as much below
)

// column is one column as it is set.
type column struct {
	x, width float64
	right    bool
}

// table sets a table. Its head stands again on every page; a row is cut only
// if it is higher than a page.
func (w *writer) table(t doc.Table) {
	if len(t.Columns) == 0 {
		return
	}
	heads := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		heads[i] = c.Head
		if c.Unit != "" {
			heads[i] += ", " + c.Unit
		}
	}
	columns := w.columns(t, heads)
	body, head := w.plain(tableSize), w.soft(noteSize)
	w.gap(4)
	top := w.rowHeight(columns, heads, head)
	first := 0.0
	if len(t.Rows) > 0 {
		first = min(w.rowHeight(columns, t.Rows[0], body), w.low()/2)
	}
	caption := w.bold(bodySize)
	w.need(float64(len(w.lines(t.Caption, w.wide(), caption)))*caption.leading() + top + first)
	if t.Caption != "" {
		w.para(sideMargin, w.wide(), t.Caption, caption)
	}
	w.row(columns, heads, head, theme.Ink)
	for _, r := range t.Rows {
		height := w.rowHeight(columns, r, body)
		if w.y+min(height, w.low()-headMargin-top) > w.low() {
			w.page()
			w.row(columns, heads, head, theme.Ink)
		}
		w.tallRow(columns, heads, r, body)
	}
	if t.Note != "" {
		w.y++
		w.para(sideMargin, w.wide(), t.Note, w.soft(noteSize))
	}
}

const tableSize = 9

// columns shares the width out: what each wants if all have room, and
// otherwise its longest word at least and the rest in proportion.
func (w *writer) columns(t doc.Table, heads []string) []column {
	n := len(t.Columns)
	want, least := make([]float64, n), make([]float64, n)
	measure := func(i int, text string, s style) {
		for _, l := range w.lines(text, 1e6, s) {
			want[i] = max(want[i], s.width(l))
		}
		for _, word := range strings.Fields(text) {
			least[i] = max(least[i], s.width(w.faces.printable(s.face, word)))
		}
	}
	for i := range t.Columns {
		measure(i, heads[i], w.soft(noteSize))
		for _, r := range t.Rows {
			if i < len(r) {
				measure(i, r[i], w.plain(tableSize))
			}
		}
		least[i] = min(least[i], 40)
	}
	out := make([]column, n)
	x := float64(sideMargin)
	for i, width := range shared(want, least, w.wide()-cellApart*float64(n-1)) {
		out[i] = column{x: x, width: width, right: t.Columns[i].Number}
		x += width + cellApart
	}
	return out
}

// shared gives a column that wants no more than its even part what it wants;
// the others have their least and a share of what is left over.
func shared(want, least []float64, room float64) []float64 {
	out := slices.Clone(want)
	open := make([]int, len(want))
	for i := range want {
		open[i] = i
	}
	for {
		even := room / float64(max(len(open), 1))
		rest := slices.DeleteFunc(slices.Clone(open), func(i int) bool { return want[i] <= even })
		if len(rest) == len(open) {
			break
		}
		for _, i := range open {
			if want[i] <= even {
				room -= want[i]
			}
		}
		open = rest
	}
	sumWant, sumLeast := 0.0, 0.0
	for _, i := range open {
		sumWant, sumLeast = sumWant+want[i], sumLeast+least[i]
	}
	for _, i := range open {
		if sumLeast >= room {
			out[i] = least[i] * room / sumLeast
		} else {
			out[i] = least[i] + (want[i]-least[i])*(room-sumLeast)/(sumWant-sumLeast)
		}
	}
	return out
}

func (w *writer) rowLines(columns []column, cells []string, s style) (all [][]string, most int) {
	all = make([][]string, len(columns))
	for i, c := range columns {
		if i < len(cells) {
			all[i] = w.lines(cells[i], c.width, s)
		}
		most = max(most, len(all[i]))
	}
	return all, most
}

func (w *writer) rowHeight(columns []column, cells []string, s style) float64 {
	_, n := w.rowLines(columns, cells, s)
	return float64(n)*s.leading() + 2*cellAbove
}

func (w *writer) row(columns []column, cells []string, s style, colour string) {
	all, n := w.rowLines(columns, cells, s)
	w.setLines(columns, all, n, s, colour)
}

// tallRow sets a row that may have to go over pages.
func (w *writer) tallRow(columns []column, heads, cells []string, s style) {
	all, n := w.rowLines(columns, cells, s)
	for {
		fit := int((w.low() - w.y - 2*cellAbove) / s.leading())
		if n <= fit {
			w.setLines(columns, all, n, s, theme.Soft)
			return
		}
		fit = max(fit, 1)
		part := make([][]string, len(all))
		for i, lines := range all {
			k := min(fit, len(lines))
			part[i], all[i] = lines[:k], lines[k:]
		}
		w.setLines(columns, part, fit, s, theme.Soft)
		n -= fit
		w.page()
		w.row(columns, heads, w.soft(noteSize), theme.Ink)
	}
}

func (w *writer) setLines(columns []column, all [][]string, n int, s style, colour string) {
	for i, c := range columns {
		for j, l := range all[i] {
			x := c.x
			if c.right {
				x += c.width - s.width(l)
			}
			w.put(x, w.y+cellAbove+float64(j+1)*s.leading()-0.3*s.mm(), l, s)
		}
	}
	w.y += float64(n)*s.leading() + 2*cellAbove
	width := 0.1
	if colour == theme.Ink {
		width = 0.3
	}
	last := columns[len(columns)-1]
	w.rule(sideMargin, last.x+last.width, w.y, colour, width)
}

// share is a part of a hundred in whole numbers; less than one is said so.
func share(percent float64) string {
	if percent < 1 {
		return "< 1"
	}
	return strconv.Itoa(int(percent + 0.5))
}

// longTable is the number of rows up to which a figure's numbers are printed
// with it.
const longTable = 40

// fit is how a figure is placed: its drawing, made for a wide page, at its own
// size or as much smaller as the sheet wants.
func (w *writer) fit(f doc.Figure) (k, height float64) {
	k = mmPerPx
	if f.Wide.Scale == pic.TrueSize {
		k = 1
	}
	if f.Wide.W > 0 && f.Wide.H > 0 {
		k = min(k, w.wide()/f.Wide.W, (w.low()-headMargin-24)/f.Wide.H)
	}
	return k, k * f.Wide.H
}

// figure sets a drawing with its caption under it, and its numbers.
func (w *writer) figure(f doc.Figure) {
	caption := w.soft(noteSize)
	lines := w.lines(f.Caption, w.wide(), caption)
	k, height := w.fit(f)
	w.gap(4)
	w.need(height + float64(len(lines))*caption.leading() + 2)
	px := k
	if f.Wide.Scale == pic.TrueSize {
		px = k * mmPerPx
	}
	placed{w: w, x: sideMargin, y: w.y, k: k, px: px}.items(f.Wide.Items)
	w.y += height + 1
	w.para(sideMargin, w.wide(), f.Caption, caption)
	if f.Numbers == nil {
		return
	}
	if n := len(f.Numbers.Rows); n > longTable {
		w.para(sideMargin, w.wide(), "The numbers of this figure, "+strconv.Itoa(n)+" rows, are in its CSV file.", caption)
		return
	}
	w.table(*f.Numbers)
}
