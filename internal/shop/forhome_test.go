package shop

import (
	"math"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// readFor reads a clock every half day for so many, from what it is wrong by
// on at so much a day, and gives what it is wrong by then.
func readFor(t *testing.T, s *Shop, w *wall, clock int64, days int, fast, rate float64) float64 {
	t.Helper()
	for range 2 * days {
		w.pass(12 * time.Hour)
		fast += rate / 2
		r := trial.OfReadings(&trial.Host{From: trial.ByPhone, Kept: trial.KeptRight}, "", regulate.Reading{At: job.Instant(w.now), How: regulate.ByHand, Error: unit.Duration(math.Round(10*fast) / 10), U: 0.2})
		if _, err := s.AddTrial(t.Context(), "Ada", clock, math.MaxInt32, r); err != nil {
			t.Fatal(err)
		}
	}
	return fast
}

// TestSetForHome takes a clock that is right here to its last gate: from then
// on it is set for its home, and the gate asks for what is right there.
func TestSetForHome(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	s.ReadSurveys(func(map[string]map[string][]string) Survey {
		return Survey{Pendulum: &pendulum.Query{Length: meas.Of(unit.Length(0.994)), NutPitch: meas.Of(unit.Pitch(0.8e-3)), NutDivisions: 60, Gravity: meas.OfU(unit.Acceleration(9.8119), 1e-5)}}
	})
	c := add(t, s, job.Clock{Number: "1", Title: "Clock", Stage: job.Trial})
	ctx, id := t.Context(), c.ID
	aim := trial.DefaultAim()
	aim.BeatError = 0
	aim.Home = &trial.Home{Gravity: "9.8155 ± 0.00001"} // 15.8 s a day
	if err := s.SetAim(ctx, "Ada", id, 0, aim); err != nil {
		t.Fatal(err)
	}
	if err := s.BeginGate(ctx, "Ada", id, math.MaxInt32, "stand", time.Time{}); err != nil {
		t.Fatal(err)
	}
	fast := readFor(t, s, w, id, 8, 0, 0.2)
	x := trialOf(t, s, id)
	if x.Answer.Advice.Home != nil || x.Answer.Advice.Do != regulate.Leave || !noted(x, "regulate.home", "The advice is for here until the last gate") {
		t.Fatalf("before the last gate: %+v\n%+v", x.Answer.Advice, x.Answer.Findings)
	}
	if err := s.SignGate(ctx, "Ada", id, math.MaxInt32, "stand", ""); err != nil {
		t.Fatal(err)
	}
	x = trialOf(t, s, id)
	h := x.Answer.Advice.Home
	if h == nil || x.Answer.Advice.Do != regulate.Turn || math.Abs(h.Move.Value.PerDay()-15.85) > 0.2 || !strings.Contains(x.Answer.Advice.Words, "set for home") {
		t.Fatalf("at the last gate: %+v", x.Answer.Advice)
	}
	if first := x.Answer.Working[0].Name; !strings.HasPrefix(first, "Gravity") && first != "Rate at the other place" {
		t.Errorf("the working of the move is not there: it begins with %s", first)
	}
	if g := gatesOf(t, s, id); g.Standing.Gates[0].State != trial.Signed || g.Standing.Gates[0].Move != 0 {
		t.Errorf("the gate that was signed here: %+v", g.Standing.Gates[0])
	}

	turned := float64(x.Answer.Advice.Turns.Value)
	if _, err := s.AddTrial(ctx, "Ada", id, math.MaxInt32, trial.OfTouch(nil, regulate.Touch{At: job.Instant(w.now), Kind: regulate.NutTurned, Turns: turned})); err != nil {
		t.Fatal(err)
	}
	if err := s.BeginGate(ctx, "Ada", id, math.MaxInt32, "case", time.Time{}); err != nil {
		t.Fatal(err)
	}
	readFor(t, s, w, id, 8, fast, -15.6)
	g := gatesOf(t, s, id)
	last := g.Standing.Gates[1]
	if last.State != trial.Ready || math.Abs(last.Aim.PerDay()+15.85) > 0.2 || !strings.Contains(last.Tests[3].Name, "of −15.8\u00a0s/d, which is right at home") {
		t.Errorf("the last gate: %+v", last)
	}

	if err := s.SetForHome(ctx, "Ada", id, g.Book.Len(), trial.NotAtAll); err != nil {
		t.Fatal(err)
	}
	if x = trialOf(t, s, id); x.Answer.Advice.Home != nil || x.Answer.Advice.Turns.Value <= 0 {
		t.Errorf("regulated for here again: %+v", x.Answer.Advice)
	}
	if g = gatesOf(t, s, id); g.Standing.Gates[1].State != trial.Missed {
		t.Errorf("for here it is not right: %+v", g.Standing.Gates[1])
	}
	if p := AsProblem(s.SetForHome(ctx, "Ada", id, g.Book.Len(), trial.NotAtAll)); p.Code != Conflict {
		t.Errorf("%+v", p)
	}
}

func noted(t Trial, code, words string) bool {
	for _, f := range t.Answer.Findings {
		if f.Code == code && strings.Contains(f.Text, words) {
			return true
		}
	}
	return false
}

// What the home does may not be known, or not be readable: that is said, and
// the advice is for here.
func TestHomeThatIsNotKnown(t *testing.T) {
	for want, h := range map[string]trial.Home{"what going there does is not known": {Latitude: "58 N"}, "cannot be reckoned with": {Latitude: "north", Temperature: "12"}} {
		w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
		s := timedShop(t, t.TempDir(), w)
		c := add(t, s, job.Clock{Number: "1", Title: "Clock", Stage: job.Trial})
		aim := trial.DefaultAim()
		aim.Home, aim.ForHome = &h, trial.FromNow
		if err := s.SetAim(t.Context(), "Ada", c.ID, 0, aim); err != nil {
			t.Fatal(err)
		}
		readFor(t, s, w, c.ID, 3, 0, 0.2)
		if x := trialOf(t, s, c.ID); x.Answer.Advice.Home != nil || !noted(x, "regulate.home", want) {
			t.Errorf("%s: %+v", want, x.Answer.Findings)
		}
	}
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	if p := AsProblem(s.SetForHome(t.Context(), "Ada", c.ID, 0, trial.FromNow)); p.Code != BadInput {
		t.Errorf("%+v", p)
	}
}
