package shop

import (
	"context"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func needsOf(t *testing.T, s *Shop) []string {
	t.Helper()
	today, err := s.Today(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, n := range today.Needs {
		late := ""
		if n.Late {
			late = "!"
		}
		out = append(out, n.Name+": "+n.Words+late)
	}
	return out
}

// damage puts an entry behind a batch's log that its book cannot have.
func damage(t *testing.T, s *Shop, id string) {
	t.Helper()
	err := s.store.Update(t.Context(), "tester", func(tx *store.Tx) error {
		l, err := tx.Log(bathBook, id)
		if err != nil {
			return err
		}
		_, err = store.Append(tx, l, bath.Event{Entry: ledger.Entry{N: l.Entries + 1, When: s.now(), Who: "tester"}, Kind: "boiled"})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestTodayByUrgency: what cannot wait stands first, and each moves as time
// passes.
func TestTodayByUrgency(t *testing.T) {
	w := morning()
	s, c := bathShop(t, t.TempDir(), w)
	for _, name := range []string{"fourth wheel", "fly"} {
		d := parts.Detail{Name: name, Made: []clean.Material{clean.Brass}}
		if _, err := s.RecordPart(t.Context(), "tester", c.ID, "", "", parts.Event{To: parts.Off, Count: 1, Detail: &d}, ""); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.StartWork(t.Context(), "tester", c.ID, "Cleaning", "", false); err != nil {
		t.Fatal(err)
	}
	begin := func(jar string, minutes float64, n parts.Number) string {
		id, _, err := s.BeginBath(t.Context(), "tester", c.ID, BathAsk{Jar: jar, Parts: []parts.Number{n},
			Query: clean.Query{Liquid: clean.WaterBath, Time: meas.Of(unit.Duration(minutes * 60))}})
		if err != nil {
			t.Fatal(err, AsProblem(err).Fields)
		}
		return id
	}
	want := func(lines ...string) {
		t.Helper()
		if got := needsOf(t, s); strings.Join(got, "; ") != strings.Join(lines, "; ") {
			t.Errorf("got %q\nwant %q", got, lines)
		}
	}
	want()
	begin("long", 15, "1")
	short := begin("short", 6, "4")
	want("2026-014 short: 6 min left", "2026-014 long: 15 min left")
	w.pass(8 * time.Minute)
	want("2026-014 short: 2 min over!", "2026-014 long: 7 min left")
	if _, err := s.ChangeBath(t.Context(), "tester", short, BathChange{Kind: bath.Ticked, Seen: 1, Step: clean.BathStep}); err != nil {
		t.Fatal(err)
	}
	want("2026-014 long: 7 min left", "2026-014 short: since 09:08")
	w.pass(6 * time.Minute)
	want("2026-014 short: since 09:08!", "2026-014 long: 1 min left")
	lost := begin("lost", 15, "5")
	damage(t, s, lost)
	want("2026-014: damaged!", "2026-014 short: since 09:08!", "2026-014 long: 1 min left")
	w.pass(20 * time.Hour)
	want("2026-014: damaged!", "2026-014 long: 1199 min over!", "2026-014 short: since 2026-11-25 09:08!", "2026-014: since 2026-11-25 09:00!")
}

// TestDamagedBath is on every page and rings, and hides no other batch.
func TestDamagedBath(t *testing.T) {
	w := morning()
	s, c := bathShop(t, t.TempDir(), w)
	id := begunBath(t, s, c)
	rings := 0
	s.alarm.ring = func(context.Context) error { rings++; return nil }
	s.lookAtBaths(t.Context())
	damage(t, s, id)
	s.lookAtBaths(t.Context())
	w.pass(damagedRings / 2)
	s.lookAtBaths(t.Context())
	if rings != 2 {
		t.Errorf("it rang %d times", rings)
	}
	w.pass(damagedRings)
	s.lookAtBaths(t.Context())
	if rings != 2 {
		t.Error("it rings for ever, though nothing can be done about it but restoring")
	}
	run, err := s.RunningBaths(t.Context())
	if err != nil || len(run) != 1 || run[0].Damaged == "" || run[0].Clock.Number != c.Number {
		t.Fatalf("%v %+v", err, run)
	}
	if all, err := s.Baths(t.Context(), c.ID); err != nil || len(all) != 1 || all[0].Damaged == "" {
		t.Errorf("%v %+v", err, all)
	}
	if _, err := s.Bath(t.Context(), id); AsProblem(err).Code != Storage {
		t.Errorf("its page: %v", err)
	}
	if _, err := s.ChangeBath(t.Context(), "tester", id, BathChange{Kind: bath.Ticked, Seen: 2, Step: clean.BathStep}); AsProblem(err).Code != Storage {
		t.Errorf("written on: %v", err)
	}
}

// TestAlarmOfAnUnreadableBook goes on for what was known, and is said.
func TestAlarmOfAnUnreadableBook(t *testing.T) {
	w := morning()
	s, c := bathShop(t, t.TempDir(), w)
	begunBath(t, s, c)
	rings := 0
	s.alarm.ring = func(context.Context) error { rings++; return nil }
	s.lookAtBaths(t.Context())
	w.pass(11 * time.Minute)
	if _, err := s.AddClock(t.Context(), "tester", job.Clock{Number: "2026-015"}); err != nil { // what is kept is old now
		t.Fatal(err)
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	s.lookAtBaths(gone)
	if rings != 1 || s.AlarmTrouble() == "" {
		t.Errorf("it rang %d times, and says %q", rings, s.AlarmTrouble())
	}
	s.lookAtBaths(t.Context())
	if rings != 2 || s.AlarmTrouble() != "" {
		t.Errorf("it rang %d times, and says %q", rings, s.AlarmTrouble())
	}
}
