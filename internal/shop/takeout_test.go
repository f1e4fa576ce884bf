package shop

import (
	"strings"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
)

// A clock that is taken out of the book is in no list, loses nothing, keeps
// its number, and comes back as it was.
func TestTakeOutAndPutBack(t *testing.T) {
	s := open(t)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "2026-014", Title: "twice written down", Promise: "2026-12-01"})
	other := add(t, s, job.Clock{Number: "2026-015", Title: "another"})
	e := off("third wheel")
	e.Detail.Made = []clean.Material{clean.Brass}
	recorded(t, s, c.ID, "", e)
	id, _, err := s.BeginBath(ctx, "tester", c.ID, BathAsk{Parts: []parts.Number{"1"}, Query: clean.Query{Liquid: clean.WaterBath}})
	if err != nil {
		t.Fatal(err)
	}
	if p := AsProblem(s.TakeOut(ctx, "tester", c.ID)); p.Code != BadInput || !strings.Contains(p.Message, "bath") {
		t.Errorf("with a bath under way: %+v", p)
	}
	b, err := s.Bath(ctx, id)
	if err == nil {
		_, err = s.ChangeBath(ctx, "tester", id, BathChange{Kind: "abandoned", Seen: b.Entries, Words: "on the bench"})
	}
	if err != nil {
		t.Fatal(err)
	}
	before := exported(t, s, c.ID)
	for range 2 {
		if err := s.TakeOut(ctx, "tester", c.ID); err != nil {
			t.Fatal(err)
		}
	}
	l, err := s.Find(ctx, "", "")
	if err != nil || l.Total != 1 || l.Clocks[0].ID != other.ID {
		t.Errorf("the list: %+v %v", l, err)
	}
	if got := found(t, s, "third"); got != "" {
		t.Errorf("its part is found: %s", got)
	}
	today, err := s.Today(ctx)
	if err != nil || len(today.Promised) != 0 {
		t.Errorf("today: %+v %v", today.Promised, err)
	}
	if _, err := s.AddClock(ctx, "tester", job.Clock{Number: "2026-014"}); err == nil {
		t.Error("its number is given again")
	}
	if _, err := s.Import(ctx, "tester", strings.NewReader(before)); err == nil || !strings.Contains(AsProblem(err).Message, "taken out") {
		t.Errorf("its file brought in: %v", err)
	}
	out, err := s.TakenOut(ctx)
	if err != nil || len(out) != 1 || out[0].ID != c.ID {
		t.Errorf("taken out: %+v %v", out, err)
	}
	for range 2 {
		if err := s.PutBack(ctx, "tester", c.ID); err != nil {
			t.Fatal(err)
		}
	}
	if got := found(t, s, "third"); got != "2026-014.1" {
		t.Errorf("put back, its part is found as %q", got)
	}
	back, err := s.File(ctx, c.ID)
	if err != nil || !back.Clock.Removed.IsZero() || back.Clock.Title != c.Title || back.Clock.Promise != c.Promise {
		t.Errorf("%+v %v", back.Clock, err)
	}
	history, err := s.History(ctx, c.ID)
	marks := 0
	for _, h := range history {
		if h.Record == "clock" && h.Field == job.RemovedField {
			marks++
		}
	}
	if err != nil || marks != 2 {
		t.Errorf("%d marks in the history, want one for each way: %v", marks, err)
	}
}
