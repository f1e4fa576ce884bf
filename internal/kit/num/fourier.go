package num

import "gonum.org/v1/gonum/dsp/fourier"

// Fourier transforms real sequences of one length. It is not safe for use by
// several goroutines at once.
type Fourier struct{ t *fourier.FFT }

// NewFourier prepares transforms of n numbers, n > 0; powers of two are the
// fastest.
func NewFourier(n int) Fourier { return Fourier{fourier.NewFFT(n)} }

// Len is the number of points.
func (f Fourier) Len() int { return f.t.Len() }

// Spectrum transforms x, of Len numbers, into dst, of Len/2+1; a nil dst is
// made. Nothing is scaled.
func (f Fourier) Spectrum(dst []complex128, x []float64) []complex128 {
	return f.t.Coefficients(dst, x)
}

// Sequence is the inverse of Spectrum, scaled so that the two undo each other.
func (f Fourier) Sequence(dst []float64, c []complex128) []float64 {
	dst = f.t.Sequence(dst, c)
	k := 1 / float64(f.t.Len())
	for i := range dst {
		dst[i] *= k
	}
	return dst
}
