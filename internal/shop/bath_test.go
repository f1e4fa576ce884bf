package shop

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// wall is a clock on the wall that the test sets, and beside it the one that
// nobody can set.
type wall struct {
	now   time.Time
	since time.Duration
}

func (w *wall) pass(d time.Duration) { w.now, w.since = w.now.Add(d), w.since+d }

// bathShop is a shop with a clock of three parts: wheel, spring, plate.
func bathShop(t *testing.T, dir string, w *wall) (*Shop, job.Clock) {
	t.Helper()
	s, err := Open(t.Context(), dir, func() time.Time { return w.now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	s.alarm.since = func() time.Duration { return w.since }
	if l, err := s.Find(t.Context(), "", ""); err != nil || l.Total > 0 {
		f, err := s.File(t.Context(), 1)
		if err != nil {
			t.Fatal(err)
		}
		return s, f.Clock
	}
	c := add(t, s, job.Clock{Number: "2026-014"})
	for _, d := range []parts.Detail{
		{Name: "third wheel", Made: []clean.Material{clean.Brass}},
		{Name: "click spring", Made: []clean.Material{clean.Steel}},
		{Name: "dial", Made: []clean.Material{clean.Radium}},
	} {
		if _, err := s.RecordPart(t.Context(), "tester", c.ID, "", "", parts.Event{To: parts.Off, Count: 1, Detail: &d}, ""); err != nil {
			t.Fatal(err)
		}
	}
	return s, c
}

func morning() *wall { return &wall{now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)} }

func begunBath(t *testing.T, s *Shop, c job.Clock) string {
	t.Helper()
	id, _, err := s.BeginBath(t.Context(), "tester", c.ID, BathAsk{Jar: "blue jar", Parts: []parts.Number{"1"},
		Query: clean.Query{Liquid: clean.WaterBath, Time: meas.Of(unit.Duration(600))}})
	if err != nil {
		t.Fatal(err, AsProblem(err).Fields)
	}
	return id
}

func stateOf(t *testing.T, s *Shop, c job.Clock, n parts.Number) parts.State {
	t.Helper()
	d, err := s.TakeDown(t.Context(), c.ID)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := d.Ledger.Find(n)
	return p.State
}

func TestBathFromTheLiquidToTheInspection(t *testing.T) {
	w := morning()
	s, c := bathShop(t, t.TempDir(), w)
	id := begunBath(t, s, c)
	if got := stateOf(t, s, c, "1"); got != parts.InBath {
		t.Errorf("the wheel is %s", got)
	}
	if got := stateOf(t, s, c, "2"); got != parts.Off {
		t.Errorf("the spring, which did not go in, is %s", got)
	}
	b, err := s.Bath(t.Context(), id)
	if err != nil || b.Remains != 10*time.Minute || b.Ringing {
		t.Fatalf("%v %+v", err, b)
	}
	if _, err := s.ChangeBath(t.Context(), "tester", id, BathChange{Kind: bath.Closed, Seen: b.Entries}); AsProblem(err).Code != BadInput {
		t.Errorf("closed with everything open: %v", err)
	}
	for _, step := range clean.Steps() {
		w.pass(3 * time.Minute)
		change := BathChange{Kind: bath.Ticked, Seen: b.Entries, Step: step.Key}
		if step.Key == clean.InspectStep {
			if _, err := s.ChangeBath(t.Context(), "tester", id, change); err == nil || AsProblem(err).Fields[0].Field != "seen" {
				t.Errorf("inspected without a word: %v", err)
			}
			change.Words = "clean, one piece"
		}
		if b, err = s.ChangeBath(t.Context(), "tester", id, change); err != nil {
			t.Fatal(step.Key, err, AsProblem(err).Fields)
		}
		want := parts.InBath
		if step.Key == clean.DryStep || step.Key == clean.InspectStep {
			want = parts.Dry
		}
		if got := stateOf(t, s, c, "1"); got != want {
			t.Errorf("after %s the wheel is %s, want %s", step.Key, got, want)
		}
	}
	if _, err = s.ChangeBath(t.Context(), "tester", id, BathChange{Kind: bath.Closed, Seen: b.Entries}); err != nil {
		t.Fatal(err)
	}
	if run, err := s.RunningBaths(t.Context()); err != nil || len(run) != 0 {
		t.Errorf("a closed batch is under way: %v %v", err, run)
	}
	if all, err := s.Baths(t.Context(), c.ID); err != nil || len(all) != 1 || !all[0].Ended() {
		t.Errorf("%v %v", err, all)
	}
}

// TestBathIsRefused: a hard stop whatever is written, a soft one until a
// reason is; what is refused moves no part.
func TestBathIsRefused(t *testing.T) {
	s, c := bathShop(t, t.TempDir(), morning())
	q := clean.Query{Liquid: clean.BrassLiquid, NoFlash: true}
	ask := BathAsk{Query: q, Parts: []parts.Number{"2"}}
	_, a, err := s.BeginBath(t.Context(), "tester", c.ID, ask)
	if err == nil || len(a.Refusals) == 0 {
		t.Fatalf("steel in a liquid for brass: %v %+v", err, a.Refusals)
	}
	if len(AsProblem(err).Fields) == 0 || stateOf(t, s, c, "2") != parts.Off {
		t.Errorf("%v, and the spring is %s", err, stateOf(t, s, c, "2"))
	}
	ask.Overruled = map[string]string{}
	for _, r := range a.Refusals {
		ask.Overruled[r.Finding.Code] = "a scrap piece, to see"
	}
	if _, a, err = s.BeginBath(t.Context(), "tester", c.ID, ask); err != nil {
		t.Errorf("with a reason: %v %v", AsProblem(err).Fields, a.Refusals)
	}
	ask.Parts = []parts.Number{"3"}
	for _, r := range a.Refusals {
		ask.Overruled[r.Finding.Code] = "it will be all right"
	}
	ask.Overruled["radium"] = "it will be all right"
	if _, a, err = s.BeginBath(t.Context(), "tester", c.ID, ask); err == nil || !a.Hard() || stateOf(t, s, c, "3") != parts.Off {
		t.Errorf("luminous paint went in: %v", err)
	}
	if _, _, err = s.BeginBath(t.Context(), "tester", c.ID, BathAsk{Query: q}); err == nil || AsProblem(err).Fields[0].Field != "part" {
		t.Errorf("a bath of nothing: %v", err)
	}
	if run, err := s.RunningBaths(t.Context()); err != nil || len(run) != 1 {
		t.Errorf("%v %d under way, want the one that was overruled", err, len(run))
	}
}

// TestAlarmSurvives a restart, a sleep, and a clock on the wall set back.
func TestAlarmSurvives(t *testing.T) {
	rings := 0
	ring := func(context.Context) error { rings++; return nil }
	look := func(s *Shop) int {
		rings = 0
		s.alarm.ring = ring
		s.lookAtBaths(context.Background())
		return rings
	}
	for name, meanwhile := range map[string]func(w *wall){
		"time passes":              func(w *wall) { w.pass(10 * time.Minute) },
		"the computer sleeps":      func(w *wall) { w.now = w.now.Add(3 * time.Hour) },
		"the clock is set back":    func(w *wall) { w.pass(10 * time.Minute); w.now = w.now.Add(-time.Hour) },
		"the clock is set forward": func(w *wall) { w.now = w.now.Add(time.Hour) },
	} {
		w := morning()
		s, c := bathShop(t, t.TempDir(), w)
		id := begunBath(t, s, c)
		if look(s) != 0 {
			t.Errorf("%s: it rings at the beginning", name)
		}
		meanwhile(w)
		for range 2 {
			if look(s) != 1 {
				t.Errorf("%s: it does not go on ringing", name)
			}
		}
		if err := s.HushBath(t.Context(), id); err != nil || look(s) != 0 {
			t.Errorf("%s: %v, hushed it rings %d", name, err, rings)
		}
		w.since += quietFor
		if look(s) != 1 {
			t.Errorf("%s: it stays hushed", name)
		}
		b, err := s.ChangeBath(t.Context(), "tester", id, BathChange{Kind: bath.Ticked, Seen: 1, Step: clean.BathStep})
		if err != nil || look(s) != 0 || b.Ringing {
			t.Errorf("%s: %v, taken out it rings %d", name, err, rings)
		}
	}
	w, dir := morning(), t.TempDir()
	s, c := bathShop(t, dir, w)
	begunBath(t, s, c)
	s.Close()
	w.pass(11 * time.Minute)
	s, _ = bathShop(t, dir, w)
	if look(s) != 1 {
		t.Error("after a restart the overdue bath does not ring at once")
	}
}

func TestAlarmThatCannotRing(t *testing.T) {
	s, _ := bathShop(t, t.TempDir(), morning())
	if err := s.TestAlarm(t.Context()); AsProblem(err).Code != NotFound {
		t.Errorf("%v", err)
	}
	s.alarm.ring = func(context.Context) error { return errors.New("no loudspeaker") }
	if err := s.TestAlarm(t.Context()); !strings.Contains(AsProblem(err).Message, "no loudspeaker") || s.AlarmTrouble() != "no loudspeaker" {
		t.Errorf("%v %q", err, s.AlarmTrouble())
	}
}

// TestBathTakenBack: the last tick is undone with its parts; a batch given up
// puts them back where they were; who has not seen the last entry is told.
func TestBathTakenBack(t *testing.T) {
	w := morning()
	s, c := bathShop(t, t.TempDir(), w)
	id := begunBath(t, s, c)
	seen := 1
	do := func(change BathChange) error {
		change.Seen = seen
		b, err := s.ChangeBath(t.Context(), "tester", id, change)
		if err == nil {
			seen = b.Entries
		}
		return err
	}
	if err := do(BathChange{Kind: bath.Undone}); err == nil {
		t.Error("the beginning was taken back")
	}
	if err := do(BathChange{Kind: bath.Moved, In: time.Hour}); err == nil {
		t.Error("longer without a reason")
	}
	if err := do(BathChange{Kind: bath.Moved, In: time.Hour, Words: "heavy"}); err != nil {
		t.Error(err)
	}
	for _, st := range clean.Steps()[:4] {
		w.pass(time.Minute)
		if err := do(BathChange{Kind: bath.Ticked, Step: st.Key}); err != nil {
			t.Fatal(err)
		}
	}
	if err := do(BathChange{Kind: bath.Undone}); err != nil || stateOf(t, s, c, "1") != parts.InBath {
		t.Errorf("%v; after undoing the drying the wheel is %s", err, stateOf(t, s, c, "1"))
	}
	if _, err := s.ChangeBath(t.Context(), "other", id, BathChange{Kind: bath.Ticked, Step: clean.DryStep, Seen: 2}); AsProblem(err).Code != Conflict {
		t.Errorf("an old page changed it: %v", err)
	}
	if err := do(BathChange{Kind: bath.Abandoned}); err == nil || AsProblem(err).Fields[0].Field != "why" {
		t.Errorf("given up without a reason: %v", err)
	}
	if err := do(BathChange{Kind: bath.Abandoned, Words: "the jar broke"}); err != nil || stateOf(t, s, c, "1") != parts.Off {
		t.Errorf("%v; given up the wheel is %s", err, stateOf(t, s, c, "1"))
	}
}

// TestOutOfABathByHand: while the batch is under way it alone brings its part
// out; of a batch that is over, a part that an older log left in the bath may
// be moved out on its own page.
func TestOutOfABathByHand(t *testing.T) {
	w := morning()
	s, c := bathShop(t, t.TempDir(), w)
	id := begunBath(t, s, c)
	out := func() error {
		_, err := s.ChangePart(t.Context(), "tester", c.ID, parts.Event{Kind: parts.Moved, Part: "1", To: parts.Dry}, "")
		return err
	}
	if err := out(); err == nil || !strings.Contains(fmt.Sprint(AsProblem(err).Fields), "the page of that bath") {
		t.Errorf("out of a bath under way by hand: %v", err)
	}
	for seen, step := range clean.Steps() {
		w.pass(time.Minute)
		if _, err := s.ChangeBath(t.Context(), "tester", id, BathChange{Kind: bath.Ticked, Seen: seen + 1, Step: step.Key, Words: "clean"}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.MoveParts(t.Context(), "tester", c.ID, parts.InBath, "", "1"); err == nil {
		t.Error("into a bath by hand")
	}
	d, err := s.TakeDown(t.Context(), c.ID)
	if err != nil {
		t.Fatal(err)
	}
	last := len(d.Ledger.Log())
	if err := s.UndoParts(t.Context(), "tester", c.ID, last); err == nil || !strings.Contains(fmt.Sprint(AsProblem(err).Fields), "made by a bath") {
		t.Errorf("what the bath did was taken back by hand: %v", err)
	}
	if _, err := s.ChangeParts(t.Context(), "tester", c.ID, "", addEvent(parts.Event{Entry: ledger.Entry{Undoes: last}, Batch: id})); err != nil || stateOf(t, s, c, "1") != parts.InBath {
		t.Fatal(err, stateOf(t, s, c, "1"))
	}
	if err := out(); err != nil || stateOf(t, s, c, "1") != parts.Dry {
		t.Errorf("%v; the wheel is %s", err, stateOf(t, s, c, "1"))
	}
}
