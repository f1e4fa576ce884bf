package regulate

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func start() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }

// steady is a clock read every gap days that gains so much, with readings
// scattered by u.
func steady(seed uint64, n int, gap, perDay, u float64) Query {
	rng := rand.New(rand.NewPCG(seed, 1))
	var q Query
	for i := range n {
		at := float64(i) * gap
		q.Readings = append(q.Readings, Reading{ID: i + 1, At: start().Add(time.Duration(at * 86400e9)), How: ByHand,
			Error: unit.Duration(3 + perDay*at + u*rng.NormFloat64()), U: u})
	}
	return q
}

func solved(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestSteadyClock(t *testing.T) {
	a := solved(t, steady(1, 15, 1, 12, 0.3))
	if !a.Rate.Now.Has(unit.RatePerDay(12)) || a.Rate.Now.U.PerDay() > 0.5 {
		t.Errorf("the rate is %s", a.Rate.Now.Text("s/d"))
	}
	if len(a.Questions) > 0 {
		t.Errorf("it asks %v", a.Questions)
	}
	if len(a.Past) != 15 || len(a.Ahead) != 8 {
		t.Errorf("%d and %d points", len(a.Past), len(a.Ahead))
	}
	if a.Advice.Do != Turn || a.Advice.Turns.Value >= 0 {
		t.Errorf("it advises %s: %s", a.Advice.Do, a.Advice.Words)
	}
}

// TestTwoThatContradict asks about one of two readings that cannot both be
// right, and uses the other.
func TestTwoThatContradict(t *testing.T) {
	up := func(at time.Time) Touch { return Touch{At: at, Kind: NutTurned, Turns: 0.5} }
	for _, touches := range [][]Touch{nil, {up(start()), up(start())}} {
		a := solved(t, Query{Touches: touches, Readings: []Reading{
			{ID: 1, At: start(), How: ByHand, Error: 3600},
			{ID: 2, At: start().Add(time.Minute), How: ByHand},
		}})
		if len(a.Questions) != 1 || a.Advice.Do != Wait {
			t.Errorf("with %d touches it asks %v and advises %s", len(touches), a.Questions, a.Advice.Words)
		}
	}
}

// TestMistakesAreAskedAbout plants one mistake in a good trial; it is found,
// named and has no weight.
func TestMistakesAreAskedAbout(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(q *Query)
		about Doubtful
		id    int
	}{
		{"half a day", func(q *Query) { q.Readings[7].Error += 43200 }, HalfDay, 8},
		{"half a day, the other way", func(q *Query) { q.Readings[7].Error -= 43200 }, HalfDay, 8},
		{"evening written as morning", func(q *Query) {
			for i := range q.Readings {
				q.Readings[i].Error += unit.Duration(20 * float64(i))
			}
			q.Readings[6].Error += 16
		}, WrongHalf, 7},
		{"an hour", func(q *Query) { q.Readings[5].Error -= 3600 }, SummerTime, 6},
		{"a minute", func(q *Query) { q.Readings[9].Error += 60 }, WrongMinute, 10},
		{"a stray", func(q *Query) { q.Readings[9].Error += 23 }, Stray, 10},
		{"the last one", func(q *Query) { q.Readings[14].Error += 43200 }, HalfDay, 15},
		{"the first one", func(q *Query) { q.Readings[0].Error += 43200 }, HalfDay, 1},
		{"hands set", func(q *Query) {
			for i := 8; i < 15; i++ {
				q.Readings[i].Error -= 95
			}
		}, SetUnnoted, 9},
		{"hands set an hour", func(q *Query) {
			for i := 8; i < 15; i++ {
				q.Readings[i].Error -= 3600
			}
		}, SetUnnoted, 9},
		{"the nut turned", func(q *Query) {
			for i := 7; i < 15; i++ {
				q.Readings[i].Error += unit.Duration(20 * float64(i-7))
			}
		}, RateUnnoted, 8},
		{"two in a minute", func(q *Query) {
			r := q.Readings[14]
			r.ID, r.At, r.Error = 99, r.At.Add(20*time.Second), r.Error+9
			q.Readings = append(q.Readings, r)
		}, Disagree, 99},
		{"twice", func(q *Query) { r := q.Readings[14]; r.ID = 99; q.Readings = append(q.Readings, r) }, Twice, 99},
		{"another order", func(q *Query) {
			q.Readings[14].At = q.Readings[3].At.Add(5 * time.Hour)
			q.Readings[14].Error = q.Readings[3].Error
		}, Order, 15},
		{"the future", func(q *Query) { q.Now = start().Add(335 * time.Hour) }, Ahead, 15},
	} {
		q := steady(3, 15, 1, 12, 0.3)
		c.spoil(&q)
		a := solved(t, q)
		if len(a.Questions) != 1 || a.Questions[0].About != c.about || a.Questions[0].Text == "" || a.Questions[0].Ask == "" {
			t.Errorf("%s: it asks %+v", c.name, a.Questions)
			continue
		}
		ids := a.Questions[0].Reading
		if ids[len(ids)-1] != c.id {
			t.Errorf("%s: it asks about %v", c.name, ids)
		}
		want := 12.0
		if c.about == RateUnnoted || c.about == WrongHalf {
			want = 32
		}
		if !a.Rate.Now.Has(unit.RatePerDay(want)) || a.Rate.Now.U.PerDay() > 2 {
			t.Errorf("%s: the rate is %s", c.name, a.Rate.Now.Text("s/d"))
		}
	}
}

