package simulate_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/simulate"
	"seatboard/internal/kit/trend"
	"seatboard/internal/kit/unit"
)

// TestTruthIsTheModel: whoever knows the noises of a clock in an even room
// exactly, and reckons by the model of kit/trend, is right about its rate and
// about the error in a week as often as the model says.
func TestTruthIsTheModel(t *testing.T) {
	for _, how := range []regulate.How{regulate.ByTap, regulate.ByEar} {
		const n = 400
		var now, week float64
		for _, z := range each(n, func(seed uint64) [2]float64 { return known(t, seed, how) }) {
			now += z[0] * z[0] / n
			week += z[1] * z[1] / n
		}
		// Five standard errors of a mean square of n, √(2/n) each.
		if tol := 5 * math.Sqrt(2.0/n); math.Abs(now-1) > tol || math.Abs(week-1) > tol {
			t.Errorf("%s: mean square of what the rate now is off by, in its doubts, %.3f; of the error in a week %.3f; want 1 ± %.2f", how, now, week, tol)
		}
	}
}

// known gives by how much rate and error in a week are off in their doubts.
func known(t *testing.T, seed uint64, how regulate.How) [2]float64 {
	r := simulate.Draw(seed, simulate.Steel, false, how)
	r.Room, r.PerHPa, r.Drift = simulate.Room{Mean: 291.15}, 0, 0
	c := simulate.New(r)
	c.Go(r.Begin.Add(12 * day))
	noise := trend.Noise{Scale: 1, Level: math.Pow(float64(r.Wander), 2), Slope: math.Pow(r.Walk.PerDay(), 2)}
	rows, b := series(c, r)
	var run trend.Run
	if err := run.Filter(rows, noise, false); err != nil {
		t.Error(seed, err)
		return [2]float64{}
	}
	e := run.End()
	x, s := e.Level, e.Slope
	var wx, ws [3]float64
	for j, push := range [][2]float64{{1, 0}, {b, 1}, {0, 0}} {
		wx[j], ws[j] = push[0]-e.DLevel[j], push[1]-e.DSlope[j]
		x += run.B[j] * wx[j]
		s += run.B[j] * ws[j]
	}
	vx, vs, cross := e.VarLevel, e.VarSlope, e.VarCross
	for j := range 3 {
		for k := range 3 {
			cov := run.Cov[3*j+k]
			vx, vs, cross = vx+wx[j]*wx[k]*cov, vs+ws[j]*ws[k]*cov, cross+wx[j]*ws[k]*cov
		}
	}
	const d = 7.0
	ahead := vx + 2*d*cross + d*d*vs + noise.Level*d + noise.Slope*d*d*d/3
	return [2]float64{
		(c.Truth().Rate.PerDay() - s) / math.Sqrt(vs),
		(float64(c.Ahead(7*day).Error) - x - d*s) / math.Sqrt(ahead),
	}
}

// series is what was read of a clock as rows of kit/trend, in s and days,
// with the error and the rate at the beginning and the recorder's clock as
// columns; b is when it ends.
func series(c *simulate.Clock, r simulate.Recipe) (s *trend.Series, b float64) {
	s = &trend.Series{Columns: 3, Prior: []trend.Belief{{}, {}, {U: 1e-6}}}
	if r.Habit.How == regulate.ByEar {
		s.Prior[2].U = r.Habit.Recorder.PerDay()
	}
	q := c.Query()
	days := func(at time.Time) float64 { return at.Sub(r.Begin).Hours() / 24 }
	add := func(row trend.Row, z ...float64) {
		s.Rows, s.Z = append(s.Rows, row), append(s.Z, z...)
		s.Push = append(s.Push, 1, row.T, 0, 0, 1, 0)
	}
	set := q.Touches[0]
	add(trend.Row{Sees: trend.Level, V: float64(set.U * set.U)}, float64(set.Error), 1, 0, 0)
	slices.SortFunc(q.Readings, func(x, y regulate.Reading) int { return x.At.Compare(y.At) })
	for _, k := range q.Readings {
		at := days(k.At)
		if k.From.IsZero() {
			add(trend.Row{T: at, Sees: trend.Level, V: k.U * k.U}, float64(k.Error), 1, at, 0)
			continue
		}
		from := days(k.From)
		add(trend.Row{T: from, Mark: true}, 0, 0, 0, 0)
		add(trend.Row{T: at, Sees: trend.Slope, Span: at - from, V: math.Pow(unit.Rate(k.U).PerDay(), 2)}, k.Rate.PerDay(), 0, 1, 1)
	}
	b = days(c.Now())
	add(trend.Row{T: b}, 0, 0, 0, 0)
	return s, b
}
