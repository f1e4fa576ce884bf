package shop

import (
	"bytes"
	"context"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/label"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
)

// TestLabelsAreRemembered: printing keeps the position, the profile and the
// address; an order that cannot be laid out keeps nothing.
func TestLabelsAreRemembered(t *testing.T) {
	s := open(t)
	ctx := context.Background()
	c, err := s.AddClock(ctx, "A", job.Clock{Number: "7", Title: "Clock"})
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.ChangeParts(ctx, "A", c.ID, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		e, f := l.Add(parts.Event{Entry: head, Kind: parts.Recorded, To: parts.Off, Count: 4, Detail: &parts.Detail{Name: "screws"}})
		return []parts.Event{e}, f
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.PrintLabels(ctx, "A", c.ID, LabelAsk{Parts: []parts.Number{"1", "9"}, Copies: 1, Address: "http://a"}); err == nil {
		t.Error("a part that is not there got a label")
	}
	if _, _, err := s.PrintLabels(ctx, "A", c.ID, LabelAsk{Parts: []parts.Number{"1"}, Copies: 1}); err == nil {
		t.Error("labels without an address were printed")
	}
	if have, err := s.LabelSettings(ctx); err != nil || have.Last != "" || have.Address != "" {
		t.Errorf("something was kept of what was not printed: %+v %v", have, err)
	}
	second := label.Stock()[1].Name
	b, l, err := s.PrintLabels(ctx, "A", c.ID, LabelAsk{Parts: []parts.Number{"1"}, Clock: true, Copies: 3, Profile: second, Address: "http://a/"})
	if err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) || l.Labels != 6 || l.Next != 7 {
		t.Fatalf("%v %d %d", err, l.Labels, l.Next)
	}
	have, err := s.LabelSettings(ctx)
	if k, ok := have.Find(""); err != nil || !ok || k.Name != second || k.Free != 7 || have.Address != "http://a" {
		t.Errorf("%+v %v", have, err)
	}
	again, err := s.LayLabels(ctx, c.ID, LabelAsk{Ahead: 2, Copies: 1})
	if err != nil || again.Ask.First != 7 || again.Labels != 2 {
		t.Errorf("%+v %v", again.Ask, err)
	}
	_, found, ok, err := s.ShortID(ctx, label.Short(c.UID, "1"))
	if err != nil || !ok || len(found) != 1 || found[0].Part == nil || found[0].Part.Name != "screws" {
		t.Errorf("%+v %v %v", found, ok, err)
	}
	c.Number = "2030-1" // a label holds when the number changes
	if _, err := s.SaveClock(ctx, "A", c); err != nil {
		t.Fatal(err)
	}
	if _, found, _, _ := s.ShortID(ctx, label.Short(c.UID, "1")); len(found) != 1 || found[0].Clock.Number != "2030-1" {
		t.Errorf("%+v", found)
	}
}
