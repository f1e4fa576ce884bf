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
	is := making.Sheet{Calculation: c.Name, Values: Tidy(c, c.Begin().Form.Known(values))}
	o, err := c.Work(ctx, is.Values)
	if err != nil {
		return is, o, err
	}
	is.Gist = present.Gist(o.Doc)
	is.Answer, err = json.Marshal(o.Answer)
	if err != nil {
		return is, o, fmt.Errorf("desk: answer of %s: %w", c.Name, err)
	}
	return is, o, nil
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
