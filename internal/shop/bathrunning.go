package shop

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"time"

	"seatboard/internal/book/bath"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// bathOf reads a batch as it stands now; one that is damaged is an error.
func (s *Shop) bathOf(tx *store.Tx, l store.Log) (Bath, error) {
	if l.Entries == 0 {
		return Bath{}, errNoBath
	}
	b, err := readBath(tx, l)
	if err == nil && b.Damaged != "" {
		err = &Problem{Code: Storage, Message: b.Damaged, Hint: "Restore the shop from a backup. The batch is " + l.Name + " of " + b.Clock.Number + ".", cause: b.cause}
	}
	return s.timed(b), err
}

// readBath reads a batch without the time that is left. A log that is damaged
// hides neither the batch nor the others: it is said in Damaged.
func readBath(tx *store.Tx, l store.Log) (b Bath, err error) {
	if b.Clock, err = tx.Clock(l.ClockID); err != nil {
		return b, err
	}
	b.ID, b.Entries = l.Name, l.Entries
	log, err := store.Entries[bath.Event](tx, l)
	if err == nil {
		b.Batch, err = bath.Fold(log)
	}
	var entry *store.EntryError
	var faults meas.Faults
	if errors.As(err, &entry) || errors.As(err, &faults) {
		b.Batch, b.Damaged, b.cause = bath.Batch{}, "The log of a batch is damaged.", err
		return b, nil
	}
	return b, err
}

// damagedRings is how long a run of the program rings for a batch under way
// that cannot be read: nobody knows when its parts must come out.
const damagedRings = time.Minute

// timed sets what is left of a batch now.
func (s *Shop) timed(b Bath) Bath {
	if b.Damaged != "" {
		b.Remains = s.alarm.left(b.ID, b.Until, 0)
		b.Ringing = b.Remains > -damagedRings
		return b
	}
	b.Remains = b.Left(s.now())
	if b.InLiquid() {
		b.Remains = min(b.Remains, s.alarm.left(b.ID, b.Until, b.Remains))
	}
	b.Ringing = b.InLiquid() && b.Remains <= 0
	return b
}

// Baths lists the batches of a clock, the first begun first.
func (s *Shop) Baths(ctx context.Context, clock int64) ([]Bath, error) {
	var out []Bath
	err := s.store.View(ctx, func(tx *store.Tx) error {
		logs, err := tx.ClockLogs(clock, bathBook)
		if err == nil {
			out, err = readBaths(tx, logs)
		}
		return err
	})
	for i := range out {
		out[i] = s.timed(out[i])
	}
	return out, explain(err)
}

func readBaths(tx *store.Tx, logs []store.Log) ([]Bath, error) {
	var out []Bath
	for _, l := range logs {
		b, err := readBath(tx, l)
		if err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}

// RunningBaths lists the batches that are not closed, the most urgent first:
// those that cannot be read, those in the liquid by their end, those that are
// out. Where the book cannot be read the error comes with what was known of
// them last, so that their alarm goes on.
func (s *Shop) RunningBaths(ctx context.Context) ([]Bath, error) {
	kept, err := s.inBaths.get(s.store, func() (read []Bath, err error) {
		err = s.store.View(ctx, func(tx *store.Tx) error {
			logs, err := tx.RunningLogs(bathBook)
			if err == nil {
				read, err = readBaths(tx, logs)
			}
			return err
		})
		return read, err
	})
	out := slices.Clone(kept)
	for i := range out {
		out[i] = s.timed(out[i])
	}
	slices.SortStableFunc(out, func(a, b Bath) int {
		return cmp.Or(cmp.Compare(a.urgency(), b.urgency()), a.Until.Compare(b.Until))
	})
	return out, explain(err)
}

// urgency orders batches under way: the lower is looked after first.
func (b Bath) urgency() int {
	switch {
	case b.Damaged != "":
		return 0
	case b.InLiquid():
		return 1
	}
	return 2
}
