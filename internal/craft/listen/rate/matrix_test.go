package rate

import (
	"math"
	"math/rand/v2"
	"testing"

	"seatboard/internal/kit/check"
)

// inverse is that of a small matrix with the logarithm of its determinant,
// which must be positive.
func inverse(a [][]float64) ([][]float64, float64) {
	n := len(a)
	m, logDet := make([][]float64, n), 0.0
	for i := range m {
		m[i] = append(append([]float64{}, a[i]...), make([]float64, n)...)
		m[i][n+i] = 1
	}
	for p := range n {
		d := m[p][p]
		logDet += math.Log(d)
		for j := range m[p] {
			m[p][j] /= d
		}
		for i := range n {
			if f := m[i][p]; i != p && f != 0 {
				for j := range m[i] {
					m[i][j] -= f * m[p][j]
				}
			}
		}
	}
	for i := range m {
		m[i] = m[i][n:]
	}
	return m, logDet
}

func times(a, b [][]float64) [][]float64 {
	out := make([][]float64, len(a))
	for i := range a {
		out[i] = make([]float64, len(b[0]))
		for k := range b {
			for j := range b[k] {
				out[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return out
}

func turned(a [][]float64) [][]float64 {
	out := make([][]float64, len(a[0]))
	for i := range out {
		for k := range a {
			out[i] = append(out[i], a[k][i])
		}
	}
	return out
}

// Filter and smoother against generalised least squares with the full
// matrix: 14 beats with gaps and uneven scatter.
func TestFilterAgainstFullMatrix(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	numbers := []float64{0, 1, 2, 4, 5, 6, 9, 10, 11, 12, 15, 16, 18, 19}
	var s stretch
	var x, y [][]float64
	for _, n := range numbers {
		side := math.Mod(n, 2) - 0.5
		s.n, s.side, s.odd = append(s.n, n), append(s.side, side), append(s.odd, false)
		s.v = append(s.v, 0.5+rng.Float64())
		s.y = append(s.y, 0.3*n+side+2*rng.NormFloat64())
		x, y = append(x, []float64{1, n, side}), append(y, []float64{s.y[len(s.y)-1]})
	}
	s.sided = true
	r := record{stretches: []stretch{s}, used: len(numbers)}
	last := numbers[len(numbers)-1]
	for _, lambda := range []float64{0, 1e-3, 0.3, 40} {
		v, k := make([][]float64, len(numbers)), make([][]float64, len(numbers))
		for i, a := range numbers {
			k[i] = []float64{lambda * a / last}
			for j, b := range numbers {
				v[i] = append(v[i], lambda*min(a, b))
				if i == j {
					v[i][j] += s.v[i]
				}
			}
		}
		vi, logV := inverse(v)
		xv := times(turned(x), vi)
		c, logX := inverse(times(xv, x))
		beta := times(c, times(xv, y))
		q := times(times(turned(xv), c), xv)
		for i := range q {
			for j := range q {
				q[i][j] = vi[i][j] - q[i][j]
			}
		}
		qy := times(q, y)
		f := r.fit(lambda)
		near := func(what string, got, want float64) {
			t.Helper()
			check.Near(t, what, got, want, 1e-8*(1+math.Abs(want)))
		}
		near("period", f.period, beta[1][0])
		near("its variance", f.periodVar, c[1][1])
		near("offset", f.offset, beta[2][0])
		near("its variance", f.offsetVar, c[2][2])
		near("rss", f.rss, times(turned(y), qy)[0][0])
		near("likelihood", f.log, -(logV+logX+f.freedom*math.Log(f.rss))/2)
		near("mean", f.mean, beta[1][0]+times(turned(k), qy)[0][0])
		kx := times(xv, k)
		d := [][]float64{{-kx[0][0]}, {1 - kx[1][0]}, {-kx[2][0]}}
		near("its variance", f.meanVar, lambda/last-times(turned(k), times(vi, k))[0][0]+times(turned(d), times(c, d))[0][0])
		for i, p := range s.places(&f, f.offset, 1/f.periodVar) {
			near("deletion residual", p.err, qy[i][0]/q[i][i])
			near("smoothed", p.clock, s.y[i]-s.v[i]*qy[i][0])
			near("its variance", p.var2, s.v[i]-s.v[i]*s.v[i]*q[i][i])
		}
	}
}

// The same where the rate walks too: the beat's length at the end.
func TestSlowFilterAgainstFullMatrix(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	numbers := []float64{0, 1, 2, 4, 5, 6, 9, 10, 11, 12, 15, 16, 18, 19}
	var s stretch
	var x, y [][]float64
	for _, n := range numbers {
		side := math.Mod(n, 2) - 0.5
		s.n, s.side, s.odd = append(s.n, n), append(s.side, side), append(s.odd, false)
		s.v = append(s.v, 0.5+rng.Float64())
		s.y = append(s.y, 0.3*n+side+2*rng.NormFloat64())
		x, y = append(x, []float64{1, n, side}), append(y, []float64{s.y[len(s.y)-1]})
	}
	s.sided = true
	r := record{stretches: []stretch{s}, used: len(numbers)}
	last := numbers[len(numbers)-1]
	for _, c := range []struct{ lambda, slow float64 }{{0, 1e-3}, {0.3, 0.02}, {4, 5}, {0.3, 0}} {
		v, k := make([][]float64, len(numbers)), make([][]float64, len(numbers))
		for i, a := range numbers {
			k[i] = []float64{c.slow * a * (a - 1) / 2}
			for j, b := range numbers {
				both := c.lambda * min(a, b)
				for l := 1.0; l < min(a, b); l++ {
					both += c.slow * (a - l) * (b - l)
				}
				if i == j {
					both += s.v[i]
				}
				v[i] = append(v[i], both)
			}
		}
		vi, logV := inverse(v)
		xv := times(turned(x), vi)
		cov, logX := inverse(times(xv, x))
		beta := times(cov, times(xv, y))
		q := times(times(turned(xv), cov), xv)
		for i := range q {
			for j := range q {
				q[i][j] = vi[i][j] - q[i][j]
			}
		}
		qy := times(q, y)
		f := r.ahead(c.lambda, c.slow)
		near := func(what string, got, want float64) {
			t.Helper()
			check.Near(t, what, got, want, 1e-8*(1+math.Abs(want)))
		}
		near("rss", f.rss, times(turned(y), qy)[0][0])
		near("likelihood", f.log, -(logV+logX+f.freedom*math.Log(f.rss))/2)
		near("period at the end", f.period, beta[1][0]+times(turned(k), qy)[0][0])
		kx := times(xv, k)
		d := [][]float64{{-kx[0][0]}, {1 - kx[1][0]}, {-kx[2][0]}}
		next := c.lambda/last + c.slow*(last+1)*(2*last+1)/6/last
		near("its variance", f.periodVar, c.slow*last-times(turned(k), times(vi, k))[0][0]+times(turned(d), times(cov, d))[0][0]+next)
	}
}