// TestConfirmedReadingsCount: what a person has said to be right is not asked
// about again.
func TestConfirmedReadingsCount(t *testing.T) {
	q := steady(3, 15, 1, 12, 0.3)
	q.Readings[9].Error += 23
	q.Readings[9].Taken = true
	for _, x := range solved(t, q).Questions {
		if x.Reading[0] == 10 && x.About == Stray {
			t.Errorf("it asks again: %s", x.Text)
		}
	}
	q.Readings[9].Taken, q.Readings[9].Out = false, true
	if a := solved(t, q); len(a.Questions) > 0 || len(a.Past) != 14 {
		t.Errorf("it asks %v of a reading that was taken out", a.Questions)
	}
}

// TestNutIsLearned: three turns teach what a turn is worth on this clock, and
// the lost motion when it is turned back.
func TestNutIsLearned(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	var q Query
	q.Known.PerTurn = meas.Result[unit.Rate]{Value: unit.RatePerDay(36), U: unit.RatePerDay(2), HasU: true, Set: true}
	turns := map[int]float64{4: 1, 8: 0.5, 12: -1}
	const per, lost = 31.0, 0.2
	rate, err := -40.0, 0.0
	for d := range 20 {
		if n := turns[d]; n != 0 {
			q.Touches = append(q.Touches, Touch{ID: d, At: start().Add(time.Duration(d) * 24 * time.Hour), Kind: NutTurned, Turns: n})
			if n < 0 {
				n += lost
			}
			rate += per * n
		}
		q.Readings = append(q.Readings, Reading{ID: d + 1, At: start().Add(time.Duration(d) * 24 * time.Hour), How: ByHand, Error: unit.Duration(err + 0.3*rng.NormFloat64()), U: 0.3})
		err += rate
	}
	a := solved(t, q)
	for _, c := range a.Causes {
		if c.Name == Nut && (!c.Value.Has(unit.RatePerDay(per)) || c.Value.U.PerDay() > 2) {
			t.Errorf("a turn is worth %s", c.Value.Text("s/d"))
		}
	}
	if len(a.Questions) > 0 || len(a.Steps) != 3 || !a.Steps[2].Back || a.Steps[1].Back {
		t.Errorf("%v %+v", a.Questions, a.Steps)
	}
}

func TestNothingAndLittle(t *testing.T) {
	if a := solved(t, Query{}); a.Advice.Do != Wait || a.Complete {
		t.Errorf("%+v", a.Advice)
	}
	a := solved(t, steady(1, 1, 1, 0, 0.3))
	if a.Complete || a.Rate.Now.U.PerDay() < 200 {
		t.Errorf("one reading tells %s", a.Rate.Now.Text("s/d"))
	}
	if a := solved(t, steady(1, 2, 0.05, 12, 0.5)); !a.Rate.Now.Has(unit.RatePerDay(12)) {
		t.Errorf("two readings tell %s", a.Rate.Now.Text("s/d"))
	}
}

