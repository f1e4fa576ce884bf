package text

import (
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/kit/doc"
)

// table sets a caption, heads with their units, a rule and the rows; columns
// of numbers stand right. Where it is wider than the line, the widest columns
// of words are folded.
func (w *writer) table(t doc.Table) {
	heads := make([]string, len(t.Columns))
	widths := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		heads[i] = c.Head
		if c.Unit != "" {
			heads[i] += ", " + c.Unit
		}
		widths[i] = width(heads[i])
		for _, r := range t.Rows {
			if i < len(r) {
				widths[i] = max(widths[i], width(r[i]))
			}
		}
	}
	fit(t.Columns, heads, widths, w.o.Width)
	w.space()
	if t.Caption != "" {
		w.line(w.paint(bold, t.Caption))
	}
	w.row(t.Columns, heads, widths)
	total := 0
	for _, n := range widths {
		total += n + 2
	}
	w.line(strings.Repeat("─", max(total-2, 0)))
	for _, r := range t.Rows {
		w.row(t.Columns, r, widths)
	}
	if t.Note != "" {
		w.para(t.Note, "")
	}
}

// narrowest is the least width that a folded column has.
const narrowest = 12

// fit takes from the widest columns of words until the row is as wide as the
// line; a table that cannot be is left alone.
func fit(columns []doc.Column, heads []string, wanted []int, line int) {
	widths := slices.Clone(wanted)
	for over := -2 - line; ; over = -2 - line {
		widest := -1
		for i, n := range widths {
			over += n + 2
			if !columns[i].Number && n > max(narrowest, width(heads[i])) && (widest < 0 || n > widths[widest]) {
				widest = i
			}
		}
		if over <= 0 {
			copy(wanted, widths)
			return
		}
		if widest < 0 {
			return
		}
		widths[widest]--
	}
}

// row sets one row on as many lines as its folded cells need.
func (w *writer) row(columns []doc.Column, cells []string, widths []int) {
	folded := make([][]string, len(cells))
	lines := 1
	for i, c := range cells {
		folded[i] = []string{c}
		if i < len(widths) && width(c) > widths[i] {
			folded[i] = wrap(c, widths[i])
		}
		lines = max(lines, len(folded[i]))
	}
	for n := range lines {
		part := make([]string, len(cells))
		for i, f := range folded {
			if n < len(f) {
				part[i] = f[n]
			}
		}
		w.line(setRow(columns, part, widths))
	}
}

func setRow(columns []doc.Column, cells []string, widths []int) string {
	var b strings.Builder
	for i, c := range columns {
		cell := ""
		if i < len(cells) {
			cell = cells[i]
		}
		if i > 0 {
			b.WriteString("  ")
		}
		if c.Number {
			b.WriteString(strings.Repeat(" ", max(widths[i]-width(cell), 0)) + cell)
			continue
		}
		b.WriteString(pad(cell, widths[i]))
	}
	return b.String()
}

// percent is a share set right in four columns.
func percent(x float64) string {
	s := strconv.FormatFloat(x, 'f', 0, 64) + " %"
	return strings.Repeat(" ", max(6-len(s), 0)) + s
}
