package cli

import (
	"strings"
	"time"

	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/svg"
	"seatboard/internal/shop"
)

// draw writes the chosen picture as a file of its own: a drawing at true size
// where there are drawings and no picture is named, else a figure.
func (o *output) draw(env Env, d doc.Doc) error {
	if o.figure == "" && (o.drawing != "" || len(d.Drawings()) > 0) {
		one, err := o.chosen(d)
		if err != nil {
			return err
		}
		return writeWhole(env, o.svg, svg.File(one.Views[0].Picture))
	}
	figures := d.Figures()
	var names []string
	for _, f := range figures {
		names = append(names, f.Name)
		if o.figure == f.Name || o.figure == "" {
			return writeWhole(env, o.svg, svg.File(f.Wide))
		}
	}
	if len(figures) == 0 {
		return &shop.Problem{Code: shop.NotFound, Message: "There is no picture of this yet.", Hint: "Give more values."}
	}
	return usagef("there is no picture %q; there are %s", o.figure, strings.Join(names, ", "))
}

// printed is a document as PDF: all of it, or the sheets of the drawing that
// is named or the printer's error is given for.
func (o *output) printed(d doc.Doc) ([]byte, error) {
	if o.drawing == "" && o.on.BarAcross == "" && o.on.BarDown == "" {
		return shop.PrintOn(d, "", o.on.Paper, time.Now())
	}
	one, err := o.chosen(d)
	if err != nil {
		return nil, err
	}
	return shop.PrintDrawing(one, o.on, time.Now())
}

// chosen is the drawing that is named, or the only one.
func (o *output) chosen(d doc.Doc) (doc.Drawing, error) {
	var names []string
	all := d.Drawings()
	for _, one := range all {
		names = append(names, one.Name)
		if o.drawing == one.Name || o.drawing == "" && len(all) == 1 {
			return one, nil
		}
	}
	switch {
	case len(all) == 0:
		return doc.Drawing{}, &shop.Problem{Code: shop.NotFound, Message: "There is no drawing at true size of this.", Hint: "Give more values, or --svg for the picture."}
	case o.drawing == "":
		return doc.Drawing{}, usagef("there are several drawings; say with --drawing which: %s", strings.Join(names, ", "))
	}
	return doc.Drawing{}, usagef("there is no drawing %q; there are %s", o.drawing, strings.Join(names, ", "))
}
