package trend

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"
)

// TestBesideStatsmodels runs a year of hours through this filter and smoother
// and through statsmodels, in one run: the same numbers. It says how long each
// took. It runs where SEATBOARD_STATSMODELS names a Python that has it
// (Debian: /usr/bin/python3 with python3-statsmodels).
func TestBesideStatsmodels(t *testing.T) {
	python := os.Getenv("SEATBOARD_STATSMODELS")
	if python == "" {
		t.Skip("SEATBOARD_STATSMODELS names no Python with statsmodels: not compared this time")
	}
	const n = 8760
	variances := [3]float64{0.09, 0.004, 2e-6}
	rng := rand.New(rand.NewPCG(7, 7))
	s := &Series{Columns: 2, Prior: make([]Belief, 2)}
	var in bytes.Buffer
	level, slope := 0.0, 0.1
	for i := range n {
		y := level + math.Sqrt(variances[0])*rng.NormFloat64()
		fmt.Fprintf(&in, "%.17g\n", y)
		row := Row{T: float64(i), Sees: Level, V: 1}
		if i > 0 {
			row.ShakeSlope = variances[2]
		}
		s.Rows = append(s.Rows, row)
		s.Z = append(s.Z, y, 1, float64(i))
		s.Push = append(s.Push, 1, float64(i), 0, 1)
		level += slope + math.Sqrt(variances[1])*rng.NormFloat64()
		slope += math.Sqrt(variances[2]) * rng.NormFloat64()
	}
	var ours [4][]float64
	for k := range ours {
		ours[k] = make([]float64, n)
	}
	var r Run
	best := math.Inf(1)
	for range 5 {
		begin := time.Now()
		if err := r.Filter(s, Noise{variances[0], variances[1], 0}, true); err != nil {
			t.Fatal(err)
		}
		r.Smooth(func(i int, l *Look) {
			ours[0][i], ours[1][i], ours[2][i], ours[3][i] = l.Level, l.Slope, l.VarLevel, l.VarSlope
		})
		best = math.Min(best, time.Since(begin).Seconds())
	}
	cmd := exec.CommandContext(t.Context(), python, "testdata/beside.py", fmt.Sprint(variances[0]), fmt.Sprint(variances[1]), fmt.Sprint(variances[2]))
	cmd.Stdin, cmd.Stderr = &in, os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var theirs struct {
		Seconds, Llf float64
		Level, Slope []float64
		VarLevel     []float64 `json:"var_level"`
		VarSlope     []float64 `json:"var_slope"`
	}
	if err := json.Unmarshal(out, &theirs); err != nil {
		t.Fatal(err)
	}
	for k, want := range [][]float64{theirs.Level, theirs.Slope, theirs.VarLevel, theirs.VarSlope} {
		worst := 0.0
		for i := range want {
			worst = math.Max(worst, math.Abs(ours[k][i]-want[i])/(1+math.Abs(want[i])))
		}
		t.Logf("%s: greatest difference %.1e", []string{"level", "slope", "variance of the level", "variance of the slope"}[k], worst)
		if worst > 1e-6 {
			t.Errorf("column %d differs by %g", k, worst)
		}
	}
	near(t, "likelihood", r.LogLik-math.Log(2*math.Pi), theirs.Llf, 1e-6*math.Abs(theirs.Llf))
	t.Logf("filter and smoother over %d readings: %.2f ms here, %.0f ms there: %.0f times as fast", n, best*1e3, theirs.Seconds*1e3, theirs.Seconds/best)
}
