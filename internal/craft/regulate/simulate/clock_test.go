package simulate_test

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/simulate"
	"seatboard/internal/kit/unit"
)

const day = 24 * time.Hour

// still is a clock that only does as told.
func still() simulate.Recipe {
	return simulate.Recipe{
		Seed: 1, Begin: time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC), Rate: unit.RatePerDay(10), PerTurn: unit.RatePerDay(60),
		Room:  simulate.Room{Mean: 291.15},
		Habit: simulate.Habit{How: regulate.ByHand, PerDay: 2, From: 7, To: 22},
	}
}

func TestSameSeedSameClock(t *testing.T) {
	run := func(seed uint64) regulate.Query {
		c := simulate.New(simulate.Draw(seed, simulate.Steel, true, regulate.ByHand))
		c.Go(c.Now().Add(6 * day))
		c.Turn(-0.5)
		c.Go(c.Now().Add(6 * day))
		return c.Query()
	}
	if diff := cmp.Diff(run(5), run(5)); diff != "" {
		t.Error("the same seed gives another clock:", diff)
	}
	if cmp.Equal(run(5).Readings, run(6).Readings) {
		t.Error("another seed gives the same clock")
	}
}

func TestClockGoesAsTold(t *testing.T) {
	r := still()
	r.Drift = unit.RatePerDay(1)
	c := simulate.New(r)
	c.Advance(r.Begin.Add(4 * day))
	if got := c.Truth(); math.Abs(float64(got.Error)-48) > 1e-6 || math.Abs(got.Rate.PerDay()-14) > 1e-9 {
		t.Errorf("after 4 days at 10 s/d, drifting by 1: %v s, %v s/d", got.Error, got.Rate.PerDay())
	}
	r = still()
	r.PerKelvin = unit.RatePerDay(-0.5)
	r.Room.Daily = 4
	c = simulate.New(r)
	c.Advance(r.Begin.Add(7 * time.Hour)) // three in the afternoon
	if got := c.Truth(); math.Abs(got.Rate.PerDay()-8) > 1e-9 || math.Abs(float64(got.Temperature)-295.15) > 1e-9 {
		t.Errorf("4 K warmer: %v s/d at %v", got.Rate.PerDay(), got.Temperature)
	}
	if got := c.InAir(291.15).PerDay(); math.Abs(got-10) > 1e-9 {
		t.Error("at the mean:", got)
	}
	c.Stand(time.Hour)
	if got, q := c.Truth().Error, c.Query(); math.Abs(float64(got)+3600) > 10 || q.Touches[len(q.Touches)-1].Kind != regulate.Stopped {
		t.Error("after standing for an hour:", got)
	}
}

// TestScatterIsAsTold: wander and walk of many clocks are those of the recipe.
func TestScatterIsAsTold(t *testing.T) {
	var x, r float64
	const n = 1500
	for seed := range uint64(n) {
		rec := still()
		rec.Seed, rec.Rate, rec.Wander = seed, 0, 0.5
		c := simulate.New(rec)
		c.Advance(rec.Begin.Add(4 * day))
		x += float64(c.Truth().Error) * float64(c.Truth().Error) / n
		rec.Wander, rec.Walk = 0, unit.RatePerDay(0.2)
		c = simulate.New(rec)
		c.Advance(rec.Begin.Add(9 * day))
		r += c.Truth().Rate.PerDay() * c.Truth().Rate.PerDay() / n
	}
	if math.Abs(x-1) > 0.15 || math.Abs(r-0.36) > 0.055 { // four standard errors
		t.Errorf("mean squares %v and %v, want 1 and 0.36", x, r)
	}
}

func TestLostMotion(t *testing.T) {
	for seed := range uint64(50) {
		r := still()
		r.Seed, r.Lost = seed, 0.25
		c := simulate.New(r)
		rate := func() float64 { return c.Truth().Rate.PerDay() }
		if math.Abs(rate()-10) > 1e-9 {
			t.Fatal("to begin with:", rate())
		}
		c.Turn(1)
		up := rate()
		c.Turn(-0.2)
		if rate() != up {
			t.Errorf("within the lost motion it follows: %v, %v", up, rate())
		}
		c.Turn(-0.8)
		if got := rate() - up; math.Abs(got+0.75*60) > 1e-9 {
			t.Errorf("a turn back moves it by %v", got)
		}
		c.Turn(-1)
		if got := rate() - up; math.Abs(got+1.75*60) > 1e-9 {
			t.Errorf("another turn the same way: %v", got)
		}
	}
}

