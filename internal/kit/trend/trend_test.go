package trend

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

const (
	obsVar   = 15099
	levelVar = 1469.1
)

// table reads numbers of a reference table; the test is skipped where it is
// not there.
func table(t *testing.T, name string) [][]float64 {
	t.Helper()
	f, err := os.Open("../../../../shared/reference/tables/" + name)
	if err != nil {
		t.Skipf("the reference tables are not here: %v", err)
	}
	defer f.Close()
	c := csv.NewReader(f)
	c.Comment, c.FieldsPerRecord = '#', -1
	var out [][]float64
	for {
		rec, err := c.Read()
		if errors.Is(err, io.EOF) {
			return out[1:]
		}
		if err != nil {
			t.Fatal(err)
		}
		var row []float64
		for _, x := range rec {
			v, err := strconv.ParseFloat(strings.TrimSpace(x), 64)
			if err != nil {
				v = math.NaN()
			}
			row = append(row, v)
		}
		out = append(out, row)
	}
}

// river is the Nile with an unknown level, and a slope where slope is wanted;
// its noise is that of a year, in one step.
func river(t *testing.T, slopeVar float64) *Series {
	s := &Series{Columns: 1, Prior: make([]Belief, 1)}
	if slopeVar > 0 {
		s.Columns, s.Prior = 2, make([]Belief, 2)
	}
	for i, x := range table(t, "nile.csv") {
		row := Row{T: float64(i), Sees: Level, V: 1}
		if i > 0 {
			row.ShakeSlope = slopeVar
		}
		s.Rows = append(s.Rows, row)
		at := []float64{1, float64(i)}[:s.Columns]
		s.Z = append(append(s.Z, x[1]), at...)
		s.Push = append(append(s.Push, at...), []float64{0, 1}[:s.Columns]...)
	}
	return s
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.12g, not %.12g", what, got, want)
	}
}

// TestLocalLevel: Durbin and Koopman, Time Series Analysis by State Space
// Methods, 2nd ed. 2012, the Nile; the table holds the whole course.
func TestLocalLevel(t *testing.T) {
	want := table(t, "nile_local_level.csv")
	var r Run
	if err := r.Filter(river(t, 0), Noise{obsVar, levelVar, 0}, true); err != nil {
		t.Fatal(err)
	}
	near(t, "the likelihood with its constant", r.LogLik+math.Log(2*math.Pi)*-0.5, -633.4646, 1e-4)
	r.Smooth(func(i int, l *Look) {
		near(t, fmt.Sprint("level of ", want[i][0]), l.Level, want[i][7], 1e-6)
		near(t, fmt.Sprint("variance of ", want[i][0]), l.VarLevel, want[i][8], 1e-6)
	})
}

// TestLocalLinearTrend: statsmodels 0.13.5, exact diffuse start.
func TestLocalLinearTrend(t *testing.T) {
	want := table(t, "nile_local_linear_trend_statsmodels.csv")
	var r Run
	if err := r.Filter(river(t, 10), Noise{obsVar, levelVar, 0}, true); err != nil {
		t.Fatal(err)
	}
	r.Smooth(func(i int, l *Look) {
		for k, got := range []float64{l.Level, l.Slope, l.VarLevel, l.VarSlope} {
			near(t, fmt.Sprint("column ", k+1, " of ", want[i][0]), got, want[i][k+1], 1e-9*math.Max(1, math.Abs(want[i][k+1]))+1e-8*0.06)
		}
	})
}

// sample makes a series with everything in it.
func sample(rng *rand.Rand, n int) *Series {
	s := &Series{Columns: 4, Prior: []Belief{{}, {}, {2, 0.7}, {-1, 0.2}}}
	at, mark, step := 0.0, -1.0, 0.0
	var marked float64
	for i := range n {
		at += []float64{0, 0.3, 1, 2.5}[rng.IntN(4)]
		row := Row{T: at, V: 0.2 + rng.Float64()}
		if rng.IntN(6) == 0 {
			row.ShakeLevel = 3
		}
		if rng.IntN(6) == 0 {
			row.ShakeSlope = 2
		}
		if rng.IntN(5) == 0 {
			step = at
		}
		wave := math.Sin(at)
		push := []float64{1, at, wave, at - step, 0, 1, math.Cos(at), 1}
		z := []float64{rng.NormFloat64() * 5, 1, at, wave, at - step}
		row.Sees, row.Fixed = Sees(rng.IntN(3)), rng.IntN(2) == 0
		if row.Sees == Slope {
			if row.Span = at - mark; mark < 0 || row.Span <= 0 {
				row.Sees = Nothing
			} else {
				z = []float64{z[0], 0, 1, (wave - marked) / row.Span, 0.4}
			}
		}
		if i < 2 {
			row.Sees = Level
			z = []float64{z[0], 1, at, wave, at - step}
		}
		if rng.IntN(3) == 0 {
			row.Mark, mark, marked = true, at, wave
		}
		s.Rows, s.Z, s.Push = append(s.Rows, row), append(s.Z, z...), append(s.Push, push...)
	}
	return s
}

