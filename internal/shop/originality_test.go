package shop

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/work"
)

func TestOriginalityLedger(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	dir := t.TempDir()
	s := timedShop(t, dir, w)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	shot, err := s.TakePhoto(ctx, "Ada", "a.png", strings.NewReader("\x89PNG\r\n\x1a\nx"), PhotoAsk{Clock: c.ID})
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Intervene(ctx, "Ada", c.ID, 0, work.Intervention{Who: "Ada", When: w.now, Done: "bushed", Added: "brass", Before: []string{shot.SHA256}}, "")
	if err != nil || v.N != 1 {
		t.Fatalf("%+v %v", v, err)
	}
	mine, theirs := v, v
	mine.Why, theirs.Why = "worn oval", "worn"
	if _, err := s.Intervene(ctx, "Bo", c.ID, 1, theirs, "added the reason"); err != nil {
		t.Fatal(err)
	}
	_, err = s.Intervene(ctx, "Ada", c.ID, 1, mine, "")
	if p := AsProblem(err); p.Code != Conflict || len(p.Differ) != 1 || p.Differ[0].Before != "worn" || p.Differ[0].After != "worn oval" {
		t.Fatalf("%+v", p)
	}
	if _, err := s.Intervene(ctx, "Ada", c.ID, 2, mine, "measured"); err != nil {
		t.Fatal(err)
	}
	_, err = s.Intervene(ctx, "Ada", c.ID, 0, work.Intervention{}, "")
	if p := AsProblem(err); p.Code != BadInput || len(p.Fields) != 3 {
		t.Errorf("nothing: %+v", p)
	}
	if err := s.UndoDeed(ctx, "Ada", c.ID, 3); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = timedShop(t, dir, w)
	o, err := s.Originality(ctx, c.ID)
	if err != nil || len(o.Ledger.Standing()) != 1 || o.Ledger.Standing()[0].Why != "worn" || len(o.Ledger.Log()) != 4 || o.Shots[shot.SHA256].UID != shot.UID {
		t.Errorf("%+v %v", o, err)
	}
}
