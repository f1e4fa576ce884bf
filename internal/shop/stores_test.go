package shop

import (
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/stores"
)

func TestStores(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	dir := t.TempDir()
	s := timedShop(t, dir, w)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "2026-014"})
	do := func(read int, e stores.Event) *Problem {
		if _, err := s.ChangeStores(ctx, "Ada", read, e); err != nil {
			return AsProblem(err)
		}
		return nil
	}
	for _, e := range []stores.Event{
		{Kind: stores.Named, Is: &stores.Material{Name: "gut line", Unit: "m", Low: 2000}},
		{Kind: stores.CameIn, Material: 1, Amount: 10000},
		{Kind: stores.Used, Material: 1, Amount: 7500, Job: "2026-014"},
	} {
		if p := do(0, e); p != nil {
			t.Fatal(p, p.Fields)
		}
	}
	if p := do(3, stores.Event{Kind: stores.Used, Material: 1, Amount: 1, Job: "9"}); p == nil || p.Fields[0].Field != "job" {
		t.Errorf("no such clock: %+v", p)
	}
	if p := do(3, stores.Event{Kind: stores.Used, Material: 1, Amount: 1}); p == nil || p.Fields[0].Field != "job" {
		t.Errorf("no clock at all: %+v", p)
	}
	// A count by someone who has not seen the last use is shown both.
	if p := do(2, stores.Event{Kind: stores.Counted, Material: 1, Amount: 10000}); p == nil || p.Code != Conflict || p.Differ[0].Before != "2.5 m" || p.Differ[0].After != "10 m" {
		t.Fatalf("%+v", p)
	}
	if low, err := s.LowStores(ctx); err != nil || len(low) != 0 {
		t.Errorf("%v %v", low, err)
	}
	if p := do(3, stores.Event{Kind: stores.Counted, Material: 1, Amount: 1500}); p != nil {
		t.Fatal(p)
	}
	if p := do(1, stores.Event{Kind: stores.CameIn, Material: 1, Amount: 100}); p != nil {
		t.Errorf("what came in only adds up: %+v", p)
	}
	if td, err := s.Today(ctx); err != nil || len(td.Low) != 1 || td.Low[0].Code != "low" {
		t.Errorf("what is low since it was looked at last does not stand on Today: %+v %v", td.Low, err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = timedShop(t, dir, w)
	low, err := s.LowStores(ctx)
	st, err2 := s.Stores(ctx)
	if err != nil || err2 != nil || len(low) != 1 || low[0].Code != "low" || len(st.Shelf.UsedBy(c.Number)) != 1 {
		t.Errorf("%v %v %v", low, err, err2)
	}
}
