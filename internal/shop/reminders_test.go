package shop

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// reminded is the reminders of a file by their UID: when, and the title.
func reminded(t *testing.T, b []byte, err error) map[string]string {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	events := strings.Split(strings.ReplaceAll(string(b), "\r\n ", ""), "BEGIN:VEVENT\r\n")
	for _, e := range events[1:] {
		is := map[string]string{}
		for _, line := range strings.Split(e, "\r\n") {
			name, value, _ := strings.Cut(line, ":")
			name, _, _ = strings.Cut(name, ";")
			is[name] = value
		}
		out[is["UID"]] = is["DTSTART"] + " " + is["SUMMARY"]
	}
	return out
}

func TestReminders(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	ctx := t.Context()
	if p := AsProblem(second(s.Reminders(ctx, 0))); p.Code != NotFound {
		t.Errorf("an empty shop: %+v", p)
	}
	c := add(t, s, job.Clock{Number: "7", Title: "Wall clock", Stage: job.Trial, Promise: "2026-04-02"})
	other := add(t, s, job.Clock{Number: "8", Title: "Other", Promise: "soon"})
	if err := s.BeginGate(ctx, "Ada", c.ID, 0, "stand", time.Time{}); err != nil {
		t.Fatal(err)
	}
	b, err := s.Reminders(ctx, c.ID)
	want := map[string]string{
		"seatboard-reading-" + c.UID: "20260307T090000Z Read 7 Wall clock", "seatboard-gate-" + c.UID: "20260311T090000Z 7: A week right on the stand is over",
		"seatboard-promise-" + c.UID: "20260402 7 is promised for today",
	}
	check := func(what string, got map[string]string) {
		t.Helper()
		for uid, x := range want {
			if got[uid] != x {
				t.Errorf("%s: %s is %q, want %q", what, uid, got[uid], x)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s: %v", what, got)
		}
	}
	check("one clock", reminded(t, b, err))
	b, err = s.Reminders(ctx, 0)
	check("the shop", reminded(t, b, err))
	if p := AsProblem(second(s.Reminders(ctx, other.ID))); p.Code != NotFound {
		t.Errorf("a promise in words: %+v", p)
	}
	w.pass(24 * time.Hour)
	if _, err := s.AddTrial(ctx, "Ada", c.ID, 9, read(w.now, 1)); err != nil {
		t.Fatal(err)
	}
	want["seatboard-reading-"+c.UID] = "20260308T090000Z Read 7 Wall clock"
	b, err = s.Reminders(ctx, c.ID)
	check("read since, the same UID", reminded(t, b, err))
}

func TestWindingDue(t *testing.T) {
	wound := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	for goes, want := range map[float64]float64{8 * 24: 7 * 24, 30: 22.5, 32 * 24: 31 * 24} {
		g := Gates{Trial: Trial{Query: &regulate.Query{Touches: []regulate.Touch{{At: wound.Add(-time.Hour), Kind: regulate.Wound}, {At: wound, Kind: regulate.Wound}, {At: wound.Add(time.Hour), Kind: regulate.Oiled}}}, Goes: meas.Exactly(unit.Duration(goes * 3600))}}
		if at, ok := windingDue(g); !ok || at.Sub(wound).Hours() != want {
			t.Errorf("goes %v h: %v %v, want after %v h", goes, at, ok, want)
		}
		g.Goes.Set = false
		if _, ok := windingDue(g); ok {
			t.Error("nobody knows how long it goes")
		}
	}
}

// TestRemindersOfABath: of a bath that is in its liquid, for the clock and for
// the shop.
func TestRemindersOfABath(t *testing.T) {
	s, c := bathShop(t, t.TempDir(), morning())
	id := begunBath(t, s, c)
	for _, clock := range []int64{c.ID, 0} {
		b, err := s.Reminders(t.Context(), clock)
		if got := reminded(t, b, err); len(got) != 1 || got["seatboard-bath-"+id] != "20261125T091000Z Take the parts of 2026-014 out of the bath: blue jar" {
			t.Error(got)
		}
	}
}
