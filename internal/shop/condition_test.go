package shop

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
)

func TestConditionByArea(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	dir := t.TempDir()
	s := timedShop(t, dir, w)
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	ctx := t.Context()
	dial := condition.Observation{Area: "dial", Day: "2026-03-04", Seen: "glows in the dark", Thought: "radium", Severity: condition.Urgent, Hazards: []string{clean.RadiumHazard}}
	if err := s.Observe(ctx, "Ada", c.ID, 0, dial); err != nil {
		t.Fatal(err)
	}
	// Another who had read nothing is shown both; another area is not touched.
	other := condition.Observation{Area: "dial", Day: "2026-03-04", Seen: "paint lifting"}
	p := AsProblem(s.Observe(ctx, "Bo", c.ID, 0, other))
	if p.Code != Conflict || len(p.Differ) != 3 || p.Differ[0].Before != dial.Seen || p.Differ[0].After != other.Seen {
		t.Fatalf("%+v", p)
	}
	if err := s.Observe(ctx, "Bo", c.ID, 0, condition.Observation{Area: "bell", Day: "2026-03-04", Seen: "cracked"}); err != nil {
		t.Errorf("another area: %v", err)
	}
	if err := s.Observe(ctx, "Bo", c.ID, 1, other); err != nil {
		t.Errorf("after both were seen: %v", err)
	}
	if p := AsProblem(s.Observe(ctx, "Bo", c.ID, 9, condition.Observation{})); p.Code != BadInput || len(p.Fields) != 3 {
		t.Errorf("nothing: %+v", p)
	}
	if _, err := s.ChangeParts(ctx, "Ada", c.ID, "", addEvent(parts.Event{Kind: parts.Recorded, To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "dial", Made: []clean.Material{clean.Lead}}})); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = timedShop(t, dir, w)
	td, err := s.TakeDown(ctx, c.ID)
	if err != nil {
		t.Fatal(err)
	}
	hz, err := s.PartHazards(ctx, td, "1")
	if err != nil || len(hz) != 2 || hz[0].Key != clean.LeadHazard || hz[1].Key != clean.RadiumHazard {
		t.Errorf("cautions of the dial: %+v %v", hz, err)
	}
	refusedFor := func() (all string) {
		a, err := s.JudgeBath(ctx, c.ID, BathAsk{Query: clean.Query{Liquid: clean.WaterBath}, Parts: []parts.Number{"1"}})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range a.Refusals {
			all += r.Finding.Text
		}
		return all
	}
	if got := refusedFor(); !strings.Contains(got, "adium") {
		t.Errorf("a bath for a dial on which radium was found: %q", got)
	}
	if err := s.UndoObservation(ctx, "Ada", c.ID, 1); err != nil {
		t.Fatal(err)
	}
	if got := refusedFor(); strings.Contains(got, "adium") {
		t.Errorf("after it was taken back: %q", got)
	}
	got, err := s.Condition(ctx, c.ID)
	if err != nil || len(got.Record.Of("dial")) != 1 || len(got.Record.Hazards("dial")) != 0 || got.Record.Len() != 4 {
		t.Errorf("%+v %v", got.Record, err)
	}
	if err := s.UndoObservation(ctx, "Ada", c.ID, 1); AsProblem(err).Code != BadInput {
		t.Errorf("taken back twice: %v", err)
	}
	if err := s.Observe(ctx, "Ada", 99, 0, dial); AsProblem(err).Code != NotFound {
		t.Errorf("no such clock: %v", err)
	}
}

func TestConditionWithPhotographs(t *testing.T) {
	s := timedShop(t, t.TempDir(), &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)})
	c := add(t, s, job.Clock{Number: "1"})
	png := "\x89PNG\r\n\x1a\n"
	if _, err := s.TakePhoto(t.Context(), "Ada", "a.png", strings.NewReader(png+"x"), PhotoAsk{Clock: c.ID, Area: "Hood"}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.TakePhoto(t.Context(), "Ada", "b.png", strings.NewReader(png+"y"), PhotoAsk{Clock: c.ID}); err != nil {
		t.Fatal(err)
	}
	got, err := s.Condition(t.Context(), c.ID)
	if err != nil || len(got.Photos) != 1 || len(got.Photos["hood"]) != 1 {
		t.Errorf("%+v %v", got.Photos, err)
	}
}
