package synth

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
)

const (
	over      = 32     // table points to a sample
	onset     = 20e-6  // s, standard deviation of the Gaussian that smooths an onset at 48 kHz and more
	ringing   = 0.06   // s, the sound of one impact
	tailing   = 0.005  // s, at its end it is faded out
	powerOver = 0.010  // s after the main impact, where its power is taken
	highest   = 0.42   // of the sampling rate: no mode lies above it
	faded     = 23     // times its decay, after which a mode is 10⁻¹⁰ of its start
	margin    = 4      // empty points at both ends of a table
	fullOnset = 48000. // Hz, below it the onset is smoothed more
)

// table is a sound at over points to a sample.
type table struct {
	y      []float32
	origin int // the point at which the main impact (or the impact itself) stands
}

// voice is the sound of one side: the whole, and its impacts one by one, for
// when they do not keep their distance.
type voice struct {
	whole   wave
	main    wave    // alone, at its place
	other   []wave  // alone, each with the main impact's place as origin
	power   float64 // mean square of the dry whole after the main impact
	highest float64 // magnitude of the dry whole
	slope   float64 // sum over the samples of the squared slope a sample, of the whole
}

// parts is a voice before it is put into a room.
type parts struct {
	whole, main    table
	other          []table
	power, highest float64
}

// mode is one of the ways in which the case rings.
type mode struct {
	hz, tau, weight float64
}

// impact is one blow within a beat.
type impact struct {
	at, strength float64 // s from the main one; the main one's is 1
}

// voices makes the sounds of tick and tock. Their powers are equal and the
// greater peak is 1.
func voices(r Recipe) [2]voice {
	rng := chance(r.Shape, ofShape)
	echo := newRoom(r)
	tick := newParts(r, rng)
	tock := tick
	if !r.OneShape {
		tock = newParts(r, rng)
	}
	peak := math.Max(tick.highest/math.Sqrt(tick.power), tock.highest/math.Sqrt(tock.power))
	v := [2]voice{tick.voice(echo, 1/(peak*math.Sqrt(tick.power)))}
	if v[1] = v[0]; !r.OneShape {
		v[1] = tock.voice(echo, 1/(peak*math.Sqrt(tock.power)))
	}
	return v
}

// voice puts the parts into a room and scales them.
func (p parts) voice(echo room, g float64) voice {
	whole := echo.in(p.whole, float32(g))
	v := voice{whole: newWave(whole), power: p.power * g * g, highest: p.highest * g, slope: steepness(whole)}
	if len(p.other) > 0 {
		v.main = newWave(echo.in(p.main, float32(g)))
	}
	for _, t := range p.other {
		v.other = append(v.other, newWave(echo.in(t, float32(g))))
	}
	return v
}

func newParts(r Recipe, rng *rand.Rand) parts {
	modes := newModes(r.SampleRate, rng)
	blows := newImpacts(rng)
	var v parts
	before := 0.012 // s: the unlocking and its onset
	after := ringing + 0.026
	step := 1 / (over * r.SampleRate)
	v.whole = table{y: make([]float32, int((before+after)/step)+2*margin), origin: int(before/step) + margin}
	for i, b := range blows {
		t := ring(r.SampleRate, modes, b.strength, rng)
		shift := int(math.Round(b.at / step))
		from := v.whole.origin + shift - t.origin
		for j, y := range t.y {
			v.whole.y[from+j] += y
		}
		t.origin -= shift // the main impact's place, seen from this one
		switch {
		case i == 0:
			v.main = t
		case r.ImpactSpread > 0:
			v.other = append(v.other, t)
		}
	}
	v.measure(r.SampleRate)
	return v
}

func (v *parts) measure(rate float64) {
	n := int(powerOver * rate * over)
	sum := 0.0
	for _, y := range v.whole.y[v.whole.origin : v.whole.origin+n] {
		sum += float64(y) * float64(y)
	}
	v.power = sum / float64(n)
	for _, y := range v.whole.y {
		v.highest = max(v.highest, float64(y), -float64(y))
	}
}

