package synth

import (
	"math"
	"math/rand/v2"
)

// speech is speech-like: vowels with a gliding pitch and three formants,
// hisses, plosives and pauses, one after the other.
type speech struct {
	all   *rand.Rand
	rate  float64
	gain  float32
	left  int // samples of what is being said
	done  int
	kind  int
	pitch float64 // turns a sample
	glide float64 // change of it a sample
	phase float64
	form  [3]resonator
}

const (
	vowel = iota
	hiss
	hold
	burst
	pause
)

// resonator is a two-pole band-pass whose gain at its frequency is 1.
type resonator struct{ a, b, g, y1, y2 float64 }

func (q *resonator) tune(hz, width, rate float64) {
	radius := math.Exp(-math.Pi * width / rate)
	w := 2 * math.Pi * hz / rate
	q.a, q.b = 2*radius*math.Cos(w), -radius*radius
	q.g = (1 - radius) * math.Sqrt(1-2*radius*math.Cos(2*w)+radius*radius)
}

func (q *resonator) next(x float64) float64 {
	y := q.g*x + q.a*q.y1 + q.b*q.y2
	q.y1, q.y2 = y, q.y1
	return y
}

// newSpeech sets the level by half a minute of another talk of the same kind.
func newSpeech(seed uint64, rate, rms float64) *speech {
	trial := &speech{all: chance(seed, ofSpeech+100), rate: rate, gain: 1, kind: pause}
	block := make([]float32, 4096)
	sum, n := 0.0, 0
	for n < int(30*rate) {
		clear(block)
		trial.add(block, 0)
		for _, v := range block {
			sum += float64(v) * float64(v)
		}
		n += len(block)
	}
	return &speech{all: chance(seed, ofSpeech), rate: rate, gain: float32(rms / math.Sqrt(sum/float64(n))), kind: pause}
}

func (s *speech) add(block []float32, _ int64) {
	for i := range block {
		if s.left == 0 {
			s.turn()
		}
		s.left--
		s.done++
		if s.kind == pause || s.kind == hold {
			continue
		}
		block[i] += s.gain * float32(s.sound()*s.swell())
	}
}

// swell lets a sound come and go within 10 ms; a burst comes at once.
func (s *speech) swell() float64 {
	ramp := 0.01 * s.rate
	e := math.Min(1, float64(s.left)/ramp)
	if s.kind != burst {
		e *= math.Min(1, float64(s.done)/ramp)
	}
	return e
}

func (s *speech) sound() float64 {
	if s.kind != vowel {
		return 6 * s.form[0].next(s.all.NormFloat64())
	}
	x := 0.0
	s.phase += s.pitch
	s.pitch += s.glide
	if s.phase >= 1 {
		s.phase--
		x = 1 / math.Sqrt(s.pitch)
	}
	return 20 * (s.form[0].next(x) + 0.5*s.form[1].next(x) + 0.25*s.form[2].next(x))
}

// turn goes on to the next sound.
func (s *speech) turn() {
	long := func(low, high float64) { s.left = int(between(s.all, low, high) * s.rate) }
	s.done = 0
	if s.kind == hold {
		s.kind = burst
		long(0.008, 0.02)
		s.form[0].tune(between(s.all, 1500, 0.18*s.rate/2+1500), 1500, s.rate)
		return
	}
	switch x := s.all.Float64(); {
	case x < 0.50:
		s.kind = vowel
		long(0.08, 0.28)
		s.pitch = between(s.all, 90, 220) / s.rate
		s.glide = s.pitch * between(s.all, -0.8, 0.8) / s.rate
		s.form[0].tune(between(s.all, 280, 800), 80, s.rate)
		s.form[1].tune(between(s.all, 900, 2200), 110, s.rate)
		s.form[2].tune(between(s.all, 2300, 3000), 160, s.rate)
	case x < 0.68:
		s.kind = hiss
		long(0.06, 0.16)
		s.form[0].tune(math.Min(between(s.all, 3000, 7000), 0.4*s.rate), 2000, s.rate)
	case x < 0.84:
		s.kind = hold
		long(0.03, 0.08)
	default:
		s.kind = pause
		long(0.1, 0.9)
	}
}
