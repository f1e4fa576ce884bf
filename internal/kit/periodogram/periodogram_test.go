package periodogram_test

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/periodogram"
)

func example(t *testing.T) periodogram.Series {
	t.Helper()
	f, err := os.Open("../../craft/listen/culprit/data/lombscargle.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var s periodogram.Series
	for _, row := range rows[1:] {
		x, err1 := strconv.ParseFloat(row[0], 64)
		y, err2 := strconv.ParseFloat(row[1], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("row %v", row)
		}
		s.T, s.Y = append(s.T, x), append(s.Y, y)
	}
	return s
}

// The figures printed in the Astropy documentation; the places of the peak
// and of the highest frequency were reckoned from the same data.
func TestPrintedExample(t *testing.T) {
	s := example(t)
	fit := s.At(1.0022982509931477)
	check.Near(t, "greatest power", fit.Power, .28800558204470955, 1e-12)
	c := s.Chances(1.5242651213178466)
	check.Near(t, "Baluev", c.Baluev(fit.Power), .03302491900289183, 1e-12)
	check.Near(t, "Davies", c.Davies(fit.Power), .03358255130320076, 1e-12)
	check.Near(t, "naive", c.Naive(fit.Power), .009331314848518398, 1e-12)
	for p, want := range map[float64]float64{.1: .25681381, .05: .27663466, .01: .31928202} {
		check.Near(t, "level", c.Level(p), want, 5e-9)
	}
	if got := s.At(1.0022982509931477).Power; math.Abs(got-.29154492887882927) < 1e-6 {
		t.Error("the older, approximate figure is not to be met")
	}
}

func uneven(n int, seed uint64) periodogram.Series {
	r := rand.New(rand.NewPCG(seed, 1))
	s := periodogram.Series{T: make([]float64, n), Y: make([]float64, n), W: make([]float64, n)}
	for i := range s.T {
		s.T[i] = float64(i) + 0.4*r.NormFloat64()
		s.Y[i] = 3 + r.NormFloat64()
		s.W[i] = 0.5 + r.Float64()
	}
	return s
}

func TestOverAgreesWithAt(t *testing.T) {
	s := uneven(500, 3)
	g := periodogram.Grid{From: 0.001, Step: 0.0003, N: 1500}
	for i, p := range s.Over(g) {
		if want := s.At(g.At(i)).Power; math.Abs(p-want) > 1e-11 {
			t.Fatalf("frequency %g: %g, want %g", g.At(i), p, want)
		}
	}
}

func TestWholeAgreesWithAt(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	n := 301
	y, w := make([]float64, n), make([]float64, n)
	var s periodogram.Series
	for i := range y {
		y[i], w[i] = 1e3+r.NormFloat64(), 1+r.Float64()
		if r.Float64() < 0.2 {
			w[i] = 0
			continue
		}
		s.T, s.Y, s.W = append(s.T, float64(i)), append(s.Y, y[i]), append(s.W, w[i])
	}
	g, p := periodogram.Whole(y, w, 4)
	if g.N != len(p) || g.N < 4*n/2-2 || math.Abs(g.At(g.N-1)-0.5) > 2*g.Step {
		t.Fatalf("grid %+v for %d powers", g, len(p))
	}
	for i := range p {
		if want := s.At(g.At(i)).Power; math.Abs(p[i]-want) > 1e-10 {
			t.Fatalf("frequency %g: %g, want %g", g.At(i), p[i], want)
		}
	}
}

func TestKnownSinusoid(t *testing.T) {
	s := uneven(400, 5)
	for i, x := range s.T {
		s.Y[i] = 7 + 2*math.Cos(2*math.Pi*0.0823*x) - math.Sin(2*math.Pi*0.0823*x)
	}
	f := s.Refine(0.0825, 0.001)
	check.Near(t, "frequency", f, 0.0823, 1e-6)
	fit := s.At(0.0823)
	check.Near(t, "power", fit.Power, 1, 1e-12)
	check.Near(t, "cosine", fit.Cos, 2, 1e-10)
	check.Near(t, "sine", fit.Sin, -1, 1e-10)
	check.Near(t, "mean", fit.Mean, 7, 1e-10)
	check.Near(t, "amplitude", fit.Amplitude(), math.Sqrt(5), 1e-10)
	check.Near(t, "curve", fit.Value(0), 9, 1e-10)
}

// Adding a constant and scaling leave the power; shifting time does too.
func TestInvariance(t *testing.T) {
	s := uneven(120, 9)
	p := s.At(0.123).Power
	moved := periodogram.Series{W: s.W}
	for i := range s.T {
		moved.T = append(moved.T, s.T[i]-517)
		moved.Y = append(moved.Y, 40-3*s.Y[i])
	}
	check.Near(t, "power", moved.At(0.123).Power, p, 1e-10)
}

// The chance of the greatest power over all frequencies is as stated.
func TestFalseAlarms(t *testing.T) {
	const seeds = 2000
	at := map[float64]int{.1: 0, .01: 0}
	r := rand.New(rand.NewPCG(11, 12))
	y, w, s := make([]float64, 128), make([]float64, 128), periodogram.Series{T: make([]float64, 128)}
	for i := range y {
		w[i], s.T[i] = 1, float64(i)
	}
	c := s.Chances(0.5)
	for range seeds {
		for i := range y {
			y[i] = r.NormFloat64()
		}
		_, p := periodogram.Whole(y, w, 8)
		best := 0.0
		for _, v := range p {
			best = max(best, v)
		}
		for level := range at {
			if c.Baluev(best) < level {
				at[level]++
			}
		}
	}
	for level, n := range at {
		share, sd := float64(n)/seeds, math.Sqrt(level*(1-level)/seeds)
		if share > level+3.5*sd || share < 0.6*level-3.5*sd {
			t.Errorf("stated %g, measured %g ± %.2g", level, share, sd)
		}
	}
}

func TestBadInput(t *testing.T) {
	nan := math.NaN()
	for name, s := range map[string]periodogram.Series{
		"nothing":      {},
		"one":          {T: []float64{1}, Y: []float64{2}},
		"two":          {T: []float64{1, 2}, Y: []float64{2, 3}},
		"all the same": {T: []float64{1, 2, 3, 4}, Y: []float64{5, 5, 5, 5}},
		"one time":     {T: []float64{1, 1, 1, 1}, Y: []float64{5, 6, 7, 5}},
		"no number":    {T: []float64{1, 2, 3, 4}, Y: []float64{5, nan, 7, 5}},
		"no weight":    {T: []float64{1, 2, 3, 4}, Y: []float64{5, 4, 7, 5}, W: make([]float64, 4)},
	} {
		if p := s.At(0.25).Power; p > 0 && len(s.T) < 3 || p > 1 {
			t.Errorf("%s: power %g", name, p)
		}
		s.Over(periodogram.Grid{From: 0.1, Step: 0.1, N: 4})
		c := s.Chances(0.5)
		if p := c.Baluev(0.5); p < 0 || p > 1 {
			t.Errorf("%s: chance %g", name, p)
		}
		c.Level(0.01)
	}
	if _, p := periodogram.Whole(nil, nil, 4); p != nil {
		t.Error("power of nothing")
	}
}

func BenchmarkOver3600x5000(b *testing.B) {
	s := uneven(3600, 2)
	for b.Loop() {
		s.Over(periodogram.Grid{From: 1e-4, Step: 1e-4, N: 5000})
	}
}

func BenchmarkWhole36000(b *testing.B) {
	s := uneven(36000, 2)
	for b.Loop() {
		periodogram.Whole(s.Y, s.W, 4)
	}
}
