package culprit

import "math"

// whitener makes independent what a run's beats have in common: it is the
// steady part of a Kalman filter whose state is the phase, a random walk,
// seen through the scatter of each beat. Variances are in units of the mean
// scatter's. It rests on the numbers of the beats alone.
type whitener struct {
	gain, scale []float64 // for each beat: the filter's gain, one over the root of the innovation's variance
	logs        float64   // sum of the logarithms of those variances
}

// whitener for a ratio of wander to scatter, both as variances a beat. The
// phase of the first beat is taken as nought: level or places in the design
// stand for it.
func (r *run) whitener(ratio float64) whitener {
	w := whitener{gain: make([]float64, len(r.n)), scale: make([]float64, len(r.n))}
	p, product := 0.0, 1.0
	for i := range r.n {
		if i > 0 {
			p += ratio * float64(r.n[i]-r.n[i-1])
		}
		s := p + r.g[i]
		k := p / s
		w.gain[i], w.scale[i] = k, 1/math.Sqrt(s)
		if product *= s; product > 1e100 || product < 1e-100 {
			w.logs += math.Log(product)
			product = 1
		}
		p -= k * p
	}
	w.logs += math.Log(product)
	return w
}

// filter whitens values of beats from … in place; m is the state before and
// the answer the state after.
func (w whitener) filter(x []float64, from int, m float64) float64 {
	gain, scale := w.gain[from:from+len(x)], w.scale[from:from+len(x)]
	for i, v := range x {
		u := v - m
		m += gain[i] * u
		x[i] = u * scale[i]
	}
	return m
}