// covariance gives, for every row, level and slope and the observation as sums
// of independent noises of variance 1: a slow and plain statement of the model.
func covariance(s *Series, n Noise) (level, slope, seen [][]float64) {
	noises := 4*len(s.Rows) + len(s.Rows)
	var l, g, m []float64 = make([]float64, noises), make([]float64, noises), make([]float64, noises)
	before := s.Rows[0].T
	next := 0
	fresh := func() int { next++; return next - 1 }
	for _, row := range s.Rows {
		dt := row.T - before
		before = row.T
		for k := range l {
			l[k] += dt * g[k]
		}
		// The joint noise of level and slope by its root: [a 0; b c].
		ll, ls, ss := n.Level*dt+n.Slope*dt*dt*dt/3, n.Slope*dt*dt/2, n.Slope*dt
		i, j := fresh(), fresh()
		if ll > 0 {
			a := math.Sqrt(ll)
			l[i] += a
			g[i] += ls / a
			g[j] += math.Sqrt(math.Max(ss-ls*ls/ll, 0))
		}
		l[fresh()] += math.Sqrt(row.ShakeLevel)
		g[fresh()] += math.Sqrt(row.ShakeSlope)
		level, slope = append(level, append([]float64{}, l...)), append(slope, append([]float64{}, g...))
		h := make([]float64, noises)
		v := row.V
		if !row.Fixed {
			v *= n.Scale
		}
		for k := range h {
			switch row.Sees {
			case Level:
				h[k] = l[k]
			case Slope:
				h[k] = (l[k] - m[k]) / row.Span
			}
		}
		h[fresh()] = math.Sqrt(v)
		seen = append(seen, h)
		if row.Mark {
			copy(m, l)
		}
	}
	return level, slope, seen
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// gls solves the dense problem: y with covariance v, columns x, beliefs. It
// gives coefficients, covariance and log likelihood.
func gls(y []float64, x [][]float64, v []float64, prior []Belief) (b, cov []float64, loglik float64) {
	n, m := len(y), len(prior)
	root := append([]float64{}, v...)
	logDet, _ := cholesky(root, n)
	inv := invert(root, n)
	s, t := make([]float64, m*m), make([]float64, m)
	q := 0.0
	flat, logPrior := 0, 0.0
	for i := range n {
		for k := range n {
			q += y[i] * y[k] * inv[i*n+k]
			for a := range m {
				t[a] += x[i][a] * inv[i*n+k] * y[k]
				for c := range m {
					s[a*m+c] += x[i][a] * inv[i*n+k] * x[k][c]
				}
			}
		}
	}
	for j, p := range prior {
		if p.U == 0 {
			flat++
			continue
		}
		g := 1 / (p.U * p.U)
		s[j*m+j] += g
		t[j] += g * p.Value
		q += g * p.Value * p.Value
		logPrior += 2 * math.Log(p.U)
	}
	logS, _ := cholesky(s, m)
	cov = invert(s, m)
	b = make([]float64, m)
	for j := range m {
		b[j] = dot(cov[j*m:j*m+m], t)
		q -= b[j] * t[j]
	}
	return b, cov, -(float64(n-flat)*math.Log(2*math.Pi) + logDet + logS + logPrior + q) / 2
}

// TestAgainstTheFullMatrix holds everything against least squares with the
// full matrix: coefficients, likelihood, smoothed states, what each
// observation says against the others, and shocks as one more column.
func TestAgainstTheFullMatrix(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for round := range 40 {
		s := sample(rng, 6+rng.IntN(20))
		n := Noise{0.5 + rng.Float64(), rng.Float64(), rng.Float64() * 0.3}
		level, slope, seen := covariance(s, n)
		var at []int
		for i, row := range s.Rows {
			if row.Sees != Nothing {
				at = append(at, i)
			}
		}
		w := s.Columns + 1
		var y []float64
		var x [][]float64
		v := make([]float64, len(at)*len(at))
		for a, i := range at {
			y = append(y, s.Z[i*w])
			x = append(x, s.Z[i*w+1:(i+1)*w])
			for c, k := range at {
				v[a*len(at)+c] = dot(seen[i], seen[k])
			}
		}
		b, cov, loglik := gls(y, x, v, s.Prior)
		var r Run
		err := r.Filter(s, n, true)
		if errors.Is(err, ErrUnknown) {
			continue
		}
		near(t, "likelihood", r.LogLik, loglik, 1e-7*math.Abs(loglik))
		squared := r.B
		if err := r.Refine(); err != nil {
			t.Fatal(err)
		}
		for j := range b {
			near(t, fmt.Sprint("coefficient by sums of products ", j), squared[j], b[j], 1e-6*(1+math.Abs(b[j])))
		}
		for j := range b {
			near(t, fmt.Sprint("coefficient ", j), r.B[j], b[j], 1e-6*(1+math.Abs(b[j])))
		}
		root := append([]float64{}, v...)
		cholesky(root, len(at))
		inv := invert(root, len(at))
		r.Smooth(func(i int, l *Look) {
			for what, noise := range [][]float64{level[i], slope[i]} {
				weights := make([]float64, len(at)) // Cov(state, y) V⁻¹
				for a := range at {
					for c, k := range at {
						weights[a] += dot(noise, seen[k]) * inv[c*len(at)+a]
					}
				}
				push := s.Push[i*2*s.Columns+what*s.Columns : i*2*s.Columns+(what+1)*s.Columns]
				want, variance := 0.0, dot(noise, noise)
				rest := append([]float64{}, push...)
				for a := range at {
					want += weights[a] * (y[a] - dot(x[a], b))
					variance -= weights[a] * dot(noise, seen[at[a]])
					for j := range rest {
						rest[j] -= weights[a] * x[a][j]
					}
				}
				want += dot(push, b)
				for j := range rest {
					variance += rest[j] * dot(cov[j*s.Columns:(j+1)*s.Columns], rest)
				}
				got := []State{l.State}[0]
				near(t, fmt.Sprint("round ", round, " state ", what, " of row ", i), []float64{got.Level, got.Slope}[what], want, 1e-6*(1+math.Abs(want)))
				near(t, fmt.Sprint("variance ", what, " of row ", i), []float64{got.VarLevel, got.VarSlope}[what], variance, 1e-6*(1+variance))
			}
			for a, k := range at { // the observation as one with a coefficient of its own
				if k == i && l.AgainstU > 0 {
					size, u := withColumn(y, x, v, s.Prior, func(c int) float64 { return map[bool]float64{true: 1}[c == a] })
					near(t, fmt.Sprint("row ", i, " against the others"), l.Against, size, 1e-5*(1+math.Abs(size)))
					near(t, fmt.Sprint("its deviation at row ", i), l.AgainstU, u, 1e-5*(1+u))
				}
			}
			if l.ShockLevelU > 0 && l.ShockLevelU < 1e3 {
				size, u := withColumn(y, x, v, s.Prior, func(c int) float64 { return pushed(s, at[c], i, false) })
				near(t, fmt.Sprint("shock of level at row ", i), l.ShockLevel*l.ShockLevelU, size, 1e-4*(1+math.Abs(size)))
				near(t, fmt.Sprint("its deviation at row ", i), l.ShockLevelU, u, 1e-4*(1+u))
			}
			if l.ShockSlopeU > 0 && l.ShockSlopeU < 1e3 {
				size, u := withColumn(y, x, v, s.Prior, func(c int) float64 { return pushed(s, at[c], i, true) })
				near(t, fmt.Sprint("shock of slope at row ", i), l.ShockSlope*l.ShockSlopeU, size, 1e-4*(1+math.Abs(size)))
				near(t, fmt.Sprint("its deviation at row ", i), l.ShockSlopeU, u, 1e-4*(1+u))
			}
		})
	}
}

// pushed is what a shock just before row from does to the observation of row
// to.
func pushed(s *Series, to, from int, slope bool) float64 {
	share := func(row int) float64 {
		switch {
		case row < from:
			return 0
		case slope:
			return s.Rows[row].T - s.Rows[from].T
		}
		return 1
	}
	switch row := s.Rows[to]; row.Sees {
	case Level:
		return share(to)
	case Slope:
		mark := to - 1
		for !s.Rows[mark].Mark {
			mark--
		}
		return (share(to) - share(mark)) / row.Span
	}
	return 0
}

// withColumn is the coefficient of one more column, and its deviation.
func withColumn(y []float64, x [][]float64, v []float64, prior []Belief, column func(int) float64) (size, u float64) {
	more := make([][]float64, len(x))
	for i := range x {
		more[i] = append(append([]float64{}, x[i]...), column(i))
	}
	b, cov, _ := gls(y, more, v, append(append([]Belief{}, prior...), Belief{}))
	m := len(prior) + 1
	return b[m-1], math.Sqrt(cov[m*m-1])
}

// BenchmarkYearOfHours passes over a year of readings every hour with six
// columns.
func BenchmarkYearOfHours(b *testing.B) {
	s := &Series{Columns: 6, Prior: make([]Belief, 6)}
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range 8760 {
		at := float64(i) / 24
		s.Rows = append(s.Rows, Row{T: at, Sees: Level, V: 1})
		s.Z = append(s.Z, rng.NormFloat64(), 1, at, math.Sin(at), math.Max(0, at-100), math.Max(0, at-200), math.Cos(at/9))
		s.Push = append(s.Push, make([]float64, 12)...)
	}
	for _, keep := range []bool{false, true} {
		b.Run(map[bool]string{false: "filter", true: "smoother"}[keep], func(b *testing.B) {
			var r Run
			for b.Loop() {
				if err := r.Filter(s, Noise{1, 0.1, 0.01}, keep); err != nil {
					b.Fatal(err)
				}
				if keep {
					r.Smooth(func(int, *Look) {})
				}
			}
		})
	}
}
