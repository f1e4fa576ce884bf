package web

import (
	"fmt"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/front/desk"
	"seatboard/internal/front/form"
	"seatboard/internal/shop"
)

// changeWords names what was changed: "Drive: Line diameter". What is in no form
// keeps the name that the records have for it.
func changeWords(c job.Change) string {
	if words := formWords(c); words != "" {
		return words
	}
	return c.Record + ": " + c.Field
}

// differWords is changeWords on a page of that record alone.
func differWords(c job.Change) string {
	if words := formWords(c); words != "" {
		return words
	}
	return c.Field
}

// formWords names what was changed as its form does, "" where none has it.
func formWords(c job.Change) string {
	if part, ok := strings.CutPrefix(c.Record, "survey/"); ok {
		if found, ok := desk.Find(part); ok {
			return found.Title + ": " + surveyField(found.Begin().Form, c.Field)
		}
	}
	if c.Record == "intervention" {
		return deedWords(c.Field)
	}
	field := c.Field
	if c.Record == "owner" {
		field = "owner." + field
	}
	for _, g := range recordGroups(new(job.Clock)) {
		for _, f := range g.Fields {
			if f.Name == field {
				return f.Label
			}
		}
	}
	n, name, ok := strings.Cut(c.Field, ".")
	if ok && (c.Record == "holder" || c.Record == "piece") {
		if name == job.RemovedField {
			return fmt.Sprintf("%s %s: struck out", listWords(c.Record), n)
		}
		for _, row := range [][]listRow{holderRows(job.Clock{}), pieceRows(job.Clock{})} {
			for _, cell := range row[0].Cells {
				if of, last, _ := strings.Cut(cell.Name, "[0]."); of == c.Record+"s" && last == name {
					return fmt.Sprintf("%s %s: %s", listWords(c.Record), n, cell.Label)
				}
			}
		}
	}
	switch {
	case c.Record == "clock" && c.Field == "stage":
		return "Where it is"
	case c.Record == "clock" && c.Field == job.CreatedField:
		return "Taken into the book"
	case c.Record == "clock" && c.Field == job.ImportedField:
		return "Brought in from a file"
	case c.Record == "clock" && c.Field == job.RemovedField:
		return "Taken out of the book"
	}
	return ""
}

// deedWords names a field of an intervention as its form does.
func deedWords(field string) string {
	f := deedFormOf(nil, nil, nil, shop.Originality{}, nil)
	for _, x := range append(f.First, f.Rest...) {
		if x.Name == field {
			return x.Label
		}
	}
	switch field {
	case "undo":
		return "Can it be undone"
	case "before", "after":
		return "Photographs from " + field
	case "struck":
		return "Struck out"
	}
	return field
}

// listWords is one row of a list of the record.
func listWords(record string) string {
	if record == "holder" {
		return "Whose it was"
	}
	return "Loose piece"
}

// surveyField is the label of a field of a survey, or of a cell of its table:
// "Wheel, teeth, arbor 5".
func surveyField(f form.Form, name string) string {
	for _, fd := range f.Fields() {
		if fd.Name == name {
			return fd.Label
		}
		cell := strings.Split(name, ".")
		if fd.Kind != form.Grid || len(cell) != 3 || cell[0] != fd.Name {
			continue
		}
		for _, col := range fd.Columns {
			if col.Name == cell[2] {
				return fmt.Sprintf("%s, arbor %s", col.Label, cell[1])
			}
		}
	}
	return name
}
