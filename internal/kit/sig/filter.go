package sig

import "math"

// kaiser is Kaiser's window at x from -1 to 1.
func kaiser(x, beta float64) float64 {
	if x < -1 || x > 1 {
		return 0
	}
	return besselI0(beta*math.Sqrt(1-x*x)) / besselI0(beta)
}

// besselI0 is the modified Bessel function of order 0, by its series.
func besselI0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-16*sum; k++ {
		term *= (x / (2 * k)) * (x / (2 * k))
		sum += term
	}
	return sum
}

// BandPass is a filter of linear phase with an odd number of taps that lets
// through low to high Hz at a sampling rate. It is centred: use it with
// [Convolve], which shifts nothing.
func BandPass(low, high, rate float64, taps int) []float32 {
	taps |= 1
	h := make([]float32, taps)
	m := taps / 2
	for i := range h {
		n := float64(i - m)
		v := 2*high/rate*sinc(2*high/rate*n) - 2*low/rate*sinc(2*low/rate*n)
		h[i] = float32(v * kaiser(n/float64(m+1), 5))
	}
	return h
}

func sinc(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

// Convolve filters x with a centred filter h of odd length, the same seen from
// both sides, into dst, which is as long as x; beyond its ends x is taken as 0.
func Convolve(dst []float32, h *Taps, x []float32) {
	m := h.Len() / 2
	for i := range dst[:min(m, len(x))] {
		dst[i] = edge(h.w, x, i, m)
	}
	if len(x) >= h.Len() {
		// h is even about its middle, so that correlating is convolving.
		h.Correlate(dst[m:len(x)-m], x)
	}
	for i := max(m, len(x)-m); i < len(x); i++ {
		dst[i] = edge(h.w, x, i, m)
	}
}

// edge is one value of it where part of the filter lies beyond x.
func edge(h, x []float32, i, m int) float32 {
	from := max(0, m-i)
	to := max(from, min(len(h), len(x)+m-i))
	return Dot(h[from:to], x[max(0, i-m):])
}

// HighPass is a Butterworth filter of the second order.
type HighPass struct{ b0, a1, a2, x1, x2, y1, y2 float64 }

// NewHighPass makes the filter for an edge in Hz at a sampling rate.
func NewHighPass(edge, rate float64) *HighPass {
	k := math.Tan(math.Pi * edge / rate)
	n := 1 / (1 + math.Sqrt2*k + k*k)
	return &HighPass{b0: n, a1: 2 * (k*k - 1) * n, a2: (1 - math.Sqrt2*k + k*k) * n}
}

// Energy filters x and returns the sum of squares of what comes out.
func (f *HighPass) Energy(x []float32) float64 {
	var sum float64
	x1, x2, y1, y2 := f.x1, f.x2, f.y1, f.y2
	for _, v := range x {
		in := float64(v)
		y := f.b0*(in-2*x1+x2) - f.a1*y1 - f.a2*y2
		x2, x1, y2, y1 = x1, in, y1, y
		sum += y * y
	}
	f.x1, f.x2, f.y1, f.y2 = x1, x2, y1, y2
	return sum
}
