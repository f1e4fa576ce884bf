package desk

import (
	"context"

	"seatboard/internal/book/making"
	"seatboard/internal/paper/present"
)

// Drawings works out anew those of the sheets that stand which make a drawing;
// the others, searches among them, are left as they were kept. One that has
// no answer any more makes none.
func Drawings(ctx context.Context, b making.Book) ([]present.SheetDrawings, error) {
	var out []present.SheetDrawings
	for _, x := range b.All() {
		c, ok := Find(x.Calculation)
		if !ok || !c.Draws || x.Struck != 0 {
			continue
		}
		_, o, err := c.Sheet(ctx, x.Values)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if all := o.Doc.Drawings(); err == nil && len(all) > 0 {
			out = append(out, present.SheetDrawings{Sheet: x, Drawings: all})
		}
	}
	return out, nil
}
