package synth

import (
	"math"
	"math/rand/v2"
)

// adder puts a sound on top of a block; from is the number of its first
// sample. Blocks come in order and without gaps.
type adder interface {
	add(block []float32, from int64)
}

// white is Gaussian and flat.
type white struct {
	sd  float32
	all *rand.Rand
}

func newWhite(seed uint64, sd float64) *white {
	return &white{all: chance(seed, ofWhite), sd: float32(sd)}
}

func (w *white) add(block []float32, _ int64) {
	for i := range block {
		block[i] += w.sd * float32(w.all.NormFloat64())
	}
}

const poles = 12

// pink falls by 3 dB an octave from half the sampling rate over twelve
// octaves: one-pole low-passes an octave apart, weighted by the root of their
// corner, on one white noise.
type pink struct {
	all   *rand.Rand
	decay [poles]float32
	gain  [poles]float32
	state [poles]float32
}

func newPink(seed uint64, sd float64) *pink {
	p := &pink{all: chance(seed, ofPink)}
	var a, b [poles]float64
	for i := range a {
		corner := math.Pi * math.Pow(2, -float64(i)) // rad a sample
		a[i] = math.Exp(-corner)
		b[i] = (1 - a[i]) / math.Sqrt(corner)
	}
	variance := 0.0
	for i := range a {
		for j := range a {
			variance += b[i] * b[j] / (1 - a[i]*a[j])
		}
	}
	for i := range a {
		p.decay[i] = float32(a[i])
		p.gain[i] = float32(b[i] * sd / math.Sqrt(variance))
	}
	for range 1 << 15 { // until the slowest pole has forgotten its start
		p.next()
	}
	return p
}

func (p *pink) next() float32 {
	x := float32(p.all.NormFloat64())
	sum := float32(0)
	for i := range p.state {
		s := p.state[i]*p.decay[i] + x*p.gain[i]
		p.state[i] = s
		sum += s
	}
	return sum
}

func (p *pink) add(block []float32, _ int64) {
	for i := range block {
		block[i] += p.next()
	}
}

const harmonics = 7

// hum is the mains with its harmonics.
type hum struct {
	w         float64 // rad a sample
	amplitude [harmonics]float64
}

func newHum(hz, rate, rms float64) *hum {
	h := &hum{w: 2 * math.Pi * hz / rate}
	relative := [harmonics]float64{1, 0.5, 0.6, 0.25, 0.3, 0.12, 0.15}
	sum := 0.0
	for _, a := range relative {
		sum += a * a / 2
	}
	for i, a := range relative {
		h.amplitude[i] = a * rms / math.Sqrt(sum)
	}
	return h
}

// add begins each harmonic of a block at its exact phase and goes on by the
// recurrence of the sine.
func (h *hum) add(block []float32, from int64) {
	for k, a := range h.amplitude {
		w := h.w * float64(k+1)
		phase := math.Mod(w*float64(from), 2*math.Pi) + float64(k*k)
		s, before := a*math.Sin(phase), a*math.Sin(phase-w)
		c := 2 * math.Cos(w)
		for i := range block {
			block[i] += float32(s)
			s, before = c*s-before, s
		}
	}
}

// clicks are short knocks at random times, all of one peak.
type clicks struct {
	all   *rand.Rand
	mean  float64 // samples between
	next  float64
	sound [][]float32
	on    []playing
	peak  float32
}

type playing struct {
	from  int64
	sound []float32
}

func newClicks(r Recipe, peak float64) *clicks {
	c := &clicks{all: chance(r.Seed, ofClicks), mean: r.SampleRate / r.ClickRate, peak: float32(peak)}
	for range 16 {
		c.sound = append(c.sound, knock(c.all, r.SampleRate))
	}
	c.next = c.mean * c.all.ExpFloat64()
	return c
}

// knock is a few damped modes, its greatest magnitude 1.
func knock(rng *rand.Rand, rate float64) []float32 {
	modes := make([]mode, 0, 3)
	for range 3 {
		modes = append(modes, mode{hz: between(rng, 700, math.Min(8000, 0.35*rate)), tau: between(rng, 0.3e-3, 2e-3), weight: between(rng, 0.4, 1)})
	}
	t := ring(rate, modes, 1, rng)
	y := make([]float32, 0, len(t.y)/over/4)
	for i := 0; i < len(t.y)/4; i += over {
		y = append(y, t.y[i])
	}
	peak := float32(0)
	for _, v := range y {
		peak = max(peak, v, -v)
	}
	for i := range y {
		y[i] /= peak
	}
	return y
}

func (c *clicks) add(block []float32, from int64) {
	for c.next < float64(from+int64(len(block))) {
		c.on = append(c.on, playing{int64(c.next), c.sound[c.all.IntN(len(c.sound))]})
		c.next += c.mean * c.all.ExpFloat64()
	}
	c.on = play(c.on, block, from, c.peak)
}

// play adds what sounds within the block and keeps what sounds on.
func play(on []playing, block []float32, from int64, gain float32) []playing {
	keep := on[:0]
	end := from + int64(len(block))
	for _, p := range on {
		first := max(from, p.from)
		last := min(end, p.from+int64(len(p.sound)))
		for i := first; i < last; i++ {
			block[i-from] += gain * p.sound[i-p.from]
		}
		if p.from+int64(len(p.sound)) > end {
			keep = append(keep, p)
		}
	}
	return keep
}
