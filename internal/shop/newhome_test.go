package shop

import (
	"math"
	"testing"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// What the trial found goes before what was held; what is known of one place
// only makes no change.
func TestHomeFromTheTrial(t *testing.T) {
	now := time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)
	per := func(v, u float64) meas.Result[unit.Rate] {
		return meas.Result[unit.Rate]{Value: unit.RatePerDay(v), U: unit.RatePerDay(u), HasU: true, Set: true}
	}
	warm := func(days, celsius float64) regulate.Air {
		return regulate.Air{At: now.Add(-time.Duration(days * 24 * float64(time.Hour))), Temperature: meas.Exactly(unit.Temperature(273.15 + celsius))}
	}
	a := regulate.Answer{Complete: true, Query: regulate.Query{Now: now, Air: []regulate.Air{warm(20, 5), warm(3, 18), warm(1, 20)},
		Known: regulate.Known{PerTurn: per(30, 5), PerKelvin: per(-.3, .4), Divisions: 60}}}
	a.Rate.Week = meas.Around(unit.RatePerDay(1), unit.RatePerDay(.4), 2)
	a.Causes = []regulate.Cause{{Name: "nut", Told: true, Value: meas.Around(unit.RatePerDay(27), unit.RatePerDay(1), 2)}, {Name: "temperature", Value: meas.Around(unit.RatePerDay(-9), unit.RatePerDay(1), 2)}}
	here := pendulum.Query{Latitude: meas.Of(unit.Deg(51.5))}
	q := homeOf(here, a)
	if q.PerTurn.Value.PerDay() != 27 || math.Abs(q.PerKelvin.Value.PerDay()+.3) > 1e-9 || q.Divisions != 60 || math.Abs(q.Rate.U.PerDay()-.4) > 1e-9 || math.Abs(float64(q.Warmth.Value)-292.15) > 1e-9 {
		t.Errorf("got %+v", q)
	}
	if f := there(&q, trial.Home{Latitude: "57 N", Temperature: "12 ± 2"}); len(f) > 0 || !q.ToLatitude.Set || q.ToWarmth.U != 2 {
		t.Errorf("%v %+v", f, q)
	}
	ans, err := home.Solve(q)
	if err != nil || ans.Do != home.Turn || ans.Turns.Value >= 0 {
		t.Errorf("%v %s %s", err, ans.Do, ans.Words)
	}
	q = homeOf(here, a)
	if f := there(&q, trial.Home{Temperature: "12"}); len(f) > 0 || q.Latitude.Set || !q.Warmth.Set {
		t.Errorf("%v %+v", f, q)
	}
	q = homeOf(here, a)
	if f := there(&q, trial.Home{Latitude: "far north", Height: "3 kg"}); len(f) != 2 {
		t.Errorf("%v", f)
	}
}
