package synth

import (
	"math"
	"math/rand/v2"
)

const (
	blowEvery = 1.8  // s
	flyEvery  = 0.09 // s, clicks of the fly and the warning between blows
	flyLevel  = 0.12 // against the blow
	knockPart = 0.4  // of the hammer against the ringing
)

// strikes is the bell with its hammer and fly.
type strikes struct {
	all    *rand.Rand
	rate   float64
	peak   float64
	coming []blow // in the order of time
	bell   []partial
	hammer []float32
	click  []float32
	on     []playing
	soft   []playing
}

type blow struct {
	at   int64
	peak float64
	fly  bool
}

// partial is one ringing mode of the bell; it goes on as a complex number.
type partial struct{ re, im, c, s, weight float64 }

// newStrikes takes the peak of the tick.
func newStrikes(r Recipe, peak float64) *strikes {
	k := &strikes{all: chance(r.Seed, ofStrikes), rate: r.SampleRate, peak: peak}
	k.hammer, k.click = knock(k.all, r.SampleRate), knock(k.all, r.SampleRate)
	base, sum := between(k.all, 650, 1100), 0.0
	for i, ratio := range []float64{1, 2.0, 2.74, 3.76, 5.12, 6.8} { // as a bell's, not harmonic
		hz := base * ratio * between(k.all, 0.98, 1.02)
		if hz > highest*r.SampleRate {
			break
		}
		radius := math.Exp(-1 / (between(k.all, 0.9, 1.6) / math.Sqrt(ratio) * r.SampleRate))
		w := 2 * math.Pi * hz / r.SampleRate
		k.bell = append(k.bell, partial{c: radius * math.Cos(w), s: radius * math.Sin(w), weight: 1 / (1 + 0.6*float64(i))})
		sum += k.bell[i].weight
	}
	for i := range k.bell {
		k.bell[i].weight /= sum
	}
	for _, s := range r.Strikes {
		k.plan(s)
	}
	return k
}

// plan lays out the blows of one strike and the fly's clicks between them.
func (k *strikes) plan(s Strike) {
	every := float64(s.Every)
	if every == 0 {
		every = blowEvery
	}
	peak := k.peak * amplitude(s.Level)
	for i := range s.Blows {
		at := float64(s.At) + float64(i)*every
		k.coming = append(k.coming, blow{int64(at * k.rate), peak, false})
		for t := flyEvery; t < every-flyEvery/2 && i < s.Blows-1; t += flyEvery {
			fly := at + t + 0.01*k.all.NormFloat64()
			k.coming = append(k.coming, blow{int64(fly * k.rate), peak * flyLevel * between(k.all, 0.4, 1), true})
		}
	}
}

func (k *strikes) add(block []float32, from int64) {
	at := 0
	for len(k.coming) > 0 && k.coming[0].at < from+int64(len(block)) {
		b := k.coming[0]
		k.coming = k.coming[1:]
		here := max(at, int(b.at-from))
		if b.fly {
			k.soft = append(k.soft, playing{b.at, louder(k.click, b.peak)})
			continue
		}
		k.ring(block[at:here])
		at = here
		for i := range k.bell {
			k.bell[i].im += b.peak * k.bell[i].weight
		}
		k.on = append(k.on, playing{b.at, louder(k.hammer, b.peak*knockPart)})
	}
	k.ring(block[at:])
	k.on = play(k.on, block, from, 1)
	k.soft = play(k.soft, block, from, 1)
}

func louder(x []float32, g float64) []float32 {
	y := make([]float32, len(x))
	for i, v := range x {
		y[i] = v * float32(g)
	}
	return y
}

// ring lets the bell sound on; once it is 120 dB down it is still.
func (k *strikes) ring(block []float32) {
	for i := range k.bell {
		p := &k.bell[i]
		if p.re*p.re+p.im*p.im < 1e-12*k.peak*k.peak {
			p.re, p.im = 0, 0
			continue
		}
		for j := range block {
			p.re, p.im = p.c*p.re-p.s*p.im, p.s*p.re+p.c*p.im
			block[j] += float32(p.re)
		}
	}
}
