package trend

import "math"

// Whitened are the observations' one-step errors in their standard
// deviations, with the coefficients as found; of a Run that keeps.
func (r *Run) Whitened() []float64 {
	var out []float64
	for i := range r.keep {
		if r.keep[i].g == 0 {
			continue
		}
		v := r.vs[i*r.wide : (i+1)*r.wide]
		e := v[0]
		for j, b := range r.B {
			e -= b * v[j+1]
		}
		out = append(out, e*math.Sqrt(r.keep[i].g))
	}
	return out
}

// Diagnosis is what is known of errors that should be standard normal and
// independent (Durbin and Koopman, 2nd ed. 2012, 2.12).
type Diagnosis struct {
	Skew, Excess float64 // nought for the normal law
	Normality    float64 // n (skew²/6 + excess²/24): chi-squared with two degrees of freedom
	Q            float64 // Box and Ljung's sum over the first Lags: chi-squared with as many
	Lags         int
	H            float64 // sum of squares of the last third over that of the first: F with Third and Third
	Third        int
}

// Diagnose judges errors by their first lags.
func Diagnose(e []float64, lags int) Diagnosis {
	n := float64(len(e))
	d := Diagnosis{Lags: lags, Third: int(math.Round(n / 3))}
	mean := 0.0
	for _, x := range e {
		mean += x / n
	}
	var m2, m3, m4 float64
	for _, x := range e {
		x -= mean
		m2, m3, m4 = m2+x*x/n, m3+x*x*x/n, m4+x*x*x*x/n
	}
	d.Skew, d.Excess = m3/math.Pow(m2, 1.5), m4/(m2*m2)-3
	d.Normality = n * (d.Skew*d.Skew/6 + d.Excess*d.Excess/24)
	for k := 1; k <= lags && k < len(e); k++ {
		c := 0.0
		for i := k; i < len(e); i++ {
			c += (e[i] - mean) * (e[i-k] - mean)
		}
		c /= n * m2
		d.Q += n * (n + 2) * c * c / (n - float64(k))
	}
	var first, last float64
	for i := range d.Third {
		first += e[i] * e[i]
		last += e[len(e)-1-i] * e[len(e)-1-i]
	}
	d.H = last / first
	return d
}
