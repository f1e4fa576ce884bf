package periodogram

import (
	"math"

	"seatboard/internal/kit/num"
)

// Series is readings at times. W are weights, one over the variance up to a
// factor; nil is equal weights. The slices must be of one length.
type Series struct {
	T, Y, W []float64
}

// Grid is evenly spaced frequencies, From first.
type Grid struct {
	From, Step float64
	N          int
}

// At is frequency i.
func (g Grid) At(i int) float64 { return g.From + float64(i)*g.Step }

// Sinusoid is what was fitted at one frequency f:
// y = Mean + Cos cos 2πft + Sin sin 2πft.
type Sinusoid struct {
	Power          float64 // 0 to 1
	Mean, Cos, Sin float64
}

// Amplitude is half the swing.
func (s Sinusoid) Amplitude() float64 { return math.Hypot(s.Cos, s.Sin) }

// Value is the fitted curve at a phase 2πft.
func (s Sinusoid) Value(phase float64) float64 {
	sin, cos := math.Sincos(phase)
	return s.Mean + s.Cos*cos + s.Sin*sin
}

// weight is the weight of reading i, not normalised.
func (s Series) weight(i int) float64 {
	if s.W == nil {
		return 1
	}
	return s.W[i]
}

// moments are the sum of the weights, the weighted mean and the weighted
// mean square about it.
func (s Series) moments() (sum, mean, square float64) {
	for i, y := range s.Y {
		sum += s.weight(i)
		mean += s.weight(i) * y
	}
	mean /= sum
	for i, y := range s.Y {
		square += s.weight(i) * (y - mean) * (y - mean)
	}
	return sum, mean, square / sum
}

// sums are the weighted means over the readings of cos, sin, cos 2φ, sin 2φ,
// y cos and y sin, y counted from its mean.
type sums struct{ c, s, c2, s2, yc, ys float64 }

// fit solves the normal equations; yy is the mean square of y.
func (m sums) fit(yy float64) Sinusoid {
	cc := (1+m.c2)/2 - m.c*m.c
	ss := (1-m.c2)/2 - m.s*m.s
	cs := m.s2/2 - m.c*m.s
	d := cc*ss - cs*cs
	if !(d > 1e-14) || !(yy > 0) { // one curve only, or none
		return Sinusoid{}
	}
	a, b := (m.yc*ss-m.ys*cs)/d, (m.ys*cc-m.yc*cs)/d
	return Sinusoid{Power: min(max((a*m.yc+b*m.ys)/yy, 0), 1), Mean: -a*m.c - b*m.s, Cos: a, Sin: b}
}

// At fits one frequency.
func (s Series) At(f float64) Sinusoid {
	sum, mean, yy := s.moments()
	fit := s.sumsAt(f, sum, mean).fit(yy)
	fit.Mean += mean
	return fit
}

func (s Series) sumsAt(f, sum, mean float64) sums {
	var m sums
	for i, t := range s.T {
		sin, cos := math.Sincos(2 * math.Pi * f * t)
		w := s.weight(i) / sum
		m.c += w * cos
		m.s += w * sin
		m.c2 += w * (cos*cos - sin*sin)
		m.s2 += w * 2 * cos * sin
		y := s.Y[i] - mean
		m.yc += w * y * cos
		m.ys += w * y * sin
	}
	return m
}

// Refine is the frequency of greatest power from f − within to f + within,
// where there is one maximum, to about 1e-4 of within.
func (s Series) Refine(f, within float64) float64 {
	sum, mean, yy := s.moments()
	power := func(f float64) float64 { return s.sumsAt(f, sum, mean).fit(yy).Power }
	const golden = 0.6180339887498949
	a, b := f-within, f+within
	x1, x2 := b-golden*(b-a), a+golden*(b-a)
	p1, p2 := power(x1), power(x2)
	for b-a > 2e-4*within {
		if p1 > p2 {
			b, x2, p2 = x2, x1, p1
			x1 = b - golden*(b-a)
			p1 = power(x1)
		} else {
			a, x1, p1 = x1, x2, p2
			x2 = a + golden*(b-a)
			p2 = power(x2)
		}
	}
	return (a + b) / 2
}

// fresh is how many steps the turning vectors are trusted for.
const fresh = 256

// turning is one reading's vector, its step and its weights.
type turning struct{ c, s, dc, ds, w, wy float64 }

// Over is the power at each frequency of a grid.
func (s Series) Over(g Grid) []float64 {
	out := make([]float64, max(g.N, 0))
	sum, mean, yy := s.moments()
	v := make([]turning, len(s.T))
	for i, t := range s.T {
		w := s.weight(i) / sum
		sin, cos := math.Sincos(2 * math.Pi * g.Step * t)
		v[i] = turning{dc: cos, ds: sin, w: w, wy: w * (s.Y[i] - mean)}
	}
	for k := range out {
		if k%fresh == 0 {
			f := g.At(k)
			for i, t := range s.T {
				v[i].s, v[i].c = math.Sincos(2 * math.Pi * f * t)
			}
		}
		out[k] = turn(v).fit(yy).Power
	}
	return out
}

// turn sums the vectors and turns each to the next frequency.
func turn(v []turning) sums {
	var m sums
	var cc, cs float64
	for i := range v {
		p := &v[i]
		c, s := p.c, p.s
		wc := p.w * c
		m.c += wc
		m.s += p.w * s
		cc += wc * c
		cs += wc * s
		m.yc += p.wy * c
		m.ys += p.wy * s
		p.c, p.s = c*p.dc-s*p.ds, s*p.dc+c*p.ds
	}
	m.c2, m.s2 = 2*cc-1, 2*cs
	return m
}

// Whole is the power of readings at whole numbers from 0 on, where some may
// be missing, by Fourier transforms: y and w by number, w nought where there
// is no reading. The grid goes from one step to half a cycle for each number,
// with over times as many frequencies as independent ones, or up to twice
// that.
func Whole(y, w []float64, over int) (Grid, []float64) {
	n := 2
	for n < len(y)*max(over, 1) {
		n *= 2
	}
	var sum, mean, yy float64
	for i, v := range y {
		sum += w[i]
		mean += w[i] * v
	}
	if len(y) == 0 || !(sum > 0) {
		return Grid{}, nil
	}
	mean /= sum
	x := make([]float64, n)
	for i := range y {
		x[i] = w[i] / sum
	}
	f := num.NewFourier(n)
	cw := f.Spectrum(nil, x)
	for i, v := range y {
		x[i] = w[i] / sum * (v - mean)
		yy += x[i] * (v - mean)
	}
	cy := f.Spectrum(nil, x)
	out := make([]float64, n/2-1)
	for k := 1; k < n/2; k++ {
		m := sums{c: real(cw[k]), s: -imag(cw[k]), yc: real(cy[k]), ys: -imag(cy[k])}
		if d := 2 * k; d <= n/2 {
			m.c2, m.s2 = real(cw[d]), -imag(cw[d])
		} else {
			m.c2, m.s2 = real(cw[n-d]), imag(cw[n-d])
		}
		out[k-1] = m.fit(yy).Power
	}
	return Grid{From: 1 / float64(n), Step: 1 / float64(n), N: len(out)}, out
}
