package sig

// Taps is a shape made ready to be looked for again and again: [Correlate]
// with it takes about half as long. It is not safe for use by several
// goroutines at once.
//
// Even and odd samples are worked apart. Of the four products of even and odd
// taps with even and odd samples one is saved, as in multiplying by three
// products for four, and again in each half:
//
//	even lags = w0·(x0−x1) + (w0+w1)·x1
//	odd lags  = w1·(x0⁺−x1) + (w0+w1)·x1
//
// w0 and w1 are the even and odd taps, x0 and x1 the samples, x0⁺ is x0 one
// later. The sums differ from the plain ones by rounding only.
type Taps struct {
	w     []float32
	parts [3]*Taps // w0, w1, w0+w1; nil where w is short
	x     []float32
	y     []float32
}

// fewTaps is how many are not worth dividing.
const fewTaps = 48

// fewLags is how many are not worth it.
const fewLags = 16

// NewTaps makes w ready; w must not be changed afterwards.
func NewTaps(w []float32) *Taps {
	t := &Taps{w: w}
	if len(w) < fewTaps {
		return t
	}
	half := (len(w) + 1) / 2
	all := make([]float32, 3*half)
	w0, w1, both := all[:half:half], all[half:2*half:2*half], all[2*half:]
	for i, v := range w {
		if i&1 == 0 {
			w0[i/2] = v
		} else {
			w1[i/2] = v
		}
	}
	for i := range both {
		both[i] = w0[i] + w1[i]
	}
	for i, part := range [3][]float32{w0, w1, both} {
		t.parts[i] = NewTaps(part)
	}
	return t
}

// Len is the number of taps.
func (t *Taps) Len() int { return len(t.w) }

// At is tap i.
func (t *Taps) At(i int) float32 { return t.w[i] }

// Correlate is [Correlate] with these taps.
func (t *Taps) Correlate(dst, x []float32) {
	n := min(len(dst), len(x)-len(t.w)+1) / 8 * 8
	if t.parts[0] == nil || n < fewLags {
		Correlate(dst, t.w, x)
		return
	}
	t.halves(dst[:n], x)
	Correlate(dst[n:], t.w, x[n:])
}

// halves correlates at an even number of lags; x holds all that they need but
// perhaps the sample that an odd number of taps is filled up with.
func (t *Taps) halves(dst, x []float32) {
	lags := len(dst) / 2
	half := len(t.parts[0].w)
	n := lags + half - 1 // samples of each kind
	if cap(t.x) < 3*n {
		t.x, t.y = make([]float32, 3*n), make([]float32, 3*lags)
	}
	x1, even, odd := t.x[:n], t.x[n:][:n], t.x[2*n : 3*n][:n]
	whole := min(n, (len(x)-1)/2)
	for i := range whole {
		a, b, c := x[2*i], x[2*i+1], x[2*i+2]
		x1[i], even[i], odd[i] = b, a-b, c-b
	}
	at := func(i int) float32 {
		if i < len(x) {
			return x[i]
		}
		return 0
	}
	for i := whole; i < n; i++ {
		a, b, c := at(2*i), at(2*i+1), at(2*i+2)
		x1[i], even[i], odd[i] = b, a-b, c-b
	}
	y0, y1, both := t.y[:lags], t.y[lags:][:lags], t.y[2*lags:][:lags]
	t.parts[0].Correlate(y0, even)
	t.parts[1].Correlate(y1, odd)
	t.parts[2].Correlate(both, x1)
	for i, v := range both {
		dst[2*i], dst[2*i+1] = y0[i]+v, y1[i]+v
	}
}
