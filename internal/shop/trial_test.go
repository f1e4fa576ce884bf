package shop

import (
	"context"
	"math"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func trialOf(t *testing.T, s *Shop, clock int64) Trial {
	t.Helper()
	x, err := s.Trial(t.Context(), clock)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func read(at time.Time, fast float64) trial.Event {
	return trial.OfReadings(&trial.Host{From: trial.ByComputer}, "", regulate.Reading{At: at, How: regulate.ByHand, Error: unit.Duration(fast), U: 0.5})
}

func TestTrialIsKept(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	ctx := t.Context()
	if x := trialOf(t, s, c.ID); x.Book.Len() != 0 || x.Query == nil {
		t.Errorf("%+v", x)
	}
	first := read(w.now, 12)
	done, err := s.AddTrial(ctx, "Ada", c.ID, 0, first, trial.OfAir(nil, "", regulate.Air{At: w.now, Temperature: meas.Exactly(unit.Temperature(291))}))
	if err != nil || len(done) != 2 || done[1].N != 2 || done[0].Host.Kept == "" || done[0].Who != "Ada" {
		t.Fatalf("%+v %v", done, err)
	}
	before := trialOf(t, s, c.ID)
	if again := trialOf(t, s, c.ID); again.Book != before.Book || again.Query != before.Query {
		t.Error("it was reckoned again though nothing was written")
	}
	// The button pressed twice is one reading; another's adds up.
	if p := AsProblem(second(s.AddTrial(ctx, "Ada", c.ID, 0, first))); p.Code != Conflict {
		t.Errorf("the same twice: %+v", p)
	}
	w.now = w.now.Add(time.Minute)
	if _, err := s.AddTrial(ctx, "Bo", c.ID, 0, read(w.now, 12)); err != nil {
		t.Errorf("another reading: %v", err)
	}
	// All or none, with every mistake.
	p := AsProblem(second(s.AddTrial(ctx, "Ada", c.ID, 3, read(w.now, 3), trial.OfTouch(nil, regulate.Touch{At: w.now, Kind: regulate.NutTurned}))))
	if x := trialOf(t, s, c.ID); p.Code != BadInput || len(p.Fields) != 1 || x.Book.Len() != 3 || len(x.Query.Readings) != 2 {
		t.Errorf("%+v, %d entries", p, x.Book.Len())
	}
	if _, err := s.AddTrial(ctx, "Ada", c.ID, 3, trial.Undo(1)); err != nil {
		t.Error(err)
	}
	if x := trialOf(t, s, c.ID); len(x.Query.Readings) != 1 || x.Query.Readings[0].ID != 2 {
		t.Errorf("%+v", x.Query.Readings)
	}
	if p := AsProblem(second(s.AddTrial(ctx, "Bo", c.ID, 3, trial.Undo(1)))); p.Code != BadInput {
		t.Errorf("taken back twice: %+v", p)
	}
}

func second[T any](_ T, err error) error { return err }

func TestGatesMovedMeanwhile(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1"})
	aim := trial.OfAim(trial.Aim{Band: unit.RatePerDay(2), Gates: []trial.Gate{{Key: "stand", Name: "Stand", Days: 7}}})
	if _, err := s.AddTrial(t.Context(), "Ada", c.ID, 0, aim, trial.OfGate(trial.Began, "stand", "")); err != nil {
		t.Fatal(err)
	}
	if p := AsProblem(second(s.AddTrial(t.Context(), "Bo", c.ID, 0, trial.OfGate(trial.Failed, "stand", "it stopped")))); p.Code != Conflict {
		t.Errorf("%+v", p)
	}
	if _, err := s.AddTrial(t.Context(), "Bo", c.ID, 2, trial.OfGate(trial.Failed, "stand", "it stopped")); err != nil {
		t.Error(err)
	}
}

// What the survey says of the pendulum is known of the clock on trial, and
// anew when the survey changes.
func TestSurveyLendsToTheTrial(t *testing.T) {
	s := open(t)
	turn := 0.8e-3
	s.ReadSurveys(func(typed map[string]map[string][]string) Survey {
		q := pendulum.Query{Length: meas.Of(unit.Length(0.994)), NutPitch: meas.Of(unit.Pitch(turn)), NutDivisions: len(typed[job.PendulumPart])}
		return Survey{Pendulum: &q}
	})
	c := add(t, s, job.Clock{Number: "1"})
	k := trialOf(t, s, c.ID).Query.Known
	if want := 43200 * turn / 0.994; math.Abs(k.PerTurn.Value.PerDay()-want) > 0.05 || k.Divisions != 0 || k.PerGram.Set {
		t.Errorf("%+v, want %g s/d a turn", k, want)
	}
	if _, err := s.SavePart(t.Context(), "Ada", c.ID, job.PendulumPart, job.Part{Values: values("nut-pitch", "1 mm")}); err != nil {
		t.Fatal(err)
	}
	if k := trialOf(t, s, c.ID).Query.Known; k.Divisions != 1 {
		t.Errorf("the survey has changed, and %+v", k)
	}
}

// The computer's clock is set while the program runs: the next entry of each
// trial says by how much, once.
func TestComputerClockSetBetweenEntries(t *testing.T) {
	set := time.Duration(0)
	s, err := Open(t.Context(), t.TempDir(), func() time.Time { return stepped(set) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	c := add(t, s, job.Clock{Number: "1"})
	step := func(fast float64) unit.Duration {
		t.Helper()
		done, err := s.AddTrial(t.Context(), "Ada", c.ID, 0, read(s.now(), fast))
		if err != nil {
			t.Fatal(err)
		}
		return done[0].Host.Stepped
	}
	if got := step(1); got != 0 {
		t.Errorf("%g s before anything was set", float64(got))
	}
	set = -90 * time.Second
	// An entry without a time of day between them does not swallow it.
	if _, err := s.AddTrial(t.Context(), "Ada", c.ID, 1, trial.OfAim(trial.Aim{Band: unit.RatePerDay(2)})); err != nil {
		t.Fatal(err)
	}
	if got := step(2); math.Abs(float64(got)+90) > 0.5 {
		t.Errorf("set by %g s, want −90", float64(got))
	}
	if got := step(3); got != 0 {
		t.Errorf("told twice: %g s", float64(got))
	}
	// What that makes doubtful depends on whether this computer's clock is kept
	// right, which is the kernel's to say; that it went back is in the log.
	log := trialOf(t, s, c.ID).Book.Log()
	if !log[2].When.Before(log[0].When) {
		t.Errorf("%v, then %v", log[0].When, log[2].When)
	}
}

// stepped is the computer's time with its steady count, as if it had been set.
func stepped(by time.Duration) time.Time { return time.Now().Add(by) }

func TestDemoTrial(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	all := demoWeeks(now)
	var b trial.Book
	for _, e := range all {
		if _, f := b.Add(e); len(f) > 0 {
			t.Fatal(f)
		}
		if e.When.After(now) {
			t.Errorf("entry at %v, after now", e.When)
		}
	}
	q := b.Query(time.UTC)
	if len(q.Readings) < 40 || len(q.Touches) < 5 || len(q.Air) != len(q.Readings) || len(b.Questions()) > 0 {
		t.Errorf("%d readings, %d touches, %d of air, %v", len(q.Readings), len(q.Touches), len(q.Air), b.Questions())
	}
}

func BenchmarkTrialOfAYear(b *testing.B) {
	now := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	s, err := Open(context.Background(), b.TempDir(), func() time.Time { return now })
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	c, err := s.AddClock(context.Background(), "Ada", job.Clock{Number: "1"})
	if err != nil {
		b.Fatal(err)
	}
	var table []regulate.Reading
	for i := range 8760 {
		table = append(table, regulate.Reading{At: now.Add(time.Duration(i-8760) * time.Hour), How: regulate.Brought, Error: unit.Duration(i), U: 0.5})
	}
	if _, err := s.AddTrial(context.Background(), "Ada", c.ID, 0, trial.OfReadings(nil, "year.csv", table...)); err != nil {
		b.Fatal(err)
	}
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			s.trials.kept = nil
			if _, err := s.Trial(context.Background(), c.ID); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("kept", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Trial(context.Background(), c.ID); err != nil {
				b.Fatal(err)
			}
		}
	})
}
