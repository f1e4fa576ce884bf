package beat

import (
	"math"
	"slices"

	"seatboard/internal/kit/num"
	"seatboard/internal/kit/sig"
)

// spectrum is the power of the band-passed noise between the beats, from 0
// to half the sampling rate: white noise of variance v has the value v.
type spectrum struct {
	p    []float64
	mean float64 // variance in the band
}

// noise takes the spectrum of the gaps between beats: the median over
// segments, so that what is heard in a few of them does not count.
func (k *tools) noise(t *tape, gaps [][2]int64) spectrum {
	n := 1
	for n < k.samples(8) {
		n *= 2
	}
	starts := segments(gaps, n, 80)
	half := n/2 + 1
	all := make([]float64, half*len(starts)) // by frequency, then by segment
	use := k.plan(n)
	f := use.f
	raw, x, c := make([]float32, n), make([]float64, n), make([]complex128, half)
	for s, a := range starts {
		t.float(raw, a)
		for i, v := range raw {
			x[i] = use.hann[i] * float64(v)
		}
		for i, v := range f.Spectrum(c, x) {
			all[i*len(starts)+s] = (real(v)*real(v) + imag(v)*imag(v)) / use.norm
		}
	}
	return k.smoothed(all, len(starts), use)
}

// least is the variance of rounding to 16 bits: no recorder has less.
const least = 1.0 / (12 * 32768 * 32768)

// smoothed is the spectrum of so many segments, of each frequency one after
// the other, in the band.
func (k *tools) smoothed(all []float64, count int, use plan) spectrum {
	band := use.gain
	med := make([]float64, len(band))
	for i, h := range band {
		if count > 0 {
			med[i] = nth(all[i*count:(i+1)*count], count/2) / math.Ln2 * h * h
		}
	}
	return evened(med, 1)
}

// evened is a spectrum over five neighbours, divided by a number.
func evened(power []float64, by float64) spectrum {
	s := spectrum{p: make([]float64, len(power))}
	for i := range s.p {
		a, b := max(0, i-2), min(len(power), i+3)
		for _, v := range power[a:b] {
			s.p[i] += (v/by + 0.1*least) / float64(b-a)
		}
		s.mean += s.p[i] / float64(len(s.p))
	}
	return s
}

// segments spreads at most so many segments of n samples over the gaps.
func segments(gaps [][2]int64, n, most int) []int64 {
	var all []int64
	for _, g := range gaps {
		for a := g[0]; a+int64(n) <= g[1]; a += int64(n) {
			all = append(all, a)
		}
	}
	if len(all) <= most {
		return all
	}
	out := make([]int64, most)
	for i := range out {
		out[i] = all[i*len(all)/most]
	}
	return out
}

// matched is the filter that finds a shape in coloured noise best, and what
// it can do. Its place is that of the impact.
type matched struct {
	w       *sig.Taps
	off     int       // of w[0] against the impact, samples
	d2      float64   // what the filter gives for a true sound of strength 1: its power signal to noise ratio
	info    float64   // the curvature of that, per sample²
	varD2   float64   // variance of what it gives for noise; more than d2 by the noise in the shape
	varInfo float64   // variance of its slope
	varBend float64   // variance of its second derivative
	shape   []float32 // band-passed
	before  int       // impact's place in shape
	power   float64   // mean square of the 10 ms of the shape after the impact
}

// filter makes the filter: whitening and the band are in the taps, so that
// the sound need not be filtered. The shape is the mean of sounds of strength
// amp, and as many of them; the noise that is still in it finds nothing.
func (k *tools) filter(shape []float32, before int, noise spectrum, amp, count float64) matched {
	each := 1 / max(1e-30, count*amp*amp) // of the noise, in one sample of the shape
	clear, gain := k.cleared(shape, noise, each)
	n := 1
	for n < 2*len(shape) {
		n *= 2
	}
	use := k.plan(n)
	f, h := use.f, use.gain
	raw := widened(f, shape)
	c := widened(f, clear)
	top := slices.Max(noise.p)
	m := matched{shape: shape, before: before, power: sig.Power(shape[before:min(before+k.samples(10), len(shape))])}
	for i, v := range c {
		at := float64(i) / float64(n)
		p := noise.at(at) + 1e-3*top
		w := 2 * math.Pi * at
		share := 1 / p / float64(n)
		if i > 0 && i < n/2 {
			share *= 2
		}
		power := (real(v)*real(v) + imag(v)*imag(v)) * share
		own := (real(v)*real(raw[i])+imag(v)*imag(raw[i]))*share - gain.at(at)*float64(len(shape))*each*noise.at(at)*share
		m.d2, m.varD2 = m.d2+own, m.varD2+power
		m.info, m.varInfo = m.info+w*w*own, m.varInfo+w*w*power
		m.varBend += w * w * w * w * power
		c[i] = v * complex(h[i]/p, 0)
	}
	m.d2, m.info = max(m.d2, leastTrue*m.varD2), max(m.info, leastTrue*m.varInfo)
	full := f.Sequence(nil, c)
	m.trim(full, len(shape))
	return m
}

// widened is the spectrum of a shape in a longer transform.
func widened(f num.Fourier, shape []float32) []complex128 {
	x := make([]float64, f.Len())
	for i, v := range shape {
		x[i] = float64(v)
	}
	return f.Spectrum(nil, x)
}

// leastTrue is the share of a shape that is taken to be true at the least.
const leastTrue = 0.05

// at is the noise at a frequency as a share of the sampling rate.
func (s spectrum) at(f float64) float64 {
	x := f * 2 * float64(len(s.p)-1)
	i := min(int(x), len(s.p)-2)
	return s.p[i] + (s.p[i+1]-s.p[i])*(x-float64(i))
}

