package missing

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestChecks(t *testing.T) { check.All(t, Checks()) }

// ask is a query of a going train as text.
func ask(t *testing.T, going string, more func(q *Query)) Query {
	t.Helper()
	q := Query{Train: train.Query{Trains: []train.Train{{Name: train.Going, Chain: train.MustChain(going)}}}}
	if more != nil {
		more(&q)
	}
	return q
}

func answer(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(context.Background(), q, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := json.Marshal(a); err != nil {
		t.Fatal(err)
	}
	return a
}

// says tells whether a finding of that code has all the words.
func says(t *testing.T, a Answer, code string, words ...string) {
	t.Helper()
	for _, f := range a.Findings {
		if f.Code != code {
			continue
		}
		for _, w := range words {
			if !strings.Contains(f.Text+" "+f.Next, w) {
				t.Errorf("%s: %q is not in %q → %q", code, w, f.Text, f.Next)
			}
		}
		return
	}
	t.Errorf("there is no finding %s in %+v", code, a.Findings)
}

func mm(x float64) meas.Reading[unit.Length] {
	r, err := meas.Parse[unit.Length](fmt.Sprint(x, " mm"), "mm")
	if err != nil {
		panic(err)
	}
	return r
}

func pendulum(x, u float64) meas.Reading[unit.Length] {
	return meas.OfU(unit.Millimetres(x), unit.Millimetres(u))
}

func TestLostThirdWheel(t *testing.T) {
	a := answer(t, ask(t, "96/8 60/8 ?/7 30", func(q *Query) { q.Train.HourArbor, q.Train.Pendulum = "2", pendulum(994, 2) }))
	if len(a.Gaps) != 1 || !a.Complete {
		t.Fatalf("%+v", a)
	}
	g := a.Gaps[0]
	c := g.Candidates[0]
	if c.Counts[0] != 56 || c.Chain != "96/8 60/8 56?/7 30" || c.Beats.String() != "3600" || g.Found != 1 {
		t.Errorf("%+v", c)
	}
	check.Near(t, "seconds a day on that pendulum", c.Rate.Value.PerDay(), -17, 3)
	check.Near(t, "pendulum that it wants", c.Pendulum.Value.MM(), 993.6, 0.1)
	check.Near(t, "points in all", sum(c), c.Points, 1e-9)
}

func sum(c Candidate) float64 {
	s := 0.0
	for _, r := range c.Reasons {
		s += r.Points
	}
	return s
}

func TestTwoGapsAndRunning(t *testing.T) {
	a := answer(t, ask(t, "?/8 60/8 56/7 ?", func(q *Query) {
		q.Train.HourArbor, q.Train.Pendulum = "2", pendulum(994, 2)
		q.Train.Trains[0].BarrelTurns, q.GoingRuns = meas.Of(unit.Ratio(16)), meas.Of(unit.Duration(8*86400))
	}))
	if len(a.Gaps) != 2 || a.Gaps[0].Candidates[0].Counts[0] != 96 || a.Gaps[1].Candidates[0].Counts[0] != 30 {
		t.Fatalf("%+v", a.Gaps)
	}
	if got := a.Gaps[0].Candidates[0].Runs.Mixed(); got != "192" {
		t.Errorf("it runs %s h", got)
	}
}

// The seconds hand cuts one gap in two.
func TestSecondsHand(t *testing.T) {
	a := answer(t, ask(t, "96/8 ?/8 ?/? 30", func(q *Query) { q.Train.HourArbor, q.SecondsHand = "2", "4" }))
	if len(a.Gaps) != 1 || a.Gaps[0].Wanted.Mixed() != "480" {
		t.Fatalf("%+v", a.Gaps)
	}
	for _, c := range a.Gaps[0].Candidates {
		if c.Counts[0]*c.Counts[1] != 480*c.Counts[2] {
			t.Errorf("%v", c.Counts)
		}
	}
}

func TestMotionWorkOfTwelve(t *testing.T) {
	a := answer(t, ask(t, "96/8 60/8 56/7 30", func(q *Query) { q.Train.Motion = train.MustChain("?/12 ?/10") }))
	if len(a.Gaps) != 1 || a.Gaps[0].Wanted.Mixed() != "1440" {
		t.Fatalf("%+v", a.Gaps)
	}
}

// A thirty-hour clock in which nothing turns once an hour.
func TestNoHourArbor(t *testing.T) {
	a := answer(t, ask(t, "?/6 60/6 42/6 15", func(q *Query) {
		q.Train.HourArbor, q.Train.Pendulum = "none", pendulum(155.8, 0.5)
		q.Train.Motion, q.Train.MotionArbor = train.MustChain("48/12"), "1"
	}))
	if a.Gaps[0].Candidates[0].Counts[0] != 78 {
		t.Errorf("%+v", a.Gaps[0].Candidates)
	}
}

func TestSizesNarrow(t *testing.T) {
	with := func(depth float64) func(q *Query) {
		return func(q *Query) {
			q.Train.HourArbor = "2"
			_ = q.Train.Beats.UnmarshalText([]byte("3600"))
			rows := train.MustChain("96/8 60/8 ?/? 30").Arbors()
			rows[2].Depth, rows[2].WheelDiameter = mm(depth), mm(46.3)
			q.Train.Trains[0] = train.Train{Name: train.Going, Arbors: rows}
			q.Module = meas.OfU(unit.Millimetres(0.7), unit.Millimetres(0.005))
		}
	}
	a := answer(t, ask(t, "96/8 60/8 ?/? 30", with(25.2)))
	g := a.Gaps[0]
	if g.Found == 0 || g.Found > 2 || g.Candidates[0].Counts[0] != 64 {
		t.Fatalf("%d found: %+v", g.Found, g.Candidates)
	}
	a = answer(t, ask(t, "96/8 60/8 ?/? 30", with(0.992)))
	says(t, a, "clash", "centres of arbors 3 and 4 0.992 mm", "3600 beats an hour were stated", "measured in inches")
}

func TestImpossible(t *testing.T) {
	a := answer(t, ask(t, "96/8 60/8 ?/8 30", func(q *Query) { q.Train.HourArbor = "2"; _ = q.Train.Beats.UnmarshalText([]byte("3607")) }))
	says(t, a, "impossible", "The nearest that can be", "64 teeth for the wheel of arbor 3", "65 teeth")
	if len(a.Gaps[0].Nearest) != 2 || a.Complete {
		t.Errorf("%+v", a.Gaps[0])
	}
	a = answer(t, ask(t, "96/8 60/8 ?/8 30", func(q *Query) { q.Train.HourArbor, q.Train.Pendulum = "2", mm(39.14) }))
	says(t, a, "unit", "measured in inches", "64 teeth")
	a = answer(t, ask(t, "?/8 60/8 56/7 30", func(q *Query) {
		q.Train.HourArbor, q.SecondsHand = "2", "3"
	}))
	says(t, a, "clash", "arbor 2 turns once in an hour", "the seconds hand on arbor 3")
	says(t, a, "unfixed", "the wheel of arbor 1", "time it runs")
}

// Beats and a pendulum that were both stated are held against each other; the
// beats are used, and a pendulum of about their length is not complained of.
func TestBeatsAgainstPendulum(t *testing.T) {
	of := func(length float64) Answer {
		return answer(t, ask(t, "96/8 60/8 ?/7 30", func(q *Query) {
			if err := q.Train.Beats.UnmarshalText([]byte("3600")); err != nil {
				t.Fatal(err)
			}
			q.Train.HourArbor, q.Train.Pendulum = "2", mm(length)
		}))
	}
	a := of(1430)
	says(t, a, "clash", "3600 beats an hour were stated", "the pendulum of 1430 mm")
	if a.Complete || a.Gaps[0].Candidates[0].Counts[0] != 56 {
		t.Error(a.Complete, a.Gaps[0].Candidates)
	}
	if a := of(990); !a.Complete {
		t.Error(a.Findings)
	}
}

func TestMistakes(t *testing.T) {
	for _, c := range []struct {
		q     Query
		words []string
	}{
		{ask(t, "96/8 60/8 56/7 30", nil), []string{"Nothing is missing"}},
		{ask(t, "96/8 60/8 ?/7 30", func(q *Query) { q.Pinions = Range{Low: 3, High: 12}; q.Module = mm(-1); q.SecondsHand = "9" }), []string{"3 leaves", "module", "“9”"}},
		{ask(t, "96/8 60/8 ?/7 30", func(q *Query) { q.GoingRuns = meas.Of(unit.Duration(8 * 86400)); q.SlowShows = "moon" }), []string{"turns of the barrel", "slow dial"}},
	} {
		_, err := Solve(context.Background(), c.q, nil)
		var f meas.Faults
		if !errors.As(err, &f) {
			t.Fatalf("%v", err)
		}
		for _, w := range c.words {
			if !strings.Contains(f.Error(), w) {
				t.Errorf("%q is not in %q", w, f.Error())
			}
		}
	}
	a := answer(t, ask(t, "96/8 60/8 ?/3 30", func(q *Query) { q.Train.HourArbor, q.Train.Pendulum = "2", mm(994) }))
	says(t, a, "count", "pinion of 3 leaves")
}

func TestTexts(t *testing.T) {
	for text, want := range map[string]Range{"20-160": {20, 160, "20-160"}, "20 to 30": {20, 30, "20 to 30"}, "64": {64, 64, "64"}, "": {}} {
		var r Range
		if err := r.UnmarshalText([]byte(text)); err != nil || r != want {
			t.Errorf("%q: %+v %v", text, r, err)
		}
	}
	for _, text := range []string{"x", "30-20", "0-9", "1-5000", "1 2 3"} {
		var r Range
		if err := r.UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q is taken as %v", text, r)
		}
	}
	var c Circles
	if err := c.UnmarshalText([]byte("360, 96 144")); err != nil || c.Of(48) != 96 || c.Of(7) != 0 {
		t.Errorf("%+v %v", c, err)
	}
	var m Makes
	if err := m.UnmarshalText([]byte("2 to 4 makes 60\nstrike 1 to 3 = 58.5\n1 to 2 = 7.5 ± 0.2")); err != nil || len(m.lines) != 3 || m.lines[1].train != train.Strike || !m.lines[2].measured.Set {
		t.Errorf("%+v %v", m, err)
	}
	if err := m.UnmarshalText([]byte("2 to 4\n2 = 3\n1 to 2 = x")); err == nil || len(m.errs) != 3 {
		t.Errorf("%+v", m.errs)
	}
}

func FuzzMakes(f *testing.F) {
	f.Add("2 to 4 makes 60")
	f.Add("strike 1 to 3 = 58.5 ± 1\nx")
	f.Fuzz(func(t *testing.T, s string) {
		q := ask(t, "96/8 60/8 ?/7 30", nil)
		_ = q.Makes.UnmarshalText([]byte(s))
		if _, err := Solve(context.Background(), q, nil); err != nil {
			var faults meas.Faults
			if !errors.As(err, &faults) {
				t.Fatal(err)
			}
		}
	})
}
