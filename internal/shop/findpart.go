package shop

import (
	"context"
	"errors"
	"strings"

	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
)

// WholeNumber finds the part that a whole number names, such as 2026-014.2.1;
// false where there is no such clock or it has no such part. A clock's number
// may have dots itself: the longest that is in the book is taken.
func (s *Shop) WholeNumber(ctx context.Context, text string) (clock int64, n parts.Number, ok bool, err error) {
	text = strings.TrimSpace(text)
	for dot := strings.LastIndexByte(text, '.'); dot > 0; dot = strings.LastIndexByte(text[:dot], '.') {
		n = parts.Number(text[dot+1:])
		if !n.Valid() {
			return 0, "", false, nil
		}
		err := s.store.View(ctx, func(tx *store.Tx) error {
			c, err := tx.ClockByNumber(text[:dot])
			clock = c.ID
			return err
		})
		if errors.Is(err, store.ErrNotFound) {
			continue
		}
		if err != nil {
			return 0, "", false, explain(err)
		}
		t, err := s.TakeDown(ctx, clock)
		if err != nil {
			return 0, "", false, err
		}
		if _, there := t.Ledger.Find(n); there {
			return clock, n, true, nil
		}
	}
	return 0, "", false, nil
}
