// Package csv writes a table of a document for a spreadsheet: RFC 4180, UTF-8,
// one heading line with units, a point as decimal mark.
//
// A cell that a spreadsheet would run as a formula (it starts with = + - @, a
// tab or a carriage return, or their full-width forms, and is not a number)
// gets an apostrophe in front, which spreadsheets show as plain text.
package csv

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"seatboard/internal/kit/doc"
)

// Write writes the table.
func Write(w io.Writer, t doc.Table) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	head := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = c.Head
		if c.Unit != "" {
			head[i] += " (" + c.Unit + ")"
		}
		head[i] = Cell(head[i])
	}
	if err := out.Write(head); err != nil {
		return err
	}
	for _, r := range t.Rows {
		row := make([]string, len(r))
		for i, s := range r {
			row[i] = Cell(s)
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Cell is a text as it may safely stand in a spreadsheet: a typeset number as
// a plain one, anything that looks like a formula as text.
func Cell(s string) string {
	plain := strings.ReplaceAll(strings.ReplaceAll(s, "−", "-"), "\u00a0", " ")
	if _, err := strconv.ParseFloat(plain, 64); err == nil {
		return plain
	}
	plain = strings.ReplaceAll(s, "\x00", "")
	for _, p := range []string{"=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(plain, p) {
			return "'" + plain
		}
	}
	return plain
}
