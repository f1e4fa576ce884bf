package shop

import (
	"slices"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
)

// lineOn is the line of a clock on Today.
func lineOn(t *testing.T, s *Shop, id int64) OnTrial {
	t.Helper()
	today, err := s.Today(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(today.Trials, func(x OnTrial) bool { return x.Clock.ID == id })
	if i < 0 {
		t.Fatalf("clock %d is not on trial: %+v", id, today.Trials)
	}
	return today.Trials[i]
}

// wantedOf is the words of what a clock wants.
func wantedOf(o OnTrial) string {
	var words []string
	for _, w := range o.Wants {
		words = append(words, w.Words)
	}
	return strings.Join(words, "; ")
}

// TestTodayOfAClockOnTrial follows a clock from its first reading over a stop
// to a signature, as Today has it.
func TestTodayOfAClockOnTrial(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	ctx := t.Context()
	idle := add(t, s, job.Clock{Number: "6", Stage: job.Trial})
	c := add(t, s, job.Clock{Number: "7", Title: "Wall clock", Stage: job.Trial, Promise: "2026-03-12"})
	if o := lineOn(t, s, c.ID); o.Going != "no rate yet" || !strings.Contains(o.Gate, "has not begun") || wantedOf(o) != "promise at risk" {
		t.Errorf("%+v", o)
	}
	aim := trial.DefaultAim()
	aim.BeatError, aim.Gates = 0, aim.Gates[:1]
	if err := s.SetAim(ctx, "Ada", c.ID, 0, aim); err != nil {
		t.Fatal(err)
	}
	if err := s.BeginGate(ctx, "Ada", c.ID, 1, "stand", time.Time{}); err != nil {
		t.Fatal(err)
	}
	if o := lineOn(t, s, c.ID); wantedOf(o) != "" {
		t.Errorf("a week to go, promised in eight days: %+v", o)
	}
	for day := range 4 {
		if _, err := s.AddTrial(ctx, "Ada", c.ID, 99, read(w.now, 2*float64(day))); err != nil {
			t.Fatal(err)
		}
		w.pass(24 * time.Hour)
	}
	if o := lineOn(t, s, c.ID); !o.Rate.Set || !strings.Contains(o.Going, "s a day") || !strings.Contains(o.Gate, "day 5 of 7") {
		t.Errorf("%+v", o)
	}
	w.pass(40 * time.Hour)
	if o := lineOn(t, s, c.ID); !strings.Contains(wantedOf(o), "reading due") {
		t.Errorf("%q", wantedOf(o))
	}
	if _, err := s.AddTrial(ctx, "Ada", c.ID, 99, trial.OfStop(nil, trial.Stop{Found: w.now, Hour: 3, Minute: 20, Strike: "at rest"})); err != nil {
		t.Fatal(err)
	}
	o := lineOn(t, s, c.ID)
	if len(o.Wants) == 0 || !strings.HasPrefix(o.Wants[0].Words, "stands since") || !o.Wants[0].Late || !strings.Contains(wantedOf(o), "promise at risk") {
		t.Errorf("%+v", o.Wants)
	}
	today, err := s.Today(ctx)
	if err != nil || len(today.Trials) != 2 || today.Trials[0].Clock.ID != c.ID || today.Trials[1].Clock.ID != idle.ID {
		t.Errorf("%v: what wants a hand does not come first: %+v", err, today.Trials)
	}
	if _, err := s.AddTrial(ctx, "Ada", c.ID, 99, trial.OfTouch(nil, regulate.Touch{At: w.now.Add(-time.Minute), Kind: regulate.Started})); err != nil {
		t.Fatal(err)
	}
	for day := range 8 {
		w.pass(24 * time.Hour)
		if _, err := s.AddTrial(ctx, "Ada", c.ID, 99, read(w.now, float64(day))); err != nil {
			t.Fatal(err)
		}
	}
	if o := lineOn(t, s, c.ID); strings.Contains(wantedOf(o), "stands") {
		t.Errorf("it goes: %q", wantedOf(o))
	}
}

// TestTodayRechecksNothing: as long as nothing is written, no trial is read or
// reckoned again.
func TestTodayRechecksNothing(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "7", Stage: job.Trial})
	if _, err := s.AddTrial(t.Context(), "Ada", c.ID, 0, read(w.now, 1)); err != nil {
		t.Fatal(err)
	}
	before := lineOn(t, s, c.ID)
	kept := s.trials.kept[c.UID].answer
	w.pass(3 * time.Hour)
	if after := lineOn(t, s, c.ID); before.Going != after.Going || s.trials.kept[c.UID].answer != kept {
		t.Error("it was reckoned again though nothing was written")
	}
}