// newModes draws two low, two middle and two high modes.
func newModes(rate float64, rng *rand.Rand) []mode {
	bands := [][5]float64{ // lowest and highest Hz, shortest and longest decay in s, weight
		{400, 1500, 3e-3, 7e-3, 0.7}, {400, 1500, 3e-3, 7e-3, 0.7},
		{1800, 4300, 1e-3, 3e-3, 1}, {1800, 4300, 1e-3, 3e-3, 1},
		{4500, 10500, 0.5e-3, 1.7e-3, 0.8}, {4500, 10500, 0.5e-3, 1.7e-3, 0.8},
	}
	var list []mode
	for _, b := range bands {
		m := mode{hz: between(rng, b[0], b[1]), tau: between(rng, b[2], b[3]), weight: b[4] * between(rng, 0.6, 1)}
		if m.hz < highest*rate {
			list = append(list, m)
		}
	}
	return list
}

// newImpacts draws the blows of a beat, the main one first.
func newImpacts(rng *rand.Rand) []impact {
	list := []impact{{0, 1}, {-between(rng, 3e-3, 9e-3), between(rng, 0.15, 0.35)}}
	at, bounces := 0.0, 1+rng.IntN(3)
	for range bounces {
		at += between(rng, 2e-3, 8e-3)
		list = append(list, impact{at, between(rng, 0.2, 0.55)})
	}
	return list
}

func between(rng *rand.Rand, low, high float64) float64 { return low + (high-low)*rng.Float64() }

// ring is the sound of one impact: damped modes that begin at the origin,
// smoothed by a Gaussian. Past the Gaussian's reach the smoothing is a
// constant factor of every mode; within it the sum is taken.
func ring(rate float64, modes []mode, strength float64, rng *rand.Rand) table {
	step := 1 / (over * rate)
	bell := gaussian(onset*math.Max(1, fullOnset/rate)/step, 6)
	reach := len(bell) / 2
	n := int(ringing / step)
	sum := make([]float64, reach+n)   // from reach before the impact
	raw := make([]float64, 2*reach+1) // from the impact
	for _, m := range modes {
		s := complex(-1/m.tau, 2*math.Pi*m.hz)
		a := cmplx.Rect(m.weight*between(rng, 0.5, 1), 2*math.Pi*rng.Float64())
		turn := cmplx.Exp(s * complex(step, 0))
		z := a
		for i := range raw {
			raw[i] += real(z)
			z *= turn
		}
		factor := complex(0, 0)
		for j, g := range bell {
			factor += complex(g, 0) * cmplx.Exp(-s*complex(float64(j-reach)*step, 0))
		}
		z = a * factor * cmplx.Exp(s*complex(float64(reach)*step, 0))
		for i := reach; i < min(n, int(faded*m.tau/step)); i++ {
			sum[reach+i] += real(z)
			z *= turn
		}
	}
	raw[0] /= 2
	for i := -reach; i < reach; i++ {
		for j, g := range bell {
			if k := i - (j - reach); k >= 0 && k < len(raw) {
				sum[reach+i] += g * raw[k]
			}
		}
	}
	return finish(sum, reach, int(tailing/step), strength)
}

// finish fades the end, sets the peak and leaves empty points around.
func finish(sum []float64, origin, tail int, strength float64) table {
	peak := 0.0
	for i := range tail {
		sum[len(sum)-1-i] *= 0.5 - 0.5*math.Cos(math.Pi*float64(i)/float64(tail))
	}
	for _, y := range sum {
		peak = max(peak, y, -y)
	}
	t := table{y: make([]float32, len(sum)+2*margin), origin: origin + margin}
	for i, y := range sum {
		t.y[margin+i] = float32(strength * y / peak)
	}
	return t
}

// gaussian has the sum 1 and reaches so many standard deviations.
func gaussian(sd, reach float64) []float64 {
	m := int(math.Ceil(reach * sd))
	g := make([]float64, 2*m+1)
	sum := 0.0
	for i := range g {
		x := float64(i-m) / sd
		g[i] = math.Exp(-x * x / 2)
		sum += g[i]
	}
	for i := range g {
		g[i] /= sum
	}
	return g
}
