package series

import (
	"math"

	"seatboard/internal/kit/num"
)

// Noise is a kind of noise by the slope of its spectrum.
type Noise uint8

// The kinds, from each reading by itself to a rate that walks.
const (
	WhitePhase Noise = iota
	FlickerPhase
	WhiteFrequency
	FlickerFrequency
	WalkFrequency
)

// Freedom is the equivalent degrees of freedom of the overlapping Allan
// deviation of n readings of phase at averaging factor m, for one kind of
// noise: simple forms, within some 15 % (SP 1065, Table 5). NaN where 2m ≥ n;
// at least 1.
func Freedom(noise Noise, n, m int) float64 {
	if m < 1 || 2*m >= n {
		return math.NaN()
	}
	N, M := float64(n), float64(m)
	edf := 0.0
	switch noise {
	case WhitePhase:
		edf = (N + 1) * (N - 2*M) / (2 * (N - M))
	case FlickerPhase:
		edf = math.Exp(math.Sqrt(math.Log((N-1)/(2*M)) * math.Log((2*M+1)*(N-1)/4)))
	case WhiteFrequency:
		edf = (3*(N-1)/(2*M) - 2*(N-2)/N) * 4 * M * M / (4*M*M + 5)
	case FlickerFrequency:
		edf = 5 * N * N / (4 * M * (N + 3*M))
		if m == 1 {
			edf = 2 * (N - 2) * (N - 2) / (2.3*N - 4.9)
		}
	default:
		edf = (N - 2) / M * ((N-1)*(N-1) - 3*M*(N-1) + 4*M*M) / ((N - 3) * (N - 3))
	}
	if !(edf > 1) {
		return 1
	}
	return edf
}

// FreedomMixed is the same for white phase noise of variance phase (s²) and
// white frequency noise that adds the variance walk (s²) to the phase at each
// reading: 2 E²/variance of the mean of the squared second differences, from
// their own correlation, exact for Gaussian noise without gaps. NaN where
// 2m ≥ n or there is no noise.
func FreedomMixed(phase, walk float64, n, m int) float64 {
	terms := n - 2*m
	if m < 1 || terms < 1 || !(phase >= 0 && walk >= 0 && phase+walk > 0) {
		return math.NaN()
	}
	corr := func(k int) float64 {
		ramp := func(k int) float64 { return max(0, float64(m-max(k, -k))) }
		c := walk * (2*ramp(k) - ramp(k-m) - ramp(k+m))
		switch k {
		case 0:
			c += 6 * phase
		case m:
			c -= 4 * phase
		case 2 * m:
			c += phase
		}
		return c
	}
	var0 := corr(0)
	sum := var0 * var0
	for k := 1; k <= 2*m && k < terms; k++ {
		c := corr(k)
		sum += 2 * (1 - float64(k)/float64(terms)) * c * c
	}
	return float64(terms) * var0 * var0 / sum
}

// Limits are the limits within which the true deviation lies in the given
// share of cases (0.95), from one deviation and its degrees of freedom, by
// chi-squared. NaN where there are none.
func Limits(dev, edf, share float64) (low, high float64) {
	tail := (1 - share) / 2
	return dev * math.Sqrt(edf/num.ChiSquared(1-tail, edf)), dev * math.Sqrt(edf/num.ChiSquared(tail, edf))
}
