package regulate

import (
	"math"
	"testing"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TestPendulumHeld: whoever turns the nut often holds the pendulum, and writes
// nothing of it. The error jumps; that is no question, and not laid to the
// nut.
func TestPendulumHeld(t *testing.T) {
	zero := time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC)
	turn := unit.RatePerDay(40)
	trial := func(jump float64) Answer {
		q := Query{Known: Known{PerTurn: meas.Result[unit.Rate]{Value: turn, U: turn / 10, HasU: true, Set: true}}}
		x, rate := 0.0, 20.0
		scatter := []float64{0.2, -0.3, 0.1, 0.3, -0.2, -0.1, 0.3, 0, -0.3, 0.2}
		for i := range 28 {
			at := zero.Add(time.Duration(i*12) * time.Hour)
			q.Readings = append(q.Readings, Reading{ID: i + 1, At: at, How: ByHand, Error: unit.Duration(x + scatter[i%10]), U: 0.4})
			q.Now = at
			if i == 12 {
				q.Touches = append(q.Touches, Touch{ID: 1, At: at.Add(time.Minute), Kind: NutTurned, Turns: -0.5})
				rate = 0
				x += jump
			}
			x += rate / 2
		}
		return solved(t, q)
	}
	for _, jump := range []float64{-40, -12, 0} {
		a := trial(jump)
		if len(a.Questions) > 0 || a.Advice.Do == Settle {
			t.Errorf("a jump of %v s at the touch is asked about: %+v", jump, a.Questions)
		}
		st := a.Steps[0]
		if st.Touch != 1 || math.Abs(st.Rate.Value.PerDay()+20) > 1 {
			t.Errorf("a jump of %v s: the touch changed the rate by %v s/d", jump, st.Rate.Value.PerDay())
		}
		told := 0
		for _, f := range a.Findings {
			if f.Code == "regulate.held" {
				told++
			}
		}
		if jump == 0 && (told > 0 || st.Error.Set) || jump != 0 && (told != 1 || math.Abs(float64(st.Error.Value)-jump) > 1.5) {
			t.Errorf("a jump of %v s: said %d times, %v", jump, told, st.Error)
		}
		if !a.Rate.Now.Has(0) || a.Rate.Now.Half().PerDay() > 1 {
			t.Errorf("a jump of %v s: the rate is %v", jump, a.Rate.Now.Text("s/d"))
		}
	}
}
