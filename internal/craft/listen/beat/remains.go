package beat

import (
	"math"

	"seatboard/internal/kit/sig"
)

// remains looks at what is left about a sound when the shape is taken off,
// and sets kappa, its power over that of the noise. Where a click or a word
// lies on part of the sound, what stands out of the noise is cut down to it
// and the place is found again from the rest.
func (m *matched) remains(k *tools, t *tape, s sound, noise spectrum) sound {
	own := m.own(k, t, s)
	limit := 4 * math.Sqrt(noise.mean)
	var sum float64
	beyond := 0
	for i, v := range own {
		r := float64(v) - s.amp*float64(m.shape[i])
		sum += r * r
		if math.Abs(r) > limit {
			beyond++
		}
	}
	n := float64(len(own))
	s.kappa = max(1, sum/n/noise.mean)
	if s.kappa <= disturbed || beyond == 0 || float64(beyond) > mostBeyond*n {
		return s
	}
	sum = 0
	for i, v := range own {
		fit := s.amp * float64(m.shape[i])
		r := max(-limit, min(limit, float64(v)-fit))
		sum += r * r
		own[i] = float32(fit + r)
	}
	return m.again(k, own, s, max(1, sum/n/noise.mean))
}

const (
	disturbed  = 2.5 // kappa from which on a sound is taken to be disturbed
	mostBeyond = 0.4 // share of the samples that may stand out for it to be mended
)

// own is the sound about a place, band-passed, on the grid of the shape. It is
// good until the next call.
func (m *matched) own(k *tools, t *tape, s sound) []float32 {
	n := len(m.shape)
	edge := k.band.Len()/2 + 8
	raw := resized(&k.raw, n+2*edge)
	from := int64(math.Floor(s.at)) - int64(m.before+edge)
	t.float(raw, from)
	y := resized(&k.wide, len(raw))
	sig.Convolve(y, k.band, raw)
	own := resized(&k.own, n)
	k.between.Shift(own, y, s.at-float64(m.before)-float64(from))
	return own
}

// again finds the place anew in a mended sound.
func (m *matched) again(k *tools, own []float32, s sound, kappa float64) sound {
	const reach = 20
	c := m.laid(own, reach)
	best := reach
	for i := reach - 6; i <= reach+6; i++ {
		if c[i] > c[best] {
			best = i
		}
	}
	place, value, _ := k.between.Peak(c, best)
	s.at += place - reach
	s.amp, s.z, s.kappa, s.mended = value/m.d2, value/math.Sqrt(m.varD2), kappa, true
	return s
}

// through listens once more for a beat that other sound covers, with a filter
// that whitens that sound: speech has little where a tick is high. Only a
// beat as strong as usual and where it should be is taken.
func (p *pursuit) through(s sound, reach int) (sound, bool) {
	k, usual := p.h.tools, p.f.amp[p.f.side()]
	if p.f.seen < certain || s.kappa < covered || usual == 0 {
		return s, false
	}
	m := &p.filters[p.f.side()]
	s.at, s.amp = p.f.place(), usual // what is known best so far
	for range 2 {
		own := m.own(k, p.h.tape, s)
		for i := range own {
			own[i] -= float32(s.amp) * m.shape[i]
		}
		f := k.filter(m.shape, m.before, k.company(own), usual, p.keep[p.f.side()].worth()+1)
		s = f.find(k, p.h.tape, p.f.place(), reach, &p.h.buf)
		if s.edge || s.z < zLeast || p.f.strange(s) {
			return s, false
		}
	}
	return s, true
}

const (
	certain = 40 // beats after which the place of one is known well
	covered = 10 // kappa from which on other sound is taken to cover a beat
)

// company is the spectrum of a stretch of sound that is already in the band.
func (k *tools) company(x []float32) spectrum {
	n := 1
	for n < k.samples(8) {
		n *= 2
	}
	use := k.plan(n)
	y, c := make([]float64, n), make([]complex128, n/2+1)
	power := make([]float64, n/2+1)
	hop, count := n/4, 0.0
	for a := 0; a+n <= len(x); a += hop {
		for i := range y {
			y[i] = use.hann[i] * float64(x[a+i])
		}
		count++
		for i, v := range use.f.Spectrum(c, y) {
			power[i] += (real(v)*real(v) + imag(v)*imag(v)) / use.norm
		}
	}
	return evened(power, max(count, 1))
}

// like is the normalised correlation of the sound at a place with the shape.
// Where a click lies on the sound, what stands out of the noise is left out,
// if most of the shape remains and is as strong as usual.
func (m *matched) like(k *tools, t *tape, s sound, usual float64, noise spectrum) float64 {
	own := m.own(k, t, s)
	all, _, _ := m.alike(own, math.Inf(1), s.amp)
	if all > extraLikest {
		return all
	}
	amp, rest, share := s.amp, 0.0, 0.0
	for range 4 {
		rest, share, amp = m.alike(own, 4*math.Sqrt(noise.mean), amp)
	}
	if share < mostOfShape || amp < usual/2 || amp > 2*usual {
		return all
	}
	return rest
}

// mostOfShape is how much of a shape's power must not be covered.
const mostOfShape = 0.7

// alike correlates a sound with the shape where it is no further than limit
// from so many times the shape; share is the share of the shape's power there
// and is how strong the sound is there.
func (m *matched) alike(own []float32, limit, amp float64) (like, share, is float64) {
	var cross, mine, shape, whole float64
	for i, v := range own {
		x, y := float64(v), float64(m.shape[i])
		whole += y * y
		if math.Abs(x-amp*y) <= limit {
			cross, mine, shape = cross+x*y, mine+x*x, shape+y*y
		}
	}
	if mine == 0 || shape == 0 {
		return 0, 0, 0
	}
	return cross / math.Sqrt(mine*shape), shape / whole, cross / shape
}
