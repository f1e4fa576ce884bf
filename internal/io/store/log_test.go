package store_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

type line struct {
	ledger.Entry
	Text string `json:"text"`
}

func lineOf(n int, text string) line {
	return line{ledger.Entry{N: n, When: time.Date(2026, 11, 25, 9, n, 0, 0, time.UTC), Who: "ME", Why: "because"}, text}
}

// TestLogsGrow writes a clock's log and the shop's, and reads them back as
// they were.
func TestLogsGrow(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	if err := storetest.Fill(ctx, s, 1, 1); err != nil {
		t.Fatal(err)
	}
	mine := store.Log{Book: "parts", Name: "a clock's", ClockID: 1, Running: true}
	shops := store.Log{Book: "stores", Name: ""}
	want := []line{lineOf(1, "“Zeiger” ½"), lineOf(2, ""), lineOf(3, "third")}
	update(t, s, func(tx *store.Tx) (err error) {
		if mine, err = store.Append(tx, mine, want[0], want[1]); err != nil {
			return err
		}
		if mine, err = store.Append(tx, mine, want[2]); err != nil {
			return err
		}
		_, err = store.Append(tx, shops, lineOf(1, "shop"))
		return err
	})
	view(t, s, func(tx *store.Tx) error {
		l, err := tx.Log("parts", "a clock's")
		if err != nil || l.Entries != 3 || l.ClockID != 1 || !l.Running || l.Touched.IsZero() {
			t.Errorf("log %+v, %v", l, err)
		}
		got, err := store.Entries[line](tx, l)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("entries %+v, %v", got, err)
		}
		running, err := tx.RunningLogs("parts")
		if err != nil || len(running) != 1 {
			t.Errorf("running %v, %v", running, err)
		}
		none, err := tx.Log("parts", "no such")
		if err != nil || none.Entries != 0 {
			t.Errorf("%+v, %v", none, err)
		}
		return nil
	})
}

// TestLogRefusesWhatWasNotRead holds two writers to what they have read, and
// leaves nothing of what is refused.
func TestLogRefusesWhatWasNotRead(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	stale := store.Log{Book: "stores"}
	update(t, s, func(tx *store.Tx) error { _, err := store.Append(tx, stale, lineOf(1, "first")); return err })
	err := s.Update(ctx, "ME", func(tx *store.Tx) error { _, err := store.Append(tx, stale, lineOf(1, "second")); return err })
	var conflict *store.LogConflictError
	if !errors.As(err, &conflict) || conflict.Stands != 1 || conflict.Read != 0 {
		t.Errorf("two first entries: %v", err)
	}
	read := store.Log{Book: "stores", Entries: 1}
	if err := s.Update(ctx, "ME", func(tx *store.Tx) error { _, err := store.Append(tx, read, lineOf(3, "gap")); return err }); err == nil {
		t.Error("a gap in the numbers is taken")
	}
	if err := s.Update(ctx, "ME", func(tx *store.Tx) error {
		_, err := store.Append(tx, store.Log{Book: "parts", Name: "x", ClockID: 99}, lineOf(1, ""))
		return err
	}); err == nil {
		t.Error("a clock that is not in the book is taken")
	}
	view(t, s, func(tx *store.Tx) error {
		got, err := store.Entries[line](tx, read)
		if err != nil || len(got) != 1 || got[0].Text != "first" {
			t.Errorf("%+v, %v", got, err)
		}
		return nil
	})
}