func TestForkAndAhead(t *testing.T) {
	c := simulate.New(simulate.Draw(3, simulate.Wood, true, regulate.ByTap))
	c.Go(c.Now().Add(5 * day))
	before, asked := c.Truth(), c.Query()
	week := c.Ahead(7 * day)
	f := c.Fork()
	f.Turn(2)
	f.Go(f.Now().Add(3 * day))
	if c.Truth() != before || !cmp.Equal(asked, c.Query()) {
		t.Error("a fork changes the clock that it is of")
	}
	c.Advance(c.Now().Add(7 * day))
	if got := c.Truth(); got.Error != week.Error || got.At != week.At {
		t.Errorf("looked ahead %v, came to %v", week, got)
	}
	if got := float64(week.Error-before.Error) / 7; math.Abs(got-week.Rate.PerDay()) > 1e-9 {
		t.Errorf("the mean rate %v, by the errors %v", week.Rate.PerDay(), got)
	}
}

func TestLooksAreAsTold(t *testing.T) {
	r := still()
	r.Habit.Missed, r.Habit.Scatter = 0.2, 0.4
	r.Room.Thermometer = simulate.Thermometer{Looked: 0.5, U: 0.2, Logged: 2 * time.Hour, Gaps: 0.25}
	c := simulate.New(r)
	c.Go(r.Begin.Add(200 * day))
	q := c.Query()
	if n := len(q.Readings); n < 250 || n > 390 {
		t.Error("readings in 200 days:", n)
	}
	if n := len(q.Air); n < 1650 || n > 2300 {
		t.Error("times that the thermometer was read:", n)
	}
	days := map[string]bool{}
	sum := 0.0
	for i, k := range q.Readings {
		days[k.At.Format(time.DateOnly)] = true
		if h := k.At.Hour(); h < 7 || h >= 22 || k.ID < 1 || i > 0 && k.At.Before(q.Readings[i-1].At) {
			t.Fatal("a reading at", k.At)
		}
		true0 := 10 * k.At.Sub(r.Begin).Hours() / 24
		sum += math.Pow(float64(k.Error)-true0, 2) / (k.U * k.U) / float64(len(q.Readings))
	}
	if len(days) < 135 || len(days) > 185 {
		t.Error("days with a reading:", len(days))
	}
	if sum < 0.6 || sum > 1.4 {
		t.Error("mean square of the readings' errors in their doubts:", sum)
	}
}

func TestByEar(t *testing.T) {
	r := still()
	r.Habit = simulate.Habit{How: regulate.ByEar, PerDay: 1, From: 9, To: 20, Listen: 20 * time.Minute, Ear: unit.RatePerDay(0.2), Recorder: unit.RatePerDay(3)}
	c := simulate.New(r)
	c.Go(r.Begin.Add(60 * day))
	q := c.Query()
	mean := 0.0
	for _, k := range q.Readings {
		if k.At.Sub(k.From) != 20*time.Minute || k.Clock != r.Habit.Recorder {
			t.Fatal("a stretch of", k.At.Sub(k.From), k.Clock)
		}
		mean += k.Rate.PerDay() / float64(len(q.Readings))
	}
	if off := mean - 10; math.Abs(off) < 0.1 || math.Abs(off) > 12 {
		t.Error("the recorder's clock is off by", off)
	}
}

// TestMistakesAreKnown: every mistake of the recipe is planted, and is in the
// readings.
func TestMistakesAreKnown(t *testing.T) {
	r := still()
	r.Mistakes = simulate.Mistakes{Stray: 0.05, Minute: 0.05, HalfDay: 0.05, Summer: 0.05, Set: 0.05, Turned: 0.05, StoodFor: 0.05}
	r.Habit.Scatter = 0.5
	c := simulate.New(r)
	c.Go(r.Begin.Add(300 * day))
	count := map[regulate.Doubtful]int{}
	for _, p := range c.Planted() {
		count[p.Kind]++
		if p.Reading != 0 && p.Error == 0 || p.Reading == 0 && p.Error == 0 && p.Rate == 0 {
			t.Errorf("planted and nothing: %+v", p)
		}
	}
	for _, k := range []regulate.Doubtful{regulate.Stray, regulate.WrongMinute, regulate.HalfDay, regulate.SummerTime, regulate.SetUnnoted, regulate.RateUnnoted} {
		if count[k] < 3 {
			t.Errorf("%s was planted %d times", k, count[k])
		}
	}
	if len(c.Query().Touches) != 1 {
		t.Error("what nobody wrote down is written down")
	}
}

func TestRods(t *testing.T) {
	for _, rod := range simulate.Rods() {
		r := simulate.Draw(7, rod, false, regulate.ByHand)
		k := r.Known.PerKelvin
		want := map[simulate.Rod]float64{simulate.Steel: -0.4977, simulate.Wood: -0.1789, simulate.Invar: -0.0432, simulate.Compensated: 0}[rod]
		if math.Abs(k.Value.PerDay()-want) > 5e-4 || !(k.U > 0) {
			t.Errorf("%s: %v s/d for a kelvin, doubt %v", rod, k.Value.PerDay(), k.U.PerDay())
		}
	}
}

func BenchmarkMonth(b *testing.B) {
	for b.Loop() {
		c := simulate.New(simulate.Draw(1, simulate.Steel, true, regulate.ByHand))
		c.Go(c.Now().Add(30 * day))
	}
}
