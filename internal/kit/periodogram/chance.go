package periodogram

import "math"

// Chances reckons false alarms of the greatest power among many frequencies.
type Chances struct {
	n      float64 // readings
	width  float64 // Baluev's W: highest frequency times √(4π var t)
	cycles float64 // highest frequency times the span of times
	fitted float64 // parameters taken off before: 1 is the mean alone
}

// Chances are those of frequencies up to fmax. The weights enter by the
// weighted variance of the times.
func (s Series) Chances(fmax float64) Chances {
	var sum, mean, square float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, t := range s.T {
		w := s.weight(i)
		sum += w
		mean += w * t
		lo, hi = min(lo, t), max(hi, t)
	}
	mean /= sum
	for i, t := range s.T {
		square += s.weight(i) * (t - mean) * (t - mean)
	}
	return Chances{n: float64(len(s.T)), width: fmax * math.Sqrt(4*math.Pi*square/sum), cycles: fmax * (hi - lo), fitted: 1}
}

// Less is the same where so many more parameters were fitted and taken off
// before the periodogram.
func (c Chances) Less(parameters int) Chances {
	c.fitted += float64(parameters)
	return c
}

// nH and nK are the degrees of freedom without and with the sinusoid.
func (c Chances) nH() float64 { return c.n - c.fitted }
func (c Chances) nK() float64 { return c.n - c.fitted - 2 }

// Single is the chance of a power at least z at one frequency that was known
// beforehand.
func (c Chances) Single(z float64) float64 {
	if c.nK() <= 0 || z <= 0 {
		return 1
	}
	return math.Exp(c.nK() / 2 * math.Log1p(-min(z, 1)))
}

// Naive is the chance among as many independent frequencies as there are
// cycles of the highest in the span of times.
func (c Chances) Naive(z float64) float64 {
	return -math.Expm1(c.cycles * math.Log1p(-c.Single(z)))
}

// upcrossings is Davies' expected number of crossings of the level z.
func (c Chances) upcrossings(z float64) float64 {
	if c.nK() <= 0 || z <= 0 {
		return math.Inf(1)
	}
	a, _ := math.Lgamma(c.nH() / 2)
	b, _ := math.Lgamma((c.nH() - 1) / 2)
	gamma := math.Sqrt(2/c.nH()) * math.Exp(a-b)
	return gamma * c.width * math.Exp((c.nK()-1)/2*math.Log1p(-min(z, 1))) * math.Sqrt(c.nH()*z/2)
}

// Davies is the bound of Davies on the chance; above about 0.1 it says
// little and may pass 1.
func (c Chances) Davies(z float64) float64 {
	if z <= 0 {
		return 1
	}
	return c.Single(z) + c.upcrossings(z)
}

// Baluev is the chance by the approximation of Baluev: close to the bound of
// Davies where that is small, and never above 1.
func (c Chances) Baluev(z float64) float64 {
	if z <= 0 {
		return 1
	}
	one, up := c.Single(z), c.upcrossings(z)
	// 1 − (1 − one) e^−up, without the loss of digits.
	return -math.Expm1(-up) + one*math.Exp(-up)
}

// Level is the power at which Baluev's chance is p, 0 < p < 1.
func (c Chances) Level(p float64) float64 {
	// The chance rises to 1 as z falls; where z is very small the crossings
	// fall again, so the search is down from 1 to the first place.
	lo, hi := 0.0, 1.0
	for i := 0; i < 200 && hi-lo > 1e-15; i++ {
		z := (lo + hi) / 2
		if c.Baluev(z) > p || (c.nK() > 1 && z < 1/c.nK()) {
			lo = z
		} else {
			hi = z
		}
	}
	return (lo + hi) / 2
}
