package sampleclock

import (
	"math"
	"math/rand/v2"

	"seatboard/internal/kit/unit"
)

// sim makes arrivals with a known truth.
type sim struct {
	rate   float64 // stated
	err    float64 // of the recorder's clock
	chunk  int64
	length float64 // s of true time
	delay  func(r *rand.Rand) float64
	wander float64 // rms of the host, s
	settle float64 // s
	seed   uint64
	steps  []simStep
	rateAt float64 // s: from here on the true rate is rateTo; 0 never
	rateTo float64
	stall  float64 // s: every 15 min nothing is delivered for so long
}

type simStep struct{ at, size float64 } // s; size positive when samples were put in

func (s sim) each(f func(Arrival)) {
	r := rand.New(rand.NewPCG(s.seed, 7))
	var count int64
	t, last, w := 100.0, 0.0, s.wander*r.NormFloat64()
	end, next := t+s.length, 0
	rate := s.rate * (1 + s.err)
	for t < end {
		made := float64(s.chunk) / rate
		if s.rateAt > 0 && t-100 >= s.rateAt {
			made = float64(s.chunk) / s.rateTo
		}
		t += made
		count += s.chunk
		if next < len(s.steps) && t-100 >= s.steps[next].at {
			count += int64(math.Round(s.steps[next].size * s.rate))
			next++
		}
		if s.wander > 0 {
			a := math.Exp(-made / s.settle)
			w = a*w + s.wander*math.Sqrt(1-a*a)*r.NormFloat64()
		}
		at := t + s.delay(r)
		if s.stall > 0 && math.Mod(t, 900) < s.stall {
			at += s.stall - math.Mod(t, 900)
		}
		last = max(last, at) // in order
		f(Arrival{Frame: count, At: unit.Duration(last + w)})
	}
}

func (s sim) fit(h Host) Fit {
	f := NewFitter(s.rate, h)
	s.each(func(a Arrival) { f.Add(a) })
	return f.Fit()
}

func exponential(mean float64) func(*rand.Rand) float64 {
	return func(r *rand.Rand) float64 { return mean * r.ExpFloat64() }
}

// gamma has a soft edge: shape 3.
func gamma(mean float64) func(*rand.Rand) float64 {
	return func(r *rand.Rand) float64 {
		return mean / 3 * (r.ExpFloat64() + r.ExpFloat64() + r.ExpFloat64())
	}
}

// outliers is even over 5 ms, and one in a hundred is 100 ms late.
func outliers(r *rand.Rand) float64 {
	d := 5e-3 * r.Float64()
	if r.Float64() < 0.01 {
		d += 0.1
	}
	return d
}

func base() sim {
	return sim{rate: 48000, err: 23e-6, chunk: 1024, length: 600, delay: exponential(5e-3), seed: 1}
}
