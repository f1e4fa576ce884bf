package regulate

import (
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/trend"
)

// river is the Nile as this chapter's filter takes it: a level that walks by
// so much a year; a slope too where its noise is above nought.
func river(slope float64) trend.Series {
	s := trend.Series{Columns: 1}
	if slope > 0 {
		s.Columns = 2
	}
	s.Prior = make([]trend.Belief, s.Columns)
	for i, y := range trend.Nile() {
		row := trend.Row{T: float64(i), Sees: trend.Level, V: 1}
		if i > 0 {
			row.ShakeSlope = slope
		}
		at := []float64{1, float64(i)}[:s.Columns]
		s.Rows, s.Z = append(s.Rows, row), append(append(s.Z, y), at...)
		s.Push = append(append(s.Push, at...), []float64{0, 1}[:s.Columns]...)
	}
	return s
}

// nileChecks are the printed figures of the worked example.
func nileChecks() []cite.Check {
	s := river(0)
	var run trend.Run
	scatter := func(ratio float64) (v, log float64) { // at the likeliest scatter
		if run.Filter(&s, trend.Noise{Scale: 1, Level: ratio}, true) != nil {
			return math.NaN(), math.NaN()
		}
		v = run.RSS / 99
		if run.Filter(&s, trend.Noise{Scale: v, Level: ratio * v}, true) != nil {
			return math.NaN(), math.NaN()
		}
		return v, run.LogLik
	}
	const h = 1e-3
	slope := func(x float64) float64 {
		_, a := scatter(math.Exp(x - h))
		_, b := scatter(math.Exp(x + h))
		return b - a
	}
	x, err := num.Root(slope, math.Log(0.05), math.Log(0.2), 1e-6)
	if err != nil {
		x = math.NaN()
	}
	v, log := scatter(math.Exp(x))
	d := diagnosed()
	p37, p40 := cite.Ref{Source: "durbin", Place: "p. 37"}, cite.Ref{Source: "durbin", Place: "p. 40"}
	out := []cite.Check{
		{What: "Nile by the trial’s filter: variance of the scatter", Ref: p37, Printed: "15099", Got: v, Tol: 2},
		{What: "Nile by the trial’s filter: variance of the walk", Ref: p37, Printed: "1469.1", Got: v * math.Exp(x), Tol: 0.6},
		{What: "Nile: likelihood, 99 terms of ln 2π", Ref: cite.Ref{Source: "statsmodels", Place: "UnobservedComponents, nile"}, Printed: "-632.5456", Got: log, Tol: 1e-4},
		{What: "Nile: skew of what is left", Ref: p40, Printed: "-0.03", Got: d.Skew, Tol: 0.005},
		{What: "Nile: its kurtosis over the normal law’s", Ref: p40, Printed: "0.09", Got: d.Excess, Tol: 0.005},
		{What: "Nile: its normality", Ref: p40, Printed: "0.05", Got: d.Normality, Tol: 0.005},
		{What: "Nile: Q of nine lags", Ref: p40, Printed: "8.84", Got: d.Q, Tol: 0.02},
		{What: "Nile: H of 33", Ref: p40, Printed: "0.61", Got: d.H, Tol: 0.005},
	}
	return append(out, trendChecks()...)
}

// diagnosed are the one-step errors from the second year on, the first being
// where the level begins.
func diagnosed() trend.Diagnosis {
	var s trend.Series
	flow := trend.Nile()
	for i, y := range flow {
		row := trend.Row{T: float64(i), Sees: trend.Level, V: 1}
		if i == 0 {
			row.Sees, row.ShakeLevel = trend.Nothing, 15099
		}
		s.Rows, s.Z = append(s.Rows, row), append(s.Z, y-flow[0])
	}
	var run trend.Run
	if run.Filter(&s, trend.Noise{Scale: 15099, Level: 1469.1}, true) != nil {
		return trend.Diagnosis{}
	}
	return trend.Diagnose(run.Whitened(), 9)
}

// trendChecks are the local linear trend of the same, made by a public
// program with the variances 15099, 1469.1 and 10.
func trendChecks() []cite.Check {
	s := river(10)
	ref := cite.Ref{Source: "statsmodels", Place: "0.13.5, UnobservedComponents, local linear trend, exact diffuse"}
	printed := map[int][4]string{
		0:  {"1124.20117196", "-4.48614376186", "4820.41363175", "140.354927179"},
		3:  {"1118.73788963", "-4.52239925857", "2689.08065918", "113.781460678"},
		99: {"781.215943268", "-6.95223648403", "4820.41363175", "150.354927179"},
	}
	got := map[int][4]float64{}
	var run trend.Run
	if run.Filter(&s, trend.Noise{Scale: 15099, Level: 1469.1}, true) == nil {
		run.Smooth(func(i int, l *trend.Look) {
			got[i] = [4]float64{l.Level, l.Slope, l.VarLevel, l.VarSlope}
		})
	}
	var out []cite.Check
	for _, i := range []int{0, 3, 99} {
		for k, what := range []string{"level", "slope", "variance of the level", "variance of the slope"} {
			value, _, err := cite.PrintedNumber(printed[i][k])
			if err != nil {
				panic("regulate: " + err.Error()) // the program's own figure
			}
			out = append(out, cite.Check{What: "Nile, local linear trend: " + what + " of " + []string{0: "1871", 3: "1874", 99: "1970"}[i], Ref: ref, Printed: printed[i][k], Got: got[i][k], Tol: 1e-9 * math.Max(1, math.Abs(value))})
		}
	}
	return append(out, cite.Check{What: "Nile, local linear trend: likelihood, 100 terms of ln 2π", Ref: ref, Printed: "-633.141548074", Got: run.LogLik - math.Log(2*math.Pi), Tol: 1e-9 * 634})
}
