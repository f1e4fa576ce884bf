package beat

import (
	"math"
)

// cleared is a shape without most of the noise that is still in it. The
// modes of an impact die away, the high ones first, so that most of the plane
// of time and frequency holds noise only. There each cell is reduced by the
// share of it that is noise (Wiener); the noise of the shape is that of the
// recording times inShape. gain is what is left of a frequency over all times,
// by share of the sampling rate.
func (k *tools) cleared(shape []float32, noise spectrum, inShape float64) (out []float32, gain spectrum) {
	n := 1
	for n < k.samples(1.4) {
		n *= 2
	}
	hop, f := n/4, k.plan(n).f
	window := make([]float64, n) // squared and laid on one another they make 1
	for i := range window {
		window[i] = math.Sin(math.Pi*(float64(i)+0.5)/float64(n)) / math.Sqrt2
	}
	half := n/2 + 1
	frames := (len(shape)+n)/hop + 1
	cells := make([]complex128, frames*half)
	x := make([]float64, n)
	for t := range frames {
		for i := range x {
			x[i] = 0
			if j := (t+1)*hop - n + i; j >= 0 && j < len(shape) {
				x[i] = window[i] * float64(shape[j])
			}
		}
		f.Spectrum(cells[t*half:(t+1)*half], x)
	}
	own := make([]float64, half) // power of the noise in a cell
	for i := range own {
		own[i] = inShape * noise.at(min(float64(i)/float64(n), 0.5)) * float64(n) / 4
	}
	gains := wiener(cells, own)
	gain.p = make([]float64, half)
	wide := make([]float64, len(shape))
	for t := range frames {
		row := cells[t*half : (t+1)*half]
		for i := range row {
			g := gains[t*half+i]
			row[i] *= complex(g, 0)
			gain.p[i] += g * kept(g) / (float64(len(shape)) / float64(hop))
		}
		for i, v := range f.Sequence(x, row) {
			if j := (t+1)*hop - n + i; j >= 0 && j < len(shape) {
				wide[j] += window[i] * v
			}
		}
	}
	out = make([]float32, len(shape))
	for i, v := range wide {
		out[i] = float32(v)
	}
	return out, gain
}

// wiener is what is to be left of each cell, by the power of the cells about
// it and of the noise at each frequency.
func wiener(cells []complex128, own []float64) []float64 {
	half := len(own)
	frames := len(cells) / half
	out := make([]float64, len(cells))
	for t := range frames {
		for i := range half {
			var power, noise float64
			for u := max(0, t-2); u < min(frames, t+3); u++ {
				for j := max(0, i-1); j < min(half, i+2); j++ {
					c := cells[u*half+j]
					power += real(c)*real(c) + imag(c)*imag(c)
					noise += own[j]
				}
			}
			out[t*half+i] = max(0, 1-clearing*noise/max(power, 1e-300))
		}
	}
	return out
}

// kept is how much more of the noise is left in a cell than its gain says: a
// cell of noise only is left where its noise happens to be strong. It is made
// so that the doubt stated agrees with the errors in made recordings.
func kept(gain float64) float64 {
	x := clearing / max(1-gain, 1e-9) // power of the cell over that of noise
	return max(1, min(1.25*x, 2.5*(4-x)))
}

// clearing is how much of the noise is taken off: more than all of it, for it
// is not even.
const clearing = 1.3
