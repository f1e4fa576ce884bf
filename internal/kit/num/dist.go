package num

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ChiSquared is the quantile of the chi-squared distribution with so many
// degrees of freedom, which need not be whole; NaN unless 0 < p < 1 and
// freedom > 0.
func ChiSquared(p, freedom float64) float64 {
	if !(p > 0 && p < 1 && freedom > 0) || math.IsInf(freedom, 0) {
		return math.NaN()
	}
	return distuv.ChiSquared{K: freedom}.Quantile(p)
}

// ChiSquaredCDF is the share of the chi-squared distribution below x.
func ChiSquaredCDF(x, freedom float64) float64 {
	if !(x > 0) {
		return 0
	}
	return distuv.ChiSquared{K: freedom}.CDF(x)
}

// StudentCDF is the share of Student's t distribution below x; with more
// than 1e7 degrees of freedom that of the normal.
func StudentCDF(x, freedom float64) float64 {
	if freedom > 1e7 {
		return NormalCDF(x)
	}
	return distuv.StudentsT{Sigma: 1, Nu: freedom}.CDF(x)
}

// NormalCDF is the share of the standard normal distribution below x.
func NormalCDF(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// NormalQuantile is the inverse of NormalCDF, 0 < p < 1.
func NormalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// StudentQuantile is the inverse of StudentCDF, 0 < p < 1, freedom > 0.
func StudentQuantile(p, freedom float64) float64 {
	if freedom > 1e7 {
		return NormalQuantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(p)
}

// FisherCDF is the share of Fisher's F distribution with so many degrees of
// freedom above and below the line that is below x.
func FisherCDF(x, above, below float64) float64 {
	if !(x > 0) {
		return 0
	}
	if below > 1e7 {
		return ChiSquaredCDF(x*above, above)
	}
	return distuv.F{D1: above, D2: below}.CDF(x)
}

// BetaQuantile is the quantile of the beta distribution on 0 to 1, 0 ≤ p ≤ 1;
// NaN unless alpha and beta are above nought.
func BetaQuantile(p, alpha, beta float64) float64 {
	if !(p >= 0 && p <= 1 && alpha > 0 && beta > 0) || math.IsInf(alpha, 0) || math.IsInf(beta, 0) {
		return math.NaN()
	}
	return distuv.Beta{Alpha: alpha, Beta: beta}.Quantile(p)
}
