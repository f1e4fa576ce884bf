package shop

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/label"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
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

// What was found in an area stands on the label of its parts and of the clock,
// what a part is made of on its own, until it is known to be gone.
func TestCautionsOnLabels(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "7"})
	dial := off("dial")
	dial.Detail.Made = []clean.Material{clean.Lead}
	recorded(t, s, c.ID, "", dial)
	recorded(t, s, c.ID, "", off("pillars"))
	says := func(ask LabelAsk) string {
		t.Helper()
		ask.Copies, ask.Address = 1, "http://a"
		l, err := s.LayLabels(t.Context(), c.ID, ask)
		if err != nil {
			t.Fatal(err)
		}
		var text []string
		for _, it := range l.Sheets[0].Picture.Items {
			if x, ok := it.(pic.Text); ok {
				text = append(text, x.S)
			}
		}
		return strings.Join(text, " ")
	}
	found := condition.Observation{Area: "dial", Day: "2026-03-04", Seen: "glows", Hazards: []string{clean.RadiumHazard}}
	if err := s.Observe(t.Context(), "A", c.ID, 0, found); err != nil {
		t.Fatal(err)
	}
	if got := says(LabelAsk{Parts: []parts.Number{"1"}}); !strings.Contains(got, "Lead") || !strings.Contains(got, "Radium") {
		t.Errorf("the dial's label: %s", got)
	}
	if got := says(LabelAsk{Parts: []parts.Number{"2"}}); strings.Contains(got, "!") {
		t.Errorf("the pillars' label: %s", got)
	}
	if got := says(LabelAsk{Clock: true}); !strings.Contains(got, "Radium") {
		t.Errorf("the clock's label: %s", got)
	}
	gone := condition.Observation{Area: "dial", Day: "2026-03-05", Seen: "measured: nothing", Gone: []string{clean.RadiumHazard}}
	if err := s.Observe(t.Context(), "A", c.ID, 1, gone); err != nil {
		t.Fatal(err)
	}
	if got := says(LabelAsk{Parts: []parts.Number{"1"}}); !strings.Contains(got, "Lead") || strings.Contains(got, "Radium") {
		t.Errorf("afterwards: %s", got)
	}
}