func TestFaultsAreListed(t *testing.T) {
	q := Query{Readings: []Reading{{}, {ID: 1, At: start(), How: ByHand, Error: unit.Duration(math.NaN())}, {ID: 1, At: start(), From: start(), How: "guess", U: -1}},
		Touches: []Touch{{Kind: NutTurned, At: start()}, {Kind: "kicked"}}, Air: []Air{{}}, Wanted: Wanted{Days: -1}}
	_, err := Solve(t.Context(), q)
	faults, ok := err.(meas.Faults)
	if !ok || len(faults) < 10 {
		t.Fatalf("%d faults: %v", len(faults), err)
	}
	for _, f := range faults {
		if f.Field == "" || f.Text == "" {
			t.Errorf("%+v", f)
		}
	}
}

func TestItCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	a, err := Solve(ctx, steady(1, 100, 1, 12, 0.3))
	if err == nil || a.Complete {
		t.Errorf("%v %v", err, a.Complete)
	}
}

// FuzzSolve: nothing that can be asked makes it panic, and no number that is
// set is none.
func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), 12, 3)
	f.Fuzz(func(t *testing.T, seed uint64, n, touches int) {
		rng := rand.New(rand.NewPCG(seed, 2))
		q := Query{Known: Known{Divisions: rng.IntN(3) * 30}}
		for i := range min(max(n, 0), 60) {
			r := Reading{ID: i + 1, At: start().Add(time.Duration(rng.IntN(40*24)) * time.Hour), How: Hows()[rng.IntN(5)], Error: unit.Duration(rng.NormFloat64() * math.Pow(10, float64(rng.IntN(5)))), U: rng.Float64(), Taken: rng.IntN(5) == 0, Out: rng.IntN(9) == 0}
			if rng.IntN(4) == 0 {
				r.From, r.Rate, r.Clock = r.At.Add(-time.Duration(1+rng.IntN(900))*time.Minute), unit.RatePerDay(rng.NormFloat64()*50), unit.RatePerDay(rng.Float64())
			}
			q.Readings = append(q.Readings, r)
			if rng.IntN(2) == 0 {
				q.Air = append(q.Air, Air{At: r.At, Temperature: meas.Exactly(unit.Temperature(280 + rng.Float64()*20)), Arc: meas.Exactly(unit.Angle(rng.Float64() / 20))})
			}
		}
		for i := range min(max(touches, 0), 20) {
			q.Touches = append(q.Touches, Touch{ID: i + 1, At: start().Add(time.Duration(rng.IntN(40*24)) * time.Hour), Kind: Kinds()[rng.IntN(10)], Turns: 0.1 + rng.Float64(), Mass: 0.001, HasError: rng.IntN(2) == 0})
		}
		a, err := Solve(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range []meas.Interval[unit.Rate]{a.Rate.Now, a.Rate.Week, a.Rate.Drift, a.Now.Rate, a.Advice.After} {
			if r.Set && (math.IsNaN(float64(r.Value)) || !(r.Low <= r.Value && r.Value <= r.High)) {
				t.Errorf("%+v", r)
			}
		}
	})
}

func BenchmarkYearOfHours(b *testing.B) {
	q := steady(1, 8760, 1.0/24, 3, 0.3)
	rng := rand.New(rand.NewPCG(1, 3))
	walk := 0.0
	for i := range q.Readings {
		walk += 0.1 * rng.NormFloat64()
		q.Readings[i].Error += unit.Duration(walk)
		q.Air = append(q.Air, Air{At: q.Readings[i].At, Temperature: meas.Exactly(unit.Temperature(291 + 3*math.Sin(float64(i)/24/58) + math.Sin(float64(i)/4)))})
	}
	for i := range 5 {
		q.Touches = append(q.Touches, Touch{ID: i + 1, At: start().Add(time.Duration(i*1500+7) * time.Hour), Kind: NutTurned, Turns: 0.001})
	}
	for b.Loop() {
		if _, err := Solve(b.Context(), q); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThreeWeeks(b *testing.B) {
	q := steady(1, 40, 0.5, 3, 0.3)
	for b.Loop() {
		if _, err := Solve(b.Context(), q); err != nil {
			b.Fatal(err)
		}
	}
}
