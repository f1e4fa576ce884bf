package shop

import (
	"context"
	"errors"
	"fmt"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
)

// TakeOut marks a clock as taken out of the book: it leaves the lists, Today
// and the box, and its number is not given again. All of its file stays, and
// [Shop.PutBack] brings it back as it was. A clock with a bath or work under
// way is refused. Done twice it is done once.
func (s *Shop) TakeOut(ctx context.Context, by string, clock int64) error {
	return s.mark(ctx, by, clock, func(tx *store.Tx, c *job.Clock) error {
		if !c.Removed.IsZero() {
			return errAsItIs
		}
		for book, what := range map[string]string{bathBook: "A bath with parts of this clock is under way.", workBook: "Work on this clock is running, or its end is asked about."} {
			logs, err := tx.ClockLogs(clock, book)
			if err != nil {
				return err
			}
			for _, l := range logs {
				if l.Running {
					return &Problem{Code: BadInput, Message: what + " It was not taken out of the book.", Hint: "Bring that to its end first."}
				}
			}
		}
		c.Removed = job.Instant(s.now())
		return nil
	})
}

// PutBack brings a clock back that was taken out of the book.
func (s *Shop) PutBack(ctx context.Context, by string, clock int64) error {
	return s.mark(ctx, by, clock, func(_ *store.Tx, c *job.Clock) error {
		if c.Removed.IsZero() {
			return errAsItIs
		}
		c.Removed = time.Time{}
		return nil
	})
}

// errAsItIs says that there is nothing to be done.
var errAsItIs = errors.New("shop: as it is")

func (s *Shop) mark(ctx context.Context, by string, clock int64, change func(*store.Tx, *job.Clock) error) error {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		if err := change(tx, &c); err != nil {
			return err
		}
		s.home.forget(c.UID)
		_, err = tx.SaveClock(c)
		return err
	})
	if errors.Is(err, errAsItIs) {
		return nil
	}
	return explain(err)
}

// TakenOut lists the clocks that were taken out of the book, the last first,
// at most 500.
func (s *Shop) TakenOut(ctx context.Context) (out []job.Summary, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) error {
		out, err = tx.TakenOut()
		return err
	})
	return out, explain(err)
}

// here is the problem of a file whose clock is in the book, or was taken out
// of it.
func here(c job.Clock) *Problem {
	if !c.Removed.IsZero() {
		return &Problem{Code: Conflict, Message: fmt.Sprintf("This clock is in the book already, as %s, and was taken out of it.", c.Number), Hint: "Nothing was changed. Put it back: Clocks, taken out; or seatboard remove --back."}
	}
	return &Problem{Code: Conflict, Message: fmt.Sprintf("This clock is in the book already, as %s.", c.Number), Hint: "Nothing was changed. Open it there."}
}
