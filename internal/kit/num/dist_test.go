package num

import (
	"math"
	"testing"
)

// The quantiles are those of common tables of statistics.
func TestDistributions(t *testing.T) {
	for _, c := range []struct{ got, want, tol float64 }{
		{ChiSquared(0.95, 1), 3.841, 5e-4},
		{ChiSquared(0.025, 10), 3.247, 5e-4},
		{ChiSquared(0.975, 10), 20.483, 5e-4},
		{ChiSquaredCDF(20.483, 10), 0.975, 1e-5},
		{StudentCDF(12.706, 1), 0.975, 1e-6},
		{StudentCDF(2.228, 10), 0.975, 1e-5},
		{StudentQuantile(0.975, 1), 12.706, 1e-3},
		{StudentQuantile(0.975, 10), 2.228, 5e-4},
		{StudentCDF(1.96, 1e9), NormalCDF(1.96), 1e-12},
		{FisherCDF(3.708, 3, 10), 0.95, 1e-4},
		{FisherCDF(2.605, 3, 1e9), 0.95, 1e-4},
		{NormalQuantile(0.975), 1.959964, 1e-6},
		{NormalCDF(1.959964), 0.975, 1e-6},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("got %v, want %v", c.got, c.want)
		}
	}
	for _, p := range []float64{0, 1, -1, math.NaN()} {
		if q := ChiSquared(p, 3); !math.IsNaN(q) {
			t.Errorf("the quantile at %v is %v", p, q)
		}
	}
}

// Closed forms: Beta(1, 1) is even, Beta(2, 1) is √p, Beta(1, 3) is 1 − ∛(1 − p).
func TestBetaQuantile(t *testing.T) {
	for _, p := range []float64{0, 0.1, 0.5, 0.9, 1} {
		for _, c := range []struct{ got, want float64 }{
			{BetaQuantile(p, 1, 1), p}, {BetaQuantile(p, 2, 1), math.Sqrt(p)}, {BetaQuantile(p, 1, 3), 1 - math.Cbrt(1-p)},
		} {
			if !(math.Abs(c.got-c.want) <= 1e-9) {
				t.Errorf("at %v: got %v, want %v", p, c.got, c.want)
			}
		}
	}
	for _, q := range []float64{BetaQuantile(1.1, 1, 1), BetaQuantile(0.5, 0, 1), BetaQuantile(math.NaN(), 1, 1)} {
		if !math.IsNaN(q) {
			t.Errorf("outside: %v", q)
		}
	}
}
