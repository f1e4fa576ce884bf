package culprit

import "math"

// tail is the chance that noise alone gives an evidence of at least x: the
// evidence is a sum of dof squares (an even number) over the variance of the
// noise, itself judged from free degrees of freedom. It is the tail of an F
// distribution, which is a finite sum.
func tail(dof int, free, x float64) float64 {
	if !(x > 0) || !(free > 0) {
		return 1
	}
	u := x / (x + free)
	term, sum := 1.0, 1.0
	for j := 1; j < dof/2; j++ {
		term *= (free/2 + float64(j) - 1) / float64(j) * u
		sum += term
	}
	return math.Min(1, math.Exp(free/2*math.Log1p(-u)+math.Log(sum)))
}

// tail1 is the same for one degree of freedom, x the square of Student's t.
// The transform to a normal deviate is Wallace's, good to three figures of
// the chance for ten degrees of freedom and more.
func tail1(free, x float64) float64 {
	if !(x > 0) || !(free > 0) {
		return 1
	}
	z := (8*free + 1) / (8*free + 3) * math.Sqrt(free*math.Log1p(x/free))
	return math.Erfc(z / math.Sqrt2)
}

// beyond is the chance that a noncentral χ² of dof (even) degrees of freedom
// passes x, the squares of the means summing to off.
func beyond(dof int, off, x float64) float64 {
	if x <= 0 {
		return 1
	}
	if off > 600 || x > 1200 {
		k := float64(dof)
		return math.Erfc((math.Sqrt(x)-math.Sqrt(off+k-1))/math.Sqrt2) / 2
	}
	h, y := off/2, x/2
	// Sum over j of the Poisson weight of j at h, times the chance that a χ²
	// of dof + 2j passes x: the Poisson chance of fewer than dof/2 + j at y.
	below, term := 0.0, math.Exp(-y)
	for i := range dof / 2 {
		below += term
		term *= y / float64(i+1)
	}
	weight, sum := math.Exp(-h), 0.0
	seen := 0.0
	for j := 0; seen < 1-1e-13 && j < 2000; j++ {
		sum += weight * below
		seen += weight
		weight *= h / float64(j+1)
		below += term
		term *= y / float64(dof/2+j+1)
	}
	return math.Min(sum, 1)
}

// familywise is the chance that any of so many gives what one gives with
// chance p.
func familywise(p, tries float64) float64 {
	if p >= 1 {
		return 1
	}
	return -math.Expm1(tries * math.Log1p(-p))
}

// student95 is the 97.5 % point of Student's t, to a thousandth from five
// degrees of freedom on (Cornish and Fisher's expansion).
func student95(free float64) float64 {
	const z = 1.959963984540054
	if !(free > 2) {
		return 4.303
	}
	z3, z5 := z*z*z, z*z*z*z*z
	return z + (z3+z)/(4*free) + (5*z5+16*z3+3*z)/(96*free*free) + (3*math.Pow(z, 7)+19*z5+17*z3-15*z)/(384*math.Pow(free, 3))
}

// bisect finds where a falling or rising f crosses level, between a and b.
func bisect(f func(float64) float64, level, a, b float64) float64 {
	up := f(b) > f(a)
	for range 48 {
		m := (a + b) / 2
		if (f(m) < level) == up {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}
