package web

import (
	"strings"

	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
)

// formView is a declared form with what was typed and the mistakes.
type formView struct {
	Groups []groupView
}

type groupView struct {
	form.Group
	Open   bool
	Fields []fieldView
}

// fieldView is one field as the page shows it.
type fieldView struct {
	form.Field
	Value   string
	Error   string
	Options []optionView
	Grid    *gridView
	List    string // id of the words proposed, "" for none
}

// Describes lists the ids that describe the field to a screen reader.
func (f fieldView) Describes() string {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, fieldID(f.Name)+"-hint")
	}
	if f.Error != "" {
		ids = append(ids, fieldID(f.Name)+"-error")
	}
	return strings.Join(ids, " ")
}

// IsArea tells whether it is typed on several lines.
func (f fieldView) IsArea() bool { return f.Kind == form.Area }

// IsChoice tells whether it is chosen from words.
func (f fieldView) IsChoice() bool { return f.Kind == form.Select }

// Across tells whether it takes the whole width.
func (f fieldView) Across() bool { return f.Arg || f.IsArea() }

type optionView struct {
	Value, Label string
	Chosen       bool
}

// gridView is a table to type into.
type gridView struct {
	Columns []form.Column
	Rows    [][]cellView
}

type cellView struct {
	Name, Label, Unit, Value, Error string
	Size                            int
}

const spareGridRows = 1

// viewOf lays out a form with what was typed.
func viewOf(f form.Form, values map[string][]string, faults meas.Faults) formView {
	var v formView
	for _, g := range f.Groups {
		gv := groupView{Group: g, Open: !g.Folded}
		for _, fd := range g.Fields {
			x := fieldOf(fd, values, faults)
			if fd.Command && x.Value == "" && x.Error == "" {
				continue
			}
			gv.Open = gv.Open || x.Value != "" || x.Error != "" || (x.Grid != nil && len(fd.Cells(values)) > 0)
			gv.Fields = append(gv.Fields, x)
		}
		v.Groups = append(v.Groups, gv)
	}
	return v
}

func fieldOf(fd form.Field, values map[string][]string, faults meas.Faults) fieldView {
	x := fieldView{Field: fd, Value: strings.Join(values[fd.Name], "\n"), Error: faultOf(faults, fd.Name)}
	for _, o := range fd.Options {
		x.Options = append(x.Options, optionView{o.Value, o.Label, strings.EqualFold(o.Value, strings.TrimSpace(x.Value))})
	}
	if fd.Kind == form.Grid {
		x.Grid = gridOf(fd, values, faults)
	}
	return x
}

// gridOf lays out the cells: all that hold something, the least number of
// rows, and a spare one.
func gridOf(fd form.Field, values map[string][]string, faults meas.Faults) *gridView {
	g := &gridView{Columns: fd.Columns}
	rows := max(fd.Rows, len(fd.Cells(values))+spareGridRows)
	for r := 1; r <= rows; r++ {
		var row []cellView
		for _, c := range fd.Columns {
			name := form.CellName(fd.Name, r, c.Name)
			row = append(row, cellView{Name: name, Label: c.Label, Unit: c.Unit, Size: c.Size,
				Value: strings.Join(values[name], " "), Error: faultOf(faults, name)})
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}
