package beat

import (
	"math"
	"slices"

	"seatboard/internal/kit/num"
	"seatboard/internal/kit/sig"
)

// A stretch of exact silence this long, s, inside a recording is a cut: the
// air is never so still, unless the sound is fainter than a step.
const cutLength = 40e-3

// zeroRuns finds stretches of exact silence in what is on the tape between a
// and b, its ends left out. Every fourth millisecond is looked at first.
func (h *hearer) zeroRuns(a, b int64) []Mark {
	t, rate := h.tape, h.tools.rate
	stride := int64(max(1, h.tools.samples(4)))
	shortest := int64(cutLength * rate)
	var out []Mark
	for i := a + stride; i < b; i += stride {
		if !t.same(i) {
			continue
		}
		from, to := i-1, i
		for from > a && t.same(from) {
			from--
		}
		for to+1 < b && t.same(to+1) {
			to++
		}
		if to-from >= shortest && from > a && to+1 < b && !t.hushed(a, b, from, to) {
			out = append(out, Mark{At: h.seconds(float64(from)), Kind: Zeros, Size: h.seconds(float64(to - from))})
		}
		i = to
	}
	return out
}

// lookForCuts marks what an editor has done to sound that is all on the tape.
func (h *hearer) lookForCuts(a, b int64) {
	h.looked = true
	h.tape.settle(a, b)
	for _, m := range h.zeroRuns(a, b) {
		h.ear.mark(m)
		h.cuts++
	}
	if lag := h.repeated(a, b); lag > 0 {
		h.ear.mark(Mark{At: h.seconds(float64(a) + lag), Kind: Repeat, Size: h.seconds(lag)})
		h.cuts++
	}
}

// alike is the correlation of quiet sound with that of earlier from which on
// it is taken to be the same sound, put in again by an editor: noise does
// not repeat itself.
const alike = 0.6

// repeated looks for sound between a and b that is there twice. It returns
// the lag in samples, 0 where there is none.
func (h *hearer) repeated(a, b int64) float64 {
	k := h.tools
	raw := make([]float32, b-a)
	h.tape.float(raw, a)
	y := make([]float32, len(raw))
	sig.Convolve(y, k.band, raw)
	quiet := quietBlocks(y, k.samples(10))
	for _, lag := range likeliestLags(y, k.samples(150)) {
		if likeness(y, quiet, k.samples(10), lag) > alike && !tonal(y, quiet, k.samples(10), lag) {
			return float64(lag)
		}
	}
	return 0
}

// tonal tells whether the sound is as like itself at lags near by: a tone is,
// a repetition is not.
func tonal(y []float32, blocks []int, n, lag int) bool {
	for d := 8; d < n; d++ {
		if likeness(y, blocks, n, lag-d) > alike/2 {
			return true
		}
	}
	return false
}

// quietBlocks are the beginnings of the blocks with less power than most.
func quietBlocks(y []float32, n int) []int {
	type block struct {
		at    int
		power float64
	}
	var all []block
	for i := 0; i+n <= len(y); i += n {
		all = append(all, block{i, sig.Power(y[i : i+n])})
	}
	slices.SortFunc(all, func(a, b block) int {
		switch {
		case a.power < b.power:
			return -1
		case a.power > b.power:
			return 1
		}
		return a.at - b.at
	})
	var out []int
	for _, b := range all[:len(all)/2] {
		if b.power > 4*least {
			out = append(out, b.at)
		}
	}
	return out
}

// likeliestLags are the lags at which y is most like itself.
func likeliestLags(y []float32, shortest int) []int {
	longest := len(y) * 9 / 10
	if longest <= shortest {
		return nil
	}
	n := 1
	for n < len(y)*2 {
		n *= 2
	}
	x := make([]float64, n)
	for i, v := range y {
		x[i] = float64(v)
	}
	f := num.NewFourier(n)
	c := f.Spectrum(nil, x)
	for i, v := range c {
		c[i] = complex(real(v)*real(v)+imag(v)*imag(v), 0)
	}
	r := f.Sequence(x, c)
	for i := shortest; i < longest; i++ {
		r[i] /= float64(len(y) - i)
	}
	var out []int
	for range 24 {
		best := shortest
		for i := shortest; i < longest; i++ {
			if r[i] > r[best] {
				best = i
			}
		}
		if r[best] <= 0 {
			break
		}
		out = append(out, best)
		for i := max(0, best-20); i < min(len(r), best+20); i++ {
			r[i] = math.Inf(-1)
		}
	}
	return out
}

// likeness is the median correlation of quiet blocks with the sound a lag
// later.
func likeness(y []float32, blocks []int, n, lag int) float64 {
	var all []float64
	for _, i := range blocks {
		j := i + lag
		if j+n > len(y) {
			continue
		}
		p, q := y[i:i+n], y[j:j+n]
		norm := math.Sqrt(sig.Power(p)*sig.Power(q)) * float64(n)
		if norm > 0 {
			all = append(all, float64(sig.Dot(p, q))/norm)
		}
	}
	if len(all) < 12 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// In a looped recording the noise comes again with the beats, so that their
// times repeat far better than the noise lets them be told. No clock can do
// that, however regular.
const (
	loopShare   = 0.25 // spread of the repetition over the beats' own uncertainty
	loopLongest = 4000 // beats
	loopPairs   = 64   // looked at for each length
)

// looped is the length of a loop in beats, 0 where there is none. Beats from
// the time the sounds were still being learned are left out.
func looped(beats []Beat) int {
	if len(beats) > 200 {
		beats = beats[100:]
	}
	u := make([]float64, 0, loopPairs)
	for i := range loopPairs {
		if len(beats) > 0 {
			u = append(u, float64(beats[i*len(beats)/loopPairs].U))
		}
	}
	if len(beats) < 24 {
		return 0
	}
	slices.Sort(u)
	limit := loopShare * u[len(u)/2]
	for k := 2; k < min(loopLongest, len(beats)-16); k++ {
		if repetition(beats, k) < limit {
			return k
		}
	}
	return 0
}

// repetition is the median spread of the intervals of k beats, s.
func repetition(beats []Beat, k int) float64 {
	n := len(beats) - k
	d := make([]float64, min(n, loopPairs))
	for i := range d {
		j := i * n / len(d)
		d[i] = float64(beats[j+k].At - beats[j].At)
	}
	slices.Sort(d)
	middle := d[len(d)/2]
	for i, v := range d {
		d[i] = math.Abs(v - middle)
	}
	slices.Sort(d)
	return d[len(d)/2]
}
