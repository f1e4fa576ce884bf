package regulate

import (
	"math"
	"strings"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// going is a clock that keeps its rate, s/day, well known, and gains so much by
// going home.
func going(rate, move, u float64) Query {
	q := steady(1, 20, 1, rate, 0.3)
	q.Known = Known{PerTurn: meas.Result[unit.Rate]{Value: unit.RatePerDay(30), U: unit.RatePerDay(0.5), HasU: true, Set: true}, Divisions: 60}
	q.Wanted.Move = meas.Result[unit.Rate]{Value: unit.RatePerDay(move), U: unit.RatePerDay(u), HasU: u > 0, Set: true}
	return q
}

// A clock that is right here is turned for its home, and the advice says why.
func TestTurnedForHome(t *testing.T) {
	a := solved(t, going(0, 17, 1))
	x := a.Advice
	if x.Do != Turn || x.Turns.Value >= 0 || x.Home == nil {
		t.Fatalf("%s: %s", x.Do, x.Words)
	}
	check.Near(t, "rate here after it", x.After.Value.PerDay(), -17, 2) // lost motion not known, divisions of half a second
	check.Near(t, "to have here", x.Home.Aim.Value.PerDay(), -17, 1e-9)
	check.Near(t, "there after it", x.Home.After.Value.PerDay(), x.After.Value.PerDay()+17, 0.05)
	check.Near(t, "the doubt there", x.Home.After.U.PerDay(), math.Hypot(x.After.U.PerDay(), 1), 0.1)
	if !strings.Contains(x.Words, "set for home") || !strings.Contains(x.Words, "so that −17.0\u00a0±\u00a01.0\u00a0s/d here is right there") {
		t.Error(x.Words)
	}
	found := false
	for _, s := range a.Working {
		found = found || s.Name == "Rate to aim at here, for home" && strings.Contains(s.Numbers, "+17.0\u00a0±\u00a01.0\u00a0s/d")
	}
	if !found {
		t.Errorf("the working does not show it: %+v", a.Working)
	}
}

// The chance of being right there is that of both doubts together.
func TestChanceAtHomeHasTheDoubtOfTheMove(t *testing.T) {
	a := solved(t, going(-17, 17, 1.5))
	w := a.Rate.Week
	u := math.Hypot(w.U.PerDay(), 1.5)
	m := w.Value.PerDay() + 17
	want := num.NormalCDF((2-m)/u) - num.NormalCDF((-2-m)/u)
	check.Near(t, "right as it stands", a.Advice.AsIs, want, 0.02)
	if a.Advice.Do == Turn || !strings.Contains(a.Advice.Words, "As it stands it is to go there at") {
		t.Errorf("%s: %s", a.Advice.Do, a.Advice.Words)
	}
}

// A move inside its own doubt turns nothing, and no reading more can tell it.
func TestMoveWithinItsDoubtIsLeft(t *testing.T) {
	a := solved(t, going(0, 3, 6))
	if a.Advice.Do != Leave || !strings.Contains(a.Advice.Words, "touch it there") {
		t.Errorf("%s: %s", a.Advice.Do, a.Advice.Words)
	}
	if b := solved(t, going(0, 0, 0)); b.Advice.Do != Leave || !strings.Contains(b.Advice.Words, "It is right") {
		t.Errorf("%s: %s", b.Advice.Do, b.Advice.Words)
	}
}

// The move may hang on what the trial finds; it is asked for it once.
func TestMoveByWhatTheTrialFinds(t *testing.T) {
	asked := 0
	a, err := SolveMoved(t.Context(), going(0, 0, 0), func(a Answer) meas.Result[unit.Rate] {
		if asked++; !a.Complete || !a.Rate.Week.Set {
			t.Error("it is asked before anything is known")
		}
		return meas.Exactly(-a.Rate.Week.Value + unit.RatePerDay(9))
	})
	if err != nil || asked != 1 || a.Advice.Home == nil || a.Advice.Do != Turn {
		t.Fatalf("%v, asked %d times: %+v", err, asked, a.Advice)
	}
	check.Near(t, "what was used is in the query", a.Query.Wanted.Move.Value.PerDay(), 9-a.Rate.Week.Value.PerDay(), 1e-9)
}
