package shop

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
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
	want["seatboard-winding-"+c.UID] = "20260312T090000Z When was 7 Wall clock wound? Wind it\\, and write it down"
	b, err = s.Reminders(ctx, c.ID)
	check("read since, the same UID", reminded(t, b, err))
}

func TestWindingDue(t *testing.T) {
	wound := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	for goes, want := range map[float64]float64{8 * 24: 7 * 24, 30: 22.5, 32 * 24: 31 * 24} {
		x := Trial{Book: &trial.Book{}, Query: &regulate.Query{Touches: []regulate.Touch{{At: wound.Add(-time.Hour), Kind: regulate.Wound}, {At: wound, Kind: regulate.Wound}, {At: wound.Add(time.Hour), Kind: regulate.Oiled}}}, Goes: meas.Exactly(unit.Duration(goes * 3600))}
		if w, ok := WindingOf(x, wound); !ok || w.Due.Sub(wound).Hours() != want || w.Asked() {
			t.Errorf("goes %v h: %v %+v, want after %v h", goes, ok, w, want)
		}
		x.Goes.Set = false
		if w, ok := WindingOf(x, wound); !ok || w.By != GoesMost || !w.Asked() || !strings.Contains(w.Words(), "common practice") {
			t.Errorf("nobody knows how long it goes: %v %+v", ok, w)
		}
	}
}

// TestWindingThatWasNeverWritten asks for it: with the running time of the
// survey, else of most clocks, and takes what is said.
func TestWindingThatWasNeverWritten(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "7", Title: "Wall clock", Stage: job.Trial})
	uid := "seatboard-winding-" + c.UID
	if p := AsProblem(second(s.Reminders(ctx, c.ID))); p.Code != NotFound {
		t.Errorf("nothing is written of it yet: %+v", p)
	}
	if _, err := s.AddTrial(ctx, "Ada", c.ID, 0, read(w.now, 1)); err != nil {
		t.Fatal(err)
	}
	is := func(what, want string) {
		t.Helper()
		b, err := s.Reminders(ctx, c.ID)
		if got := reminded(t, b, err)[uid]; got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
	is("as most go", "20260311T090000Z When was 7 Wall clock wound? Wind it\\, and write it down")
	w.pass(20 * 24 * time.Hour)
	is("it must have been wound", "20260324T090000Z When was 7 Wall clock wound? Wind it\\, and write it down")
	if x, ok := WindingOf(trialOf(t, s, c.ID), w.now); !ok || !x.Down || !strings.Contains(x.Words(), "so it was wound: when, last?") {
		t.Errorf("%+v", x)
	}
	refused(t, "how long", s.WindTrial(ctx, "Ada", c.ID, 1, WindAsk{Goes: "long"}), "goes", "how long it goes")
	refused(t, "when", s.WindTrial(ctx, "Ada", c.ID, 1, WindAsk{Wound: "2026-03-30 10:00"}), "wound", "still to come")
	refused(t, "nothing", s.WindTrial(ctx, "Ada", c.ID, 1, WindAsk{}), "wound", "Write when")
	if err := s.WindTrial(ctx, "Ada", c.ID, 1, WindAsk{Wound: "2026-03-23 10:00", Goes: "30 h"}); err != nil {
		t.Fatal(err)
	}
	is("as was said", "20260324T083000Z Wind 7 Wall clock")
	if err := s.WindTrial(ctx, "Ada", c.ID, 9, WindAsk{Never: true}); err != nil {
		t.Fatal(err)
	}
	if x, ok := WindingOf(trialOf(t, s, c.ID), w.now); ok {
		t.Errorf("not to be reminded of: %+v", x)
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
