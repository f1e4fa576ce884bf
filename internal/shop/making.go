package shop

import (
	"context"
	"errors"
	"fmt"
	"io"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/making"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// Making is a clock's file with what was worked out for it.
type Making struct {
	File
	Book    making.Book
	Damaged meas.Faults // entries of the log that cannot be, left out
}

// Making loads a clock's file with what was worked out for it.
func (s *Shop) Making(ctx context.Context, clock int64) (Making, error) {
	var m Making
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if m.Clock, err = tx.Clock(clock); err != nil {
			return err
		}
		if m.Survey, err = tx.Survey(clock); err != nil {
			return err
		}
		_, m.Book, m.Damaged, err = readMaking(tx, m.Clock)
		return err
	})
	return m, explain(err)
}

func readMaking(tx *store.Tx, c job.Clock) (l store.Log, b making.Book, damaged meas.Faults, err error) {
	if l, err = tx.Log(making.LogBook, c.UID); err != nil {
		return l, b, nil, err
	}
	l.ClockID = c.ID
	log, err := store.Entries[making.Event](tx, l)
	if err != nil {
		return l, b, nil, err
	}
	if b, err = making.Fold(log); err != nil && !errors.As(err, &damaged) {
		return l, b, nil, err
	}
	return l, b, damaged, nil
}

// KeepSheet puts what was worked out into a clock's file; the answer is its
// number there.
func (s *Shop) KeepSheet(ctx context.Context, by string, clock int64, is making.Sheet) (int, error) {
	is.Program = program()
	e, err := s.addMaking(ctx, by, clock, making.Event{Kind: making.Kept, Is: &is}, nil)
	return e.Sheet, err
}

// ChangeSheet keeps a sheet as it was worked out anew; what stood stays in the
// log. read is the entry by which it stood when the person read it: where
// another has changed it since, the problem is a Conflict with both, and
// nothing is kept.
func (s *Shop) ChangeSheet(ctx context.Context, by string, clock int64, n, read int, is making.Sheet, why string) error {
	is.Program = program()
	_, err := s.addMaking(ctx, by, clock, making.Event{Entry: ledger.Entry{Why: why}, Kind: making.Changed, Sheet: n, Is: &is}, func(b making.Book) error {
		if now, ok := b.Find(n); ok && now.Entry.N != read {
			return &Problem{Code: Conflict, Message: now.Entry.Who + " has worked this out anew meanwhile.", Hint: "Save again to keep yours; the other then stands in the history.", Differ: now.Sheet.Diff(is)}
		}
		return nil
	})
	return err
}

// StrikeSheet strikes a sheet out: it stays in the file and counts no more.
func (s *Shop) StrikeSheet(ctx context.Context, by string, clock int64, n int, why string) error {
	_, err := s.addMaking(ctx, by, clock, making.Event{Entry: ledger.Entry{Why: why}, Kind: making.Struck, Sheet: n}, nil)
	return err
}

// UndoSheet takes an entry back; it stays in the log. That a part was made is
// taken back by [Shop.TakeBackPart].
func (s *Shop) UndoSheet(ctx context.Context, by string, clock int64, entry int) error {
	_, err := s.addMaking(ctx, by, clock, making.Event{Entry: ledger.Entry{Undoes: entry}, Kind: making.Undone}, func(b making.Book) error {
		if log := b.Log(); entry >= 1 && entry <= len(log) && log[entry-1].Kind == making.Made {
			return badInput(meas.Faults{{Field: "n", Text: "A part was made by this; take the part back"}})
		}
		return nil
	})
	return err
}

func (s *Shop) addMaking(ctx context.Context, by string, clock int64, e making.Event, may func(making.Book) error) (making.Event, error) {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		e, err = s.addMakingIn(tx, by, c, e, may)
		return err
	})
	return e, explain(err)
}

// addMakingIn does it inside a change of the store; may is nil where nothing
// else is asked.
func (s *Shop) addMakingIn(tx *store.Tx, by string, c job.Clock, e making.Event, may func(making.Book) error) (making.Event, error) {
	l, b, damaged, err := readMaking(tx, c)
	if err != nil {
		return e, err
	}
	if len(damaged) > 0 {
		return e, damagedLog("making", damaged)
	}
	if may != nil {
		if err := may(b); err != nil {
			return e, err
		}
	}
	e.When, e.Who = job.Instant(s.now()), by
	done, faults := b.Add(e)
	if len(faults) > 0 {
		return e, badInput(faults)
	}
	_, err = store.Append(tx, l, done)
	return done, err
}

// KeptDrawing opens a drawing that was kept when a part was made. It stays
// where it was made: with a clock that was brought in come the records alone.
func (s *Shop) KeptDrawing(sum string) (io.ReadSeekCloser, error) {
	f, err := s.ears.files.Get(sum)
	if errors.Is(err, blob.ErrNotFound) {
		return nil, &Problem{Code: NotFound, Message: "This drawing is not here.", Hint: fmt.Sprintf("It stayed in the shop that made the part, as the file %s. Its sheet can be worked out anew.", sum), cause: err}
	}
	return f, err
}

// TakeIntoSurvey keeps a part of a clock's survey and, where it is not nil,
// the sheet that it was taken from: both or neither.
func (s *Shop) TakeIntoSurvey(ctx context.Context, by string, clock int64, key string, p job.Part, is *making.Sheet) error {
	if faults := p.Check(key); len(faults) > 0 {
		return badInput(faults)
	}
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		if _, err := tx.SavePart(clock, key, p); err != nil || is == nil {
			return err
		}
		is.Program = program()
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		_, err = s.addMakingIn(tx, by, c, making.Event{Kind: making.Kept, Is: is}, nil)
		return err
	})
	return explain(err)
}
