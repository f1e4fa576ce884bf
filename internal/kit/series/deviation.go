package series

import "math"

// Deviation is a measure and the number of differences it is the mean of.
type Deviation struct {
	Dev   float64 // of the fractional frequency, or s for Time; NaN without a term
	Terms int
}

// Allan is the Allan deviation of differences side by side, so that no
// reading is used in the same place twice.
func Allan(x []float64, tau0 float64, m int) Deviation {
	return differences(x, tau0, m, m, 2)
}

// AllanOverlapping is the Allan deviation of all differences.
func AllanOverlapping(x []float64, tau0 float64, m int) Deviation {
	return differences(x, tau0, m, 1, 2)
}

// Hadamard is the Hadamard deviation of differences side by side.
func Hadamard(x []float64, tau0 float64, m int) Deviation {
	return differences(x, tau0, m, m, 3)
}

// HadamardOverlapping is the Hadamard deviation of all differences.
func HadamardOverlapping(x []float64, tau0 float64, m int) Deviation {
	return differences(x, tau0, m, 1, 3)
}

// differences is the root mean square of the second or third differences
// over m readings, a step apart, over the divisor that makes white frequency
// noise come out at its own size.
func differences(x []float64, tau0 float64, m, step, order int) Deviation {
	if !possible(tau0, m) {
		return Deviation{Dev: math.NaN()}
	}
	var sum float64
	terms := 0
	for i := 0; i+order*m < len(x); i += step {
		d := x[i+2*m] - 2*x[i+m] + x[i]
		if order == 3 {
			d = x[i+3*m] - 3*x[i+2*m] + 3*x[i+m] - x[i]
		}
		if d == d {
			sum += d * d
			terms++
		}
	}
	divisor := 2.0
	if order == 3 {
		divisor = 6
	}
	return root(sum, terms, divisor, float64(m)*tau0)
}

// Modified is the modified Allan deviation, all differences used.
func Modified(x []float64, tau0 float64, m int) Deviation {
	if !possible(tau0, m) {
		return Deviation{Dev: math.NaN()}
	}
	sums := running(x, m)
	var sum float64
	terms := 0
	for i := 0; i+2*m < len(sums); i++ {
		d := (sums[i+2*m] - 2*sums[i+m] + sums[i]) / float64(m)
		if d == d {
			sum += d * d
			terms++
		}
	}
	return root(sum, terms, 2, float64(m)*tau0)
}

// Time is the time deviation in seconds: τ/√3 times Modified.
func Time(x []float64, tau0 float64, m int) Deviation {
	d := Modified(x, tau0, m)
	d.Dev *= float64(m) * tau0 / math.Sqrt(3)
	return d
}

// running has the sums of every m readings in a row, NaN where one of them
// is missing. They are of what is left without the mean, to keep digits.
func running(x []float64, m int) []float64 {
	if len(x) < m {
		return nil
	}
	mean, have := 0.0, 0
	for _, v := range x {
		if v == v {
			mean, have = mean+v, have+1
		}
	}
	mean /= float64(max(have, 1))
	out := make([]float64, len(x)-m+1)
	sum, missing := 0.0, 0
	add := func(v, sign float64) {
		if v == v {
			sum += sign * (v - mean)
		} else {
			missing += int(sign)
		}
	}
	for i, v := range x {
		add(v, 1)
		if i >= m {
			add(x[i-m], -1)
		}
		if i < m-1 {
			continue
		}
		out[i-m+1] = sum
		if missing > 0 {
			out[i-m+1] = math.NaN()
		}
	}
	return out
}

func possible(tau0 float64, m int) bool { return m >= 1 && tau0 > 0 && !math.IsInf(tau0, 0) }

func root(sum float64, terms int, divisor, tau float64) Deviation {
	if terms == 0 {
		return Deviation{Dev: math.NaN()}
	}
	return Deviation{Dev: math.Sqrt(sum/divisor/float64(terms)) / tau, Terms: terms}
}