// trim keeps the stretch of taps that holds nearly all their energy.
func (m *matched) trim(full []float64, n int) {
	pre := (len(full) - n) / 2
	at := func(i int) float64 {
		if i < 0 {
			i += len(full)
		}
		return full[i]
	}
	var sum float64
	for _, v := range full {
		sum += v * v
	}
	a, b := -pre, n+pre
	lost := 0.0
	for b-a > 16 {
		l, r := at(a)*at(a), at(b-1)*at(b-1)
		if lost+min(l, r) > 0.003*sum {
			break
		}
		lost += min(l, r)
		if l < r {
			a++
		} else {
			b--
		}
	}
	w := make([]float32, b-a)
	for i := range w {
		w[i] = float32(at(a + i))
	}
	m.w = sig.NewTaps(w)
	m.off = a - m.before
}

// sound is one measured place of a shape.
type sound struct {
	at     float64 // of the impact, samples
	amp    float64 // against the shape
	z      float64 // over the noise, in its standard deviations
	u      float64 // standard uncertainty of at by the noise, samples
	edge   bool    // the best place was at the edge of what was searched
	mended bool    // a click or a word was cut out of it
	kappa  float64 // power of what remains over that of the noise; 1 where not looked at
	bend   float64 // how sharply the fit is bent there, over what the filter says; 0 where not known
}

// find looks for the shape within reach of a place.
func (m *matched) find(k *tools, t *tape, place float64, reach int, buf *buffers) sound {
	return m.findLike(k, t, place, reach, buf, usually{})
}

// findLike is find where it is known how the sound usually comes.
func (m *matched) findLike(k *tools, t *tape, place float64, reach int, buf *buffers, as usually) sound {
	c, x, from := m.room(t, place, reach, buf)
	i, last := pad, len(c)-pad-1
	m.w.Correlate(c[pad:last+1], x[pad:])
	for j := pad; j <= last; j++ {
		if c[j] > c[i] {
			i = j
		}
	}
	if as.amp > 0 && float64(c[i]) < certainly*math.Sqrt(m.varD2) {
		i = m.likeliest(c[:last+1], i, place-float64(from), as)
	}
	// What is beyond the reach is wanted only where the best is near its end.
	if i < 2*pad {
		m.w.Correlate(c[:pad], x[:pad+m.w.Len()-1])
	}
	if i > last-pad {
		m.w.Correlate(c[last+1:], x[last+1:])
	}
	s := m.at(k, c, i, from)
	s.edge = i == pad || i == last
	return s
}

// doubt is the standard uncertainty of a place where the fit is bent so
// sharply: the noise's slope over the bend, and to the next order what the
// bend itself is altered by noise (the fit of a shape is flatter beside its
// maximum, which adds as much as the bend's relative variance; what the noise
// adds by its own bend, it takes away by its third derivative).
func (m *matched) doubt(bend float64) float64 {
	bend = max(bend, 1e-9*m.info)
	return math.Sqrt(m.varInfo*(1+min(1, m.varBend/(bend*bend)))) / bend
}

// pad is how many values beyond the reach are needed to read between samples:
// eight for the sinc, and as far as its maximum may be from the highest of them.
const pad = 12

// fits is how well the shape fits at every sample within reach of a place and
// pad beyond; from is the sample of the first value.
func (m *matched) fits(t *tape, place float64, reach int, buf *buffers) (c []float32, from int64) {
	c, x, from := m.room(t, place, reach, buf)
	m.w.Correlate(c, x)
	return c, from
}

// room is where the fits go, and the samples that they are made of.
func (m *matched) room(t *tape, place float64, reach int, buf *buffers) (c, x []float32, from int64) {
	from = int64(math.Round(place)) - int64(reach+pad)
	lags := 2*(reach+pad) + 1
	x = resized(&buf.x, m.w.Len()+lags-1)
	t.float(x, from+int64(m.off))
	return resized(&buf.c, lags), x, from
}

// at is the sound where the fit has a maximum.
func (m *matched) at(k *tools, c []float32, i int, from int64) sound {
	at, value, curve := k.between.Peak(c, i)
	s := sound{at: float64(from) + at, amp: value / m.d2, z: value / math.Sqrt(m.varD2), kappa: 1}
	if i >= sig.PeakRoom && i+sig.PeakRoom < len(c) && value > 0 {
		s.bend = -curve / value * m.d2 / m.info
	}
	s.u = m.doubt(s.amp * m.info)
	return s
}

// laid is the fit of samples on the shape's own grid, from reach before to
// reach after the place where they lie.
func (m *matched) laid(own []float32, reach int) []float32 {
	x := make([]float32, m.w.Len()+2*reach)
	for i := range x {
		if j := i - reach + m.off + m.before; j >= 0 && j < len(own) {
			x[i] = own[j]
		}
	}
	c := make([]float32, 2*reach+1)
	m.w.Correlate(c, x)
	return c
}

// findAll lists every place within reach where the shape fits better than
// beside it, and half as well at least as where it fits best.
func (m *matched) findAll(k *tools, t *tape, place float64, reach int, buf *buffers) []sound {
	c, from := m.fits(t, place, reach, buf)
	top := slices.Max(c[pad : len(c)-pad])
	var out []sound
	for i := pad + 1; i < len(c)-pad-1; i++ {
		if c[i] >= top/2 && c[i] >= c[i-1] && c[i] > c[i+1] {
			out = append(out, m.at(k, c, i, from))
		}
	}
	return out
}

// buffers are used again for every beat.
type buffers struct{ x, c []float32 }

// resized is a buffer with room for n, with whatever is in it.
func resized(b *[]float32, n int) []float32 {
	if cap(*b) < n {
		*b = make([]float32, n)
	}
	return (*b)[:n]
}
