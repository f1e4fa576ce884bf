package shop

import (
	"context"

	"seatboard/internal/book/equipment"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/divide"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// equipmentBook is the kind of log that the plates are kept in; there is one
// for the shop.
const equipmentBook = "equipment"

// Plates are those that the shop keeps.
func (s *Shop) Plates(ctx context.Context) (equipment.Kept, error) {
	var kept equipment.Kept
	err := s.store.View(ctx, func(tx *store.Tx) error {
		_, log, err := platesLog(tx)
		kept = equipment.Fold(log)
		return err
	})
	return kept, explain(err)
}

func platesLog(tx *store.Tx) (store.Log, []equipment.Event, error) {
	l, err := tx.Log(equipmentBook, "")
	if err != nil {
		return l, nil, err
	}
	log, err := store.Entries[equipment.Event](tx, l)
	return l, log, err
}

// KeepPlates keeps plates for the shop. seen is the version that the person
// saw; where others were kept meanwhile the problem is a Conflict with both.
func (s *Shop) KeepPlates(ctx context.Context, by string, seen int, p divide.Plates) error {
	if p.Empty() {
		return AsProblem(meas.Faults{{Field: "plates", Text: "Enter the plates that are to be kept"}})
	}
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		l, log, err := platesLog(tx)
		if err != nil {
			return err
		}
		have := equipment.Fold(log)
		switch {
		case have.Plates.String() == p.String():
			return nil
		case have.Version != seen:
			return meanwhile(nil, []job.Change{{Field: "Plates", Before: have.Plates.String(), After: p.String()}})
		}
		_, err = store.Append(tx, l, equipment.Event{Entry: ledger.Entry{N: ledger.Next(log), When: job.Instant(s.now()), Who: by}, Plates: p})
		return err
	})
	return explain(err)
}
