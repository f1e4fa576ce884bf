package text

import (
	"strconv"
	"strings"

	"seatboard/internal/kit/doc"
)

// table sets a caption, heads with their units, a rule and the rows; columns
// of numbers stand right.
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
	w.space()
	if t.Caption != "" {
		w.line(w.paint(bold, t.Caption))
	}
	w.line(setRow(t.Columns, heads, widths))
	total := 0
	for _, n := range widths {
		total += n + 2
	}
	w.line(strings.Repeat("─", max(total-2, 0)))
	for _, r := range t.Rows {
		w.line(setRow(t.Columns, r, widths))
	}
	if t.Note != "" {
		w.para(t.Note, "")
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
