package store_test

import (
	"context"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

// benchClocks is the size of shop the goals are stated for.
const benchClocks = 10_000

func BenchmarkStore(b *testing.B) {
	ctx := context.Background()
	dir := b.TempDir()
	s, err := store.Open(ctx, dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	if err := storetest.Fill(ctx, s, benchClocks, 1); err != nil {
		b.Fatal(err)
	}
	view := func(b *testing.B, f func(*store.Tx) error) {
		b.ReportAllocs()
		for b.Loop() {
			if err := s.View(ctx, f); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.Run("Clock", func(b *testing.B) {
		i := int64(0)
		view(b, func(tx *store.Tx) error {
			i++
			_, err := tx.Clock(1 + i*7919%benchClocks)
			return err
		})
	})
	for name, query := range map[string]string{
		"all": "", "rare": "zzzz", "number": "2013-117", "common": "brass", "two": "møgengård oak", "letter": "e",
	} {
		b.Run("List/"+name, func(b *testing.B) {
			view(b, func(tx *store.Tx) error {
				_, _, _, err := tx.List(job.Words(query), "", 50)
				return err
			})
		})
	}
	b.Run("Promised", func(b *testing.B) {
		view(b, func(tx *store.Tx) error { _, err := tx.Promised(50); return err })
	})
	b.Run("Numbers", func(b *testing.B) {
		view(b, func(tx *store.Tx) error { _, err := tx.Numbers("2024"); return err })
	})
	b.Run("Save", func(b *testing.B) {
		i := 0
		for b.Loop() {
			i++
			err := s.Update(ctx, "bench", func(tx *store.Tx) error {
				c, err := tx.Clock(1 + int64(i)*7919%benchClocks)
				if err != nil {
					return err
				}
				c.Owner.Note += "."
				_, err = tx.SaveClock(c)
				return err
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("Check", func(b *testing.B) {
		for b.Loop() {
			if p, err := s.Check(ctx); err != nil || len(p) > 0 {
				b.Fatal(p, err)
			}
		}
	})
	b.Run("Snapshot", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Snapshot(ctx, b.TempDir()+"/copy.db", nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	b.Run("Open", func(b *testing.B) {
		for b.Loop() {
			s, err := store.Open(ctx, dir, store.Options{})
			if err != nil {
				b.Fatal(err)
			}
			if err := s.Close(); err != nil {
				b.Fatal(err)
			}
		}
	})
}
