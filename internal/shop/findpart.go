package shop

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
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

// FoundPart is a part as it stands, with the clock that it is of.
type FoundPart = store.FoundPart

// How many parts are listed beside the clocks of a search, and at most; and
// how long a search must be for parts to be listed: nearly every part has any
// one letter.
const (
	partsLength  = 8
	mostParts    = 200
	partsLetters = 2
)

// FindParts lists the parts that have all the words, the one written of last
// first, at most 200; more tells whether there are others. A word may stand in
// what is written of a part (its name, its place …), begin its whole number,
// or stand in the file of its clock.
func (s *Shop) FindParts(ctx context.Context, text string) (found []FoundPart, more bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) error {
		found, more, err = findParts(tx, job.Words(text), mostParts)
		return err
	})
	return found, more, explain(err)
}

// PartsIn lists the parts of all clocks that lie in a place, the one written of
// last first, at most 200; more tells whether there are others.
func (s *Shop) PartsIn(ctx context.Context, place string) (found []FoundPart, more bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) error {
		found, more, err = tx.PartsIn(strings.TrimSpace(place), mostParts)
		return err
	})
	return found, more, explain(err)
}

// OnePart finds the part that a whole number, a short id or the address of a
// label's code names. The error is a meas.Faults of the field "part" where it
// names none, or more than one.
func (s *Shop) OnePart(ctx context.Context, text string) (clock int64, n parts.Number, err error) {
	clock, n, ok, err := s.WholeNumber(ctx, text)
	if err != nil || ok {
		return clock, n, err
	}
	_, found, known, err := s.ShortID(ctx, text)
	if err != nil {
		return 0, "", err
	}
	named := slices.DeleteFunc(found, func(m Meant) bool { return m.Part == nil })
	switch {
	case len(named) == 1:
		return named[0].Clock.ID, named[0].Number, nil
	case len(named) > 1:
		return 0, "", onePart("“%s” stands for a part of more than one clock; write its whole number", text)
	case known && len(found) > 0:
		return 0, "", onePart("“%s” is of a clock in the book, and no such part is in its ledger", text)
	}
	return 0, "", onePart("“%s” is no part of a clock in the book; scan its label, or write its number like 2026-014.2.1", text)
}

func onePart(format, text string) error {
	return AsProblem(meas.Faults{{Field: "part", Text: fmt.Sprintf(format, meas.Clip(strings.TrimSpace(text)))}})
}

func findParts(tx *store.Tx, words []string, most int) ([]FoundPart, bool, error) {
	if len([]rune(strings.Join(words, ""))) < partsLetters {
		return nil, false, nil
	}
	return tx.FindParts(words, most)
}

// unreadAtOnce is how many ledgers are read in one change.
const unreadAtOnce = 100

// readUnfoundParts makes the parts of ledgers findable that an earlier program
// wrote. It happens once, when this program first opens their shop.
func (s *Shop) readUnfoundParts(ctx context.Context) error {
	for {
		var some []int64
		err := s.store.View(ctx, func(tx *store.Tx) (err error) {
			some, err = tx.UnreadParts(unreadAtOnce)
			return err
		})
		if err != nil || len(some) == 0 {
			return err
		}
		err = s.store.Update(ctx, "", func(tx *store.Tx) error {
			for _, clock := range some {
				if err := indexLedgers(tx, clock); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
}

// indexLedgers makes the parts of a clock findable, as far as its ledger can
// be read.
func indexLedgers(tx *store.Tx, clock int64) error {
	c, err := tx.Clock(clock)
	if err != nil {
		return err
	}
	l, err := tx.Log(partsBook, c.UID)
	if err != nil {
		return err
	}
	f, err := fold(tx, l, foldedLedger{})
	var unreadable *store.EntryError
	if errors.As(err, &unreadable) {
		return tx.IndexParts(clock, nil)
	}
	if err != nil {
		return err
	}
	return tx.IndexParts(clock, f.ledger.Parts())
}
