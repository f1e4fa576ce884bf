package beat

import (
	"math"

	"seatboard/internal/kit/num"
)

// plan is what transforms of one length need; it is made once.
type plan struct {
	f    num.Fourier
	hann []float64 // a window
	norm float64   // the sum of its squares
	gain []float64 // of the band-pass at each line
}

func (k *tools) plan(n int) plan {
	p, ok := k.plans[n]
	if !ok {
		p = plan{f: num.NewFourier(n), hann: make([]float64, n)}
		for i := range p.hann {
			w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n))
			p.hann[i] = w
			p.norm += w * w
		}
		p.gain = k.gain(p.f)
		k.plans[n] = p
	}
	return p
}

// gain is that of the band-pass at each line of a transform; of one that is
// too short for it, what comes round.
func (k *tools) gain(f num.Fourier) []float64 {
	x := make([]float64, f.Len())
	m := k.band.Len() / 2
	for i := range k.band.Len() {
		x[(i+len(x)*m-m)%len(x)] += float64(k.band.At(i))
	}
	out := make([]float64, f.Len()/2+1)
	for i, c := range f.Spectrum(nil, x) {
		out[i] = max(0, real(c))
	}
	return out
}
