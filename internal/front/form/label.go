package form

import "seatboard/internal/book/label"

// Label declares the measures of a sheet of labels or a tape.
func Label(p *label.Profile) Form {
	return Form{Name: "label", Groups: []Group{
		{Legend: "The sheet or tape", Fields: []Field{
			Text("name", "Name", &p.Name).Hinted("As you call it; an old name is saved anew").Sized(36),
			Choice("kind", "Printed on", &p.Kind, Option{string(label.Sheet), "Sheets with labels in rows and columns"}, Option{string(label.Tape), "A tape or roll: one label after the other"}),
			Quantity("width", "Width of a label", "mm", &p.Width).Hinted("Of a tape, how long the label is; left empty, as long as its words").Sized(10),
			Quantity("height", "Height of a label", "mm", &p.Height).Hinted("Of a tape, how wide the tape is").Sized(10),
		}},
		{Legend: "Sheets: where the labels lie", Fields: []Field{
			Quantity("page-width", "Width of the sheet", "mm", &p.PageWidth).Sized(10),
			Quantity("page-height", "Height of the sheet", "mm", &p.PageHeight).Sized(10),
			Whole("columns", "Labels side by side", &p.Columns, 0, 500).Sized(5),
			Whole("rows", "Labels one below the other", &p.Rows, 0, 500).Sized(5),
			Quantity("left", "From the left edge to the first label", "mm", &p.Left).Sized(10),
			Quantity("top", "From the upper edge to the first label", "mm", &p.Top).Sized(10),
			Quantity("step-right", "From a label's left edge to the next", "mm", &p.StepRight).Hinted("Measure over all columns and divide; left empty, the width of a label").Sized(10),
			Quantity("step-down", "From a label's upper edge to the next", "mm", &p.StepDown).Hinted("Measure over all rows and divide; left empty, the height of a label").Sized(10),
		}},
		{Legend: "The printer: what its test page measures", Fields: []Field{
			Quantity("bar-across", "The bar across measures", "mm", &p.BarAcross).Hinted("100 mm if it is true").Sized(10),
			Quantity("bar-down", "The bar down measures", "mm", &p.BarDown).Hinted("100 mm if it is true").Sized(10),
			Quantity("right", "Move all to the right by", "mm", &p.Right).Hinted("20 mm less what the cross measures from the left edge; negative moves to the left").Sized(10),
			Quantity("down", "Move all down by", "mm", &p.Down).Hinted("20 mm less what the cross measures from the upper edge; negative moves up").Sized(10),
		}},
	}}
}
