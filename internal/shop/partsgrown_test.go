package shop

import (
	"reflect"
	"testing"

	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
)

// TestGrownLedger: a ledger is the same whatever was known of it before, and
// what was known of another is not used.
func TestGrownLedger(t *testing.T) {
	s, c := bathShop(t, t.TempDir(), morning())
	err := s.store.View(t.Context(), func(tx *store.Tx) error {
		l, err := tx.Log(partsBook, c.UID)
		if err != nil {
			return err
		}
		whole, err := fold(tx, l, foldedLedger{})
		if err != nil {
			return err
		}
		log := whole.ledger.Log()
		for n := range len(log) + 1 {
			for _, other := range []bool{false, true} {
				begun := append([]parts.Event(nil), log[:n]...)
				if other && n > 0 {
					begun[n-1].Who = "another"
				}
				known, err := parts.Fold(begun)
				if err != nil {
					return err
				}
				got, err := fold(tx, l, foldedLedger{ledger: &known})
				if err != nil || !reflect.DeepEqual(got.ledger, whole.ledger) {
					t.Errorf("%d entries known, of another ledger: %v: %v", n, other, err)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
