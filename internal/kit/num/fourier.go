package num

import (
	"math/bits"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Fourier transforms real sequences of one length. It is not safe for use by
// several goroutines at once.
type Fourier struct {
	any *fourier.FFT // nil where the length is a power of two
	two *powerOfTwo
}

// NewFourier prepares transforms of n numbers, n > 0; powers of two are the
// fastest.
func NewFourier(n int) Fourier {
	if n >= 8 && bits.OnesCount(uint(n)) == 1 {
		return Fourier{two: newPowerOfTwo(n)}
	}
	return Fourier{any: fourier.NewFFT(n)}
}

// Len is the number of points.
func (f Fourier) Len() int {
	if f.two != nil {
		return f.two.n
	}
	return f.any.Len()
}

// Spectrum transforms x, of Len numbers, into dst, of Len/2+1; a nil dst is
// made. Nothing is scaled.
func (f Fourier) Spectrum(dst []complex128, x []float64) []complex128 {
	if f.two == nil {
		return f.any.Coefficients(dst, x)
	}
	if dst == nil {
		dst = make([]complex128, f.two.n/2+1)
	}
	f.two.spectrum(dst, x)
	return dst
}

// Sequence is the inverse of Spectrum, scaled so that the two undo each other.
func (f Fourier) Sequence(dst []float64, c []complex128) []float64 {
	if f.two != nil {
		if dst == nil {
			dst = make([]float64, f.two.n)
		}
		f.two.sequence(dst, c)
		return dst
	}
	dst = f.any.Sequence(dst, c)
	k := 1 / float64(f.any.Len())
	for i := range dst {
		dst[i] *= k
	}
	return dst
}
