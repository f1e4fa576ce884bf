package shop

import (
	"context"
	"errors"
	"slices"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/picture"
	"seatboard/internal/book/work"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// interventionsBook is the kind of log that originality ledgers are kept in;
// each goes by the UID of its clock.
const interventionsBook = "interventions"

// Originality is a clock's file with its originality ledger.
type Originality struct {
	File
	Ledger  work.Originality
	Shots   map[string]picture.Photo // the photographs it names, by their hash, and those that can be
	Offered []picture.Photo          // of these, the last of the clock
	Damaged meas.Faults
}

// Originality loads a clock's file with its originality ledger.
func (s *Shop) Originality(ctx context.Context, clock int64) (Originality, error) {
	o := Originality{Shots: map[string]picture.Photo{}}
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if o.Clock, err = tx.Clock(clock); err != nil {
			return err
		}
		if o.Survey, err = tx.Survey(clock); err != nil {
			return err
		}
		if _, o.Ledger, o.Damaged, err = readOriginality(tx, o.Clock); err != nil {
			return err
		}
		if o.Offered, _, err = tx.Photos(store.PhotoPlace{Clock: clock}, 0, photosOnPage); err != nil {
			return err
		}
		for _, p := range o.Offered {
			o.Shots[p.SHA256] = p
		}
		return o.findShots(tx)
	})
	return o, explain(err)
}

// findShots reads the photographs that the ledger names.
func (o *Originality) findShots(tx *store.Tx) error {
	for _, v := range o.Ledger.Standing() {
		for _, sum := range slices.Concat(v.Before, v.After) {
			if _, ok := o.Shots[sum]; ok {
				continue
			}
			p, err := tx.PhotoOfContent(o.Clock.ID, sum)
			if errors.Is(err, store.ErrNoPhoto) {
				continue // the ledger names it all the same
			}
			if err != nil {
				return err
			}
			o.Shots[sum] = p
		}
	}
	return nil
}

func readOriginality(tx *store.Tx, c job.Clock) (l store.Log, o work.Originality, damaged meas.Faults, err error) {
	if l, err = tx.Log(interventionsBook, c.UID); err != nil {
		return l, o, nil, err
	}
	l.ClockID = c.ID
	log, err := store.Entries[work.Deed](tx, l)
	if err != nil {
		return l, o, nil, err
	}
	if o, err = work.FoldOriginality(log); err != nil && !errors.As(err, &damaged) {
		return l, o, nil, err
	}
	return l, o, damaged, nil
}

// Intervene writes an intervention into the ledger; with a number it corrects
// the one that has it, and why says so. read is the entry by which that one
// stood when the person read it: where another has corrected it since, the
// problem is a Conflict with both, and nothing is kept.
func (s *Shop) Intervene(ctx context.Context, by string, clock int64, read int, v work.Intervention, why string) (work.Intervention, error) {
	d := work.Deed{Kind: work.Recorded, Intervention: v}
	if v.N != 0 {
		d.Kind = work.Corrected
	}
	d.Why = why
	done, err := s.addDeed(ctx, by, clock, d, func(o work.Originality) error {
		if last, ok := o.Last(v.N); ok && last.N != read {
			return &Problem{Code: Conflict, Message: last.Who + " has corrected this meanwhile.", Hint: "Save again to keep yours; the other then stands in the history.", Differ: work.Diff(last.Intervention, v)}
		}
		return nil
	})
	return done.Intervention, err
}

// UndoDeed takes an entry of the ledger back; it stays in the log.
func (s *Shop) UndoDeed(ctx context.Context, by string, clock int64, entry int) error {
	_, err := s.addDeed(ctx, by, clock, work.Deed{Entry: ledger.Entry{Undoes: entry}, Kind: work.Undone}, nil)
	return err
}

func (s *Shop) addDeed(ctx context.Context, by string, clock int64, d work.Deed, may func(work.Originality) error) (work.Deed, error) {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		d, err = s.addDeedIn(tx, by, c, d, may)
		return err
	})
	return d, explain(err)
}

// addDeedIn does it inside a change of the store, for what must be kept
// together with it; may is nil where nothing else is asked.
func (s *Shop) addDeedIn(tx *store.Tx, by string, c job.Clock, d work.Deed, may func(work.Originality) error) (work.Deed, error) {
	l, o, damaged, err := readOriginality(tx, c)
	if err != nil {
		return d, err
	}
	if len(damaged) > 0 {
		return d, damagedLog("interventions", damaged)
	}
	if may != nil {
		if err := may(o); err != nil {
			return d, err
		}
	}
	d.When, d.Who = job.Instant(s.now()), by
	done, faults := o.Add(d)
	if len(faults) > 0 {
		return d, badInput(faults)
	}
	_, err = store.Append(tx, l, done)
	return done, err
}
