package regulate

import (
	"math"
	"strings"
	"testing"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// far is a clock three minutes a day fast, read by hand for some hours, with a
// nut that is known to a tenth.
func far(hours ...float64) Query {
	zero := time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC)
	turn := unit.RatePerDay(60)
	q := Query{Known: Known{PerTurn: meas.Result[unit.Rate]{Value: turn, U: turn / 10, HasU: true, Set: true}}}
	for i, h := range hours {
		at := zero.Add(time.Duration(h * float64(time.Hour)))
		q.Readings = append(q.Readings, Reading{ID: i + 1, At: at, How: ByHand, Error: unit.Duration(180 * h / 24), U: 0.5})
		q.Now = at
	}
	return q
}

// TestFarOffIsTurned: one turn cannot bring it right, but much nearer; it is
// advised as soon as waiting would not make the turn surer, and what is
// expected of it says how unsure it is.
func TestFarOffIsTurned(t *testing.T) {
	a := solved(t, far(0, 4, 24))
	if v := a.Advice.Turns.Value; a.Advice.Do != Turn || v > -2.5 || v < -3.5 {
		t.Errorf("it advises %s: %s", a.Advice.Do, a.Advice.Words)
	}
	if h := a.Advice.After.Half().PerDay(); h < 20 {
		t.Errorf("after three turns that are known to a tenth: ±%.1f s/d", h)
	}
	if a := solved(t, far(0, 0.05)); a.Advice.Do != Wait {
		t.Errorf("after three minutes it advises %s: %s", a.Advice.Do, a.Advice.Words)
	}
}

// TestUnknownNutIsTried: a steady clock a little fast, whose nut nobody
// measured, is turned as a try and not left alone; what that shows of the nut
// brings it right, or as near as the eye can set the nut. Whether that is
// coarse or fine is not known beforehand.
func TestUnknownNutIsTried(t *testing.T) {
	for _, perTurn := range []float64{20, 60, 130} {
		q := Query{Wanted: Wanted{Band: unit.RatePerDay(1)}}
		at, sum, rate := time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC), 0.0, 3.0
		for touches := 0; ; touches++ {
			for range 7 {
				q.Now = at
				q.Readings = append(q.Readings, Reading{ID: len(q.Readings) + 1, At: at, How: ByTap, Error: unit.Duration(sum), U: 0.1})
				at, sum = at.Add(24*time.Hour), sum+rate
			}
			a := solved(t, q)
			if touches == 0 && (a.Advice.Do != Turn || !strings.Contains(a.Advice.Words, "That is a try")) {
				t.Errorf("at the first it advises %s: %s", a.Advice.Do, a.Advice.Words)
			}
			if a.Advice.Do != Turn {
				if math.Abs(rate) > max(1, 0.025*perTurn) || math.Abs(rate) > 1 && !strings.Contains(a.Advice.Words, "its slip and lost motion") {
					t.Errorf("one turn %.0f s/d: left at %+.1f s/d after %d touches: %s", perTurn, rate, touches, a.Advice.Words)
				}
				break
			}
			if touches == 6 {
				t.Errorf("one turn %.0f s/d: still %+.1f s/d after %d touches", perTurn, rate, touches)
				break
			}
			turns := float64(a.Advice.Turns.Value)
			q.Touches = append(q.Touches, Touch{ID: touches + 1, At: q.Now, Kind: NutTurned, Turns: turns})
			sum -= rate
			rate += turns * perTurn
			sum += rate
		}
	}
}

// TestNothingToWin: a clock that walks more than a turn could mend is left
// alone.
func TestNothingToWin(t *testing.T) {
	q := far()
	zero := time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC)
	rates := []float64{3, -4, -2, 5, 1, -6, -3, 4, 6, -1, -5, 2, 3, -2, -4, 5, 1, -3, 4, -2, 1, -1, 3, -3}
	sum := 0.0
	for i, r := range rates {
		q.Now = zero.AddDate(0, 0, i)
		q.Readings = append(q.Readings, Reading{ID: i + 1, At: q.Now, How: ByTap, Error: unit.Duration(sum), U: 0.1})
		sum += r
	}
	q.Wanted.Band = unit.RatePerDay(0.5)
	if a := solved(t, q); a.Advice.Do == Turn || a.Advice.Do == Leave && !strings.Contains(a.Advice.Words, "unsteadiness") {
		t.Errorf("it advises %s: %s", a.Advice.Do, a.Advice.Words)
	}
}

// TestRecorderInDoubt: listening on does not help where the recorder's clock
// is in doubt by as much as the rate is; that is said, and not waited for.
func TestRecorderInDoubt(t *testing.T) {
	zero := time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC)
	trial := func(recorder float64) Answer {
		var q Query
		for d := range 20 {
			at := zero.AddDate(0, 0, d)
			q.Readings = append(q.Readings, Reading{ID: d + 1, From: at.Add(-time.Hour), At: at, How: ByEar, Rate: unit.RatePerDay(1.5 + 0.1*float64(d%3)), U: float64(unit.RatePerDay(0.1)), Clock: unit.RatePerDay(recorder)})
			q.Now = at
		}
		return solved(t, q)
	}
	if a := trial(4); a.Advice.Do != Leave || !strings.Contains(a.Advice.Words, "recorder") {
		t.Errorf("a recorder in doubt by 4 s/d: %s, %s", a.Advice.Do, a.Advice.Words)
	}
	if a := trial(0.05); strings.Contains(a.Advice.Words, "recorder") {
		t.Errorf("a recorder that is kept right: %s, %s", a.Advice.Do, a.Advice.Words)
	}
	if learn := trial(4).Advice.Learn; learn[len(learn)-1].U.PerDay() < 3 {
		t.Errorf("after two weeks more of listening the rate would be known to %.2f s/d", learn[len(learn)-1].U.PerDay())
	}
}
