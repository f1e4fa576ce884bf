package shop

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
)

func gatesOf(t *testing.T, s *Shop, clock int64) Gates {
	t.Helper()
	g, err := s.Gates(t.Context(), clock)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// refused wants a mistake in a field.
func refused(t *testing.T, what string, err error, field, words string) {
	t.Helper()
	p := AsProblem(err)
	if err == nil || p.Code != BadInput || len(p.Fields) == 0 || p.Fields[0].Field != field || !strings.Contains(p.Fields[0].Text, words) {
		t.Errorf("%s: %v %+v", what, err, p)
	}
}

// TestGatesFromBeginningToHome carries a clock through its gates.
func TestGatesFromBeginningToHome(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1", Title: "Clock", Stage: job.Trial})
	ctx := t.Context()
	g := gatesOf(t, s, c.ID)
	if g.Said || len(g.Standing.Gates) != 2 || g.Standing.Gates[0].State != trial.NotBegun {
		t.Fatalf("%+v", g)
	}
	refused(t, "sign what has not begun", s.SignGate(ctx, "Ada", c.ID, 0, "stand", "because"), "gate", "has not begun")
	refused(t, "sign what comes later", s.SignGate(ctx, "Ada", c.ID, 0, "case", "because"), "gate", "not the one")
	refused(t, "no such gate", s.SignGate(ctx, "Ada", c.ID, 0, "tower", ""), "gate", "tower")
	refused(t, "begin later", s.BeginGate(ctx, "Ada", c.ID, 0, "stand", w.now.Add(time.Hour)), "from", "yet to come")
	if err := s.BeginGate(ctx, "Ada", c.ID, 0, "stand", time.Time{}); err != nil {
		t.Fatal(err)
	}
	if g = gatesOf(t, s, c.ID); !g.Said || g.Book.Len() != 2 || g.Standing.Gates[0].State != trial.UnderWay || !g.Standing.Gates[0].From.Equal(w.now) {
		t.Fatalf("%+v", g.Standing)
	}

	w.pass(24 * time.Hour)
	if _, err := s.AddTrial(ctx, "Ada", c.ID, 2, read(w.now, 3), trial.OfTouch(nil, regulate.Touch{At: w.now, Kind: regulate.NutTurned, Turns: -0.5})); err != nil {
		t.Fatal(err)
	}
	g = gatesOf(t, s, c.ID)
	if x := g.Standing.Gates[0]; !x.From.Equal(w.now) || len(x.Unwritten()) != 1 {
		t.Errorf("the nut was turned: %+v", x)
	}
	if err := s.WriteResets(ctx, "Ada", c.ID, g.Book.Len(), "stand"); err != nil {
		t.Fatal(err)
	}
	if p := AsProblem(s.WriteResets(ctx, "Ada", c.ID, 9, "stand")); p.Code != Conflict {
		t.Errorf("written twice: %+v", p)
	}
	if g = gatesOf(t, s, c.ID); len(g.Standing.Gates[0].Unwritten()) != 0 || g.Standing.Gates[0].Resets[0].Who != "Ada" {
		t.Errorf("%+v", g.Standing.Gates[0].Resets)
	}
	refused(t, "anew without a reason", s.FailGate(ctx, "Ada", c.ID, 9, "stand", " ", time.Time{}), "why", "Say why")
	refused(t, "anew before it began", s.FailGate(ctx, "Ada", c.ID, 9, "stand", "x", w.now.Add(-100*time.Hour)), "from", "only later")
	refused(t, "not ready", s.SignGate(ctx, "Ada", c.ID, 9, "stand", ""), "why", "7\u00a0days on end – cannot be told yet")

	home := g.Clock
	home.Stage = job.GoingHome
	_, err := s.SaveClock(ctx, "Ada", home)
	refused(t, "home without its gates", err, "stage", "not passed")
	if err := s.SignGate(ctx, "Ada", c.ID, 9, "stand", "the owner waits"); err != nil {
		t.Fatal(err)
	}
	if g = gatesOf(t, s, c.ID); g.Standing.Current != 1 || g.Standing.Gates[0].Sign.Why != "the owner waits" {
		t.Errorf("%+v", g.Standing)
	}
	refused(t, "given up without a reason", s.WaiveGates(ctx, "Ada", c.ID, 9, ""), "why", "Say why")
	if err := s.WaiveGates(ctx, "Ada", c.ID, 9, "no case to stand in"); err != nil {
		t.Fatal(err)
	}
	g = gatesOf(t, s, c.ID)
	if e, ok := g.Book.Waived(); !ok || e.Why != "no case to stand in" || !g.Standing.Passed || g.Clock.Stage != job.GoingHome || len(g.Aim.Gates) != 1 {
		t.Errorf("%+v %+v", g.Standing, g.Clock.Stage)
	}
	if _, err := s.SaveClock(ctx, "Ada", g.Clock); err != nil {
		t.Errorf("it is on its way: %v", err)
	}
}

// TestGatesOfTwoWindows: who has not seen that a gate was moved moves none.
func TestGatesOfTwoWindows(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1", Stage: job.Trial})
	if err := s.BeginGate(t.Context(), "Ada", c.ID, 0, "stand", time.Time{}); err != nil {
		t.Fatal(err)
	}
	for what, err := range map[string]error{
		"begun": s.BeginGate(t.Context(), "Bo", c.ID, 0, "stand", time.Time{}), "signed": s.SignGate(t.Context(), "Bo", c.ID, 0, "stand", "x"),
		"anew": s.FailGate(t.Context(), "Bo", c.ID, 0, "stand", "x", time.Time{}), "aimed": s.SetAim(t.Context(), "Bo", c.ID, 0, trial.Presets()[0].Aim),
	} {
		if p := AsProblem(err); err == nil || p.Code != Conflict {
			t.Errorf("%s: %v", what, err)
		}
	}
}
