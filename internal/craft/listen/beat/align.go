package beat

import (
	"math"
	"math/cmplx"

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
	a := &aligner{k: k, f: k.plan(n).f, x: make([]float64, n), c: make([]complex128, n/2+1), r: make([]float32, len(cuts[0].y))}
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

// likeness is how like a shape some of the cuts are: the mean of the squares,
// with their signs.
func (a *aligner) likeness(shape []float32, cuts []cut, some []int, reach int) float64 {
	a.take(shape)
	var sum float64
	for _, i := range some {
		_, c := a.match(&cuts[i], reach)
		sum += c * math.Abs(c) / float64(len(some))
	}
	return sum
}

// together is the mean of every other cut where a steady clock would have
// them. The beat is not known so well that they lie on one another: of the
// ways they may drift apart from the first to the last, the one with the most
// power in the low modes is taken.
func (a *aligner) together(cuts []cut, s span, noise spectrum) []float32 {
	k, n := a.k, float64(a.f.Len())
	from, to := int(500*n/k.rate), int(3000*n/k.rate)
	best, most := 0.0, -1.0
	for d := -1.5; d <= 1.5; d += 0.05 {
		drift := d * k.rate / 1000
		var power float64
		for i, v := range a.drifted(cuts, drift, from, to) {
			power += (real(v)*real(v) + imag(v)*imag(v)) / max(noise.at(float64(from+i)/n), 1e-30)
		}
		if power > most {
			best, most = drift, power
		}
	}
	copy(a.c, a.drifted(cuts, best, 0, len(a.c)))
	y := make([]float32, len(cuts[0].y))
	for i, v := range a.f.Sequence(a.x, a.c)[:len(y)] {
		y[i] = float32(v)
	}
	shape, _ := k.cleared(middle(cut{y: y}, s), noise, 2/float64(len(cuts)))
	return shape
}

// drifted is the mean of every other cut when they drift by so many samples
// from the first to the last, its spectrum from one line to another.
func (a *aligner) drifted(cuts []cut, drift float64, from, to int) []complex128 {
	sum := make([]complex128, to-from)
	count := float64((len(cuts) + 1) / 2)
	for j := 0; j < len(cuts); j += 2 {
		c := &cuts[j]
		w := 2 * math.Pi * (c.part + drift*c.turn) / float64(a.f.Len())
		z, dz := cmplx.Rect(1/count, w*float64(from)), cmplx.Rect(1, w)
		for i, v := range c.c[from:to] {
			sum[i] += v * z
			z *= dz
		}
	}
	return sum
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
