package shop

import (
	"context"
	"errors"
	"strings"

	"seatboard/internal/book/job"
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
