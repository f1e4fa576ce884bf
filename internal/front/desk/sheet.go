package desk

import (
	"context"
	"encoding/json"
	"fmt"

	"seatboard/internal/book/making"
	"seatboard/internal/paper/present"
)

// Sheet works typed values out as they are kept in a clock's file; what it is
// called and the note are the person's. The error is that of
// [Calculation.Work].
func (c Calculation) Sheet(ctx context.Context, values map[string][]string) (making.Sheet, Outcome, error) {
	values = c.Typed(values)
	o, err := c.Work(ctx, values)
	if err != nil {
		return making.Sheet{Calculation: c.Name, Values: values}, o, err
	}
	is, err := c.SheetOf(values, o)
	return is, o, err
}

// Typed is typed values as they are kept: those of the form, laid out.
func (c Calculation) Typed(values map[string][]string) map[string][]string {
	return Tidy(c, c.Begin().Form.Known(values))
}

// SheetOf is the sheet of an outcome of values as [Calculation.Typed] has them.
func (c Calculation) SheetOf(values map[string][]string, o Outcome) (making.Sheet, error) {
	is := making.Sheet{Calculation: c.Name, Values: values, Gist: present.Gist(o.Doc)}
	var err error
	if is.Answer, err = json.Marshal(o.Answer); err != nil {
		return is, fmt.Errorf("desk: answer of %s: %w", c.Name, err)
	}
	return is, nil
}

// WorkSheet is Sheet of the calculation of a name, for the shop. Values that
// have no answer make a sheet without one.
func WorkSheet(ctx context.Context, name string, values map[string][]string) making.Sheet {
	c, ok := Find(name)
	if !ok {
		return making.Sheet{Calculation: name, Values: values}
	}
	is, _, _ := c.Sheet(ctx, values) // the mistakes come again when the sheet is opened
	return is
}
