// Package form declares the inputs of a calculation once. The command line
// makes flags of the declaration, the page makes labelled fields of it; both
// read what was typed with the same parser and answer with the same sentence.
//
// A declaration points into a query:
//
//	func Pendulum(q *pendulum.Query) form.Form {
//		return form.Form{Name: "pendulum", Groups: []form.Group{{
//			Legend: "What is known",
//			Fields: []form.Field{
//				form.Quantity("length", "Length to the centre of swing", "mm", &q.Length),
//				form.Choice("bob", "Shape of the bob", &q.Bob, form.Option{"lens", "Lens"}),
//			},
//		}}}
//	}
//
// [Form.Fill] reads typed values into the query and returns every mistake at
// once; a field left empty leaves its target as the zero value. What was
// typed is kept by the caller, who shows it again beside the mistakes.
//
// There are four kinds of field: a line of text, a text of several lines, a
// choice of words, and a grid (a table to type into, whose cells
// are named field.row.column with rows counted from 1). A list is a text with
// one entry on a line. Record pages that need more are made by hand.
package form

import (
	"encoding"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Form is the inputs of one calculation.
type Form struct {
	Name   string
	Groups []Group
}

// Group is fields under one legend.
type Group struct {
	Legend string
	Hint   string
	Fields []Field
	Folded bool // less often needed: the page shows it closed while it is empty
}

// Kind is how a field is typed.
type Kind uint8

// The kinds of field.
const (
	Line Kind = iota
	Area
	Select
	Grid
)

// Option is one word of a choice.
type Option struct{ Value, Label string }

// Column is a column of a grid.
type Column struct {
	Name, Label, Unit string
	Size              int
}

// Field is one input.
type Field struct {
	Name    string // flag and field name: "rod-diameter"
	Label   string // "Diameter of the rod", sentence case, no colon
	Hint    string // one short sentence, may be empty
	Unit    string // what a bare number is taken in, shown behind the box
	Kind    Kind
	Options []Option // of a Select
	Columns []Column // of a Grid
	Rows    int      // least rows of a Grid that are shown
	Size    int      // characters the box has room for
	Arg     bool     // on the command line the plain arguments are this field
	File    bool     // and name a file that holds it
	Command bool     // for the command line; a page has a better way and shows it only where it is filled in

	set  func(string) error
	rows func([][]string) meas.Faults
}

// Hinted adds a hint.
func (f Field) Hinted(hint string) Field { f.Hint = hint; return f }

// Sized sets the room of the box in characters.
func (f Field) Sized(n int) Field { f.Size = n; return f }

// AsArg makes the plain arguments of the command the value of this field.
func (f Field) AsArg() Field { f.Arg = true; return f }

// ForCommands marks a field that a page has a better way for.
func (f Field) ForCommands() Field { f.Command = true; return f }

// Quantity is a measured quantity; symbol is the unit of a bare number.
func Quantity[Q unit.Quantity](name, label, symbol string, target *meas.Reading[Q]) Field {
	return Field{Name: name, Label: label, Unit: symbol, Size: 15, set: func(s string) error {
		r, err := meas.Parse[Q](s, symbol)
		if err != nil {
			return err
		}
		*target = r
		return nil
	}}
}

// Text is free text on one line.
func Text(name, label string, target *string) Field {
	return Field{Name: name, Label: label, Size: 30, set: func(s string) error {
		*target = s
		return nil
	}}
}

// Parsed is a text with its own grammar; its errors are sentences.
func Parsed(name, label string, target encoding.TextUnmarshaler) Field {
	return Field{Name: name, Label: label, Size: 30, set: func(s string) error {
		return target.UnmarshalText([]byte(s))
	}}
}

// ParsedArea is Parsed over several lines.
func ParsedArea(name, label string, target encoding.TextUnmarshaler) Field {
	f := Parsed(name, label, target)
	f.Kind = Area
	return f
}

// Choice is one of several words; "" where none was chosen.
func Choice[S ~string](name, label string, target *S, options ...Option) Field {
	return Field{Name: name, Label: label, Kind: Select, Options: options, set: func(s string) error {
		var known []string
		for _, o := range options {
			if strings.EqualFold(o.Value, s) || strings.EqualFold(o.Label, s) {
				*target = S(o.Value)
				return nil
			}
			known = append(known, o.Value)
		}
		return fmt.Errorf("“%s” is not one of %s", meas.Clip(s), strings.Join(known, ", "))
	}}
}

// Whole is a whole number from least to most.
func Whole[I ~int](name, label string, target *I, least, most int) Field {
	return Field{Name: name, Label: label, Size: 5, set: func(s string) error {
		n, err := strconv.Atoi(s)
		if err != nil || n < least || n > most {
			return fmt.Errorf("“%s” must be a whole number from %d to %d", meas.Clip(s), least, most)
		}
		*target = I(n)
		return nil
	}}
}

// Table is a grid; set gets the cells of all rows up to the last one that is
// not empty, and answers with mistakes whose Field is a cell name made by
// CellName.
func Table(name, label string, least int, columns []Column, set func(rows [][]string) meas.Faults) Field {
	return Field{Name: name, Label: label, Kind: Grid, Rows: least, Columns: columns, rows: set}
}

// CellName is the name of a grid's cell; rows count from 1.
func CellName(field string, row int, column string) string {
	return field + "." + strconv.Itoa(row) + "." + column
}

// maxRows bounds what a hostile form can ask for.
const maxRows = 64

// Fill reads typed values into the query behind the form. Several values of
// one field count as lines. It returns all mistakes, in the order of the form.
func (f Form) Fill(values map[string][]string) meas.Faults {
	var faults meas.Faults
	for _, fd := range f.Fields() {
		if fd.Kind == Grid {
			faults = append(faults, fd.fillGrid(values)...)
			continue
		}
		s := strings.TrimSpace(strings.Join(values[fd.Name], "\n"))
		if s == "" {
			continue
		}
		if err := fd.set(s); err != nil {
			faults = append(faults, fd.faults(err)...)
		}
	}
	return faults
}

// faults names the field in each mistake.
func (f Field) faults(err error) meas.Faults {
	var many meas.Faults
	if errors.As(err, &many) {
		out := make(meas.Faults, len(many))
		for i, m := range many {
			out[i] = meas.Fault{Field: f.Name, Text: f.Label + ": " + m.Text}
		}
		return out
	}
	return meas.Faults{{Field: f.Name, Text: f.Label + ": " + err.Error()}}
}

func (f Field) fillGrid(values map[string][]string) meas.Faults {
	rows := f.Cells(values)
	if len(rows) == 0 || f.rows == nil {
		return nil
	}
	return f.rows(rows)
}

// Cells gathers the typed cells of a grid, without empty rows at the end.
func (f Field) Cells(values map[string][]string) [][]string {
	var rows [][]string
	used := 0
	for r := 1; r <= maxRows; r++ {
		row := make([]string, len(f.Columns))
		for c, col := range f.Columns {
			row[c] = strings.TrimSpace(strings.Join(values[CellName(f.Name, r, col.Name)], " "))
			if row[c] != "" {
				used = r
			}
		}
		rows = append(rows, row)
	}
	return rows[:used]
}

// Fields lists the fields of all groups in order.
func (f Form) Fields() []Field {
	var all []Field
	for _, g := range f.Groups {
		all = append(all, g.Fields...)
	}
	return all
}

// Names lists every value name the form knows that stands in values, in no
// promised order: what is kept of a posted form.
func (f Form) Names(values map[string][]string) []string {
	var names []string
	for _, fd := range f.Fields() {
		if fd.Kind != Grid {
			if _, ok := values[fd.Name]; ok {
				names = append(names, fd.Name)
			}
			continue
		}
		for r := 1; r <= maxRows; r++ {
			for _, c := range fd.Columns {
				if _, ok := values[CellName(fd.Name, r, c.Name)]; ok {
					names = append(names, CellName(fd.Name, r, c.Name))
				}
			}
		}
	}
	return names
}

// Known keeps the values that the form has fields for and drops the rest.
func (f Form) Known(values map[string][]string) map[string][]string {
	out := map[string][]string{}
	for _, n := range f.Names(values) {
		for _, v := range values[n] {
			if strings.TrimSpace(v) != "" {
				out[n] = append(out[n], v)
			}
		}
	}
	return out
}
