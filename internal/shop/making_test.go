package shop

import (
	"context"
	"strings"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/making"
)

// asTyped and unworked stand for the forms and the desk, which the shop does
// not know.
func asTyped(_ string, v map[string][]string) map[string][]string { return v }

func unworked(_ context.Context, calculation string, v map[string][]string) making.Sheet {
	return making.Sheet{Calculation: calculation, Values: v}
}

// What was worked out goes out with the clock and comes in again; two people
// at one sheet see both.
func TestSheetsInTheBook(t *testing.T) {
	s := open(t)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	n, err := s.KeepSheet(ctx, "Ada", c.ID, making.Sheet{Calculation: "train", Title: "third wheel", Values: values("going", "96/8 60/8 56/7 30"), Answer: []byte(`{"beats":3600}`)})
	if err != nil || n != 1 {
		t.Fatal(n, err)
	}
	is := making.Sheet{Calculation: "train", Title: "third wheel", Values: values("going", "96/8 60/8 60/7 30"), Answer: []byte(`{"beats":3857}`)}
	if err := s.ChangeSheet(ctx, "Bo", c.ID, 1, 1, is, "miscounted"); err != nil {
		t.Fatal(err)
	}
	is.Values = values("going", "96/8 60/8 64/7 30")
	err = s.ChangeSheet(ctx, "Ada", c.ID, 1, 1, is, "")
	if p := AsProblem(err); p.Code != Conflict || len(p.Differ) != 1 || !strings.Contains(p.Message, "Bo") || p.Differ[0].Before != "96/8 60/8 60/7 30" {
		t.Fatalf("%+v", p)
	}
	_, err = s.KeepSheet(ctx, "Ada", c.ID, making.Sheet{})
	if p := AsProblem(err); p.Code != BadInput || len(p.Fields) != 2 {
		t.Errorf("%+v", p)
	}
	file := exported(t, s, c.ID)
	to := open(t)
	got, err := to.Import(ctx, "Bo", strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	m, err := to.Making(ctx, got.Clock.ID)
	x, ok := m.Book.Find(1)
	if err != nil || !ok || x.Version != 2 || x.Values["going"][0] != "96/8 60/8 60/7 30" || x.Program != program() {
		t.Errorf("%+v %v", x, err)
	}
}
