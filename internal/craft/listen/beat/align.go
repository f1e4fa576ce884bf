package beat

import (
	"math"

	"seatboard/internal/kit/num"
	"seatboard/internal/kit/sig"
)

// aligner finds a shape in cuts of one length, all lags at once by way of
// their spectra.
type aligner struct {
	k     *tools
	f     num.Fourier
	shape []complex128
	len   int
	power float64
	x     []float64
	c     []complex128
	r     []float32
}

func newAligner(k *tools, cuts []cut) *aligner {
	n := 1
	for n < len(cuts[0].y) {
		n *= 2
	}
	a := &aligner{k: k, f: num.NewFourier(n), x: make([]float64, n), c: make([]complex128, n/2+1), r: make([]float32, len(cuts[0].y))}
	for i := range cuts {
		cuts[i].c = a.spectrum(nil, cuts[i].y)
	}
	return a
}

func (a *aligner) spectrum(dst []complex128, y []float32) []complex128 {
	for i, v := range y {
		a.x[i] = float64(v)
	}
	clear(a.x[len(y):])
	return a.f.Spectrum(dst, a.x)
}

// take makes a shape the one that is looked for.
func (a *aligner) take(shape []float32) {
	a.shape = a.spectrum(a.shape, shape)
	a.len, a.power = len(shape), sig.Power(shape)
}

// match finds where the shape lies in a cut, at most reach from where it lies
// now, and the normalised correlation there.
func (a *aligner) match(c *cut, reach int) (lag, corr float64) {
	from := max(0, int(math.Round(c.lag))-reach)
	to := min(len(c.y)-a.len, int(math.Round(c.lag))+reach)
	if to <= from {
		return c.lag, 0
	}
	for i, v := range a.shape {
		a.c[i] = complex(real(v), -imag(v)) * c.c[i]
	}
	r := a.r[:len(c.y)-a.len+1] // of these lags nothing comes round
	for i, v := range a.f.Sequence(a.x, a.c)[:len(r)] {
		r[i] = float32(v)
	}
	i := from
	for j := from; j <= to; j++ {
		if r[j] > r[i] {
			i = j
		}
	}
	place, value, _ := a.k.between.Peak(r, i)
	norm := math.Sqrt(a.power*sig.Power(c.y[i:i+a.len])) * float64(a.len)
	if norm == 0 {
		return c.lag, 0
	}
	return place, value / norm
}
