package beat

import (
	"math"
	"slices"
)

// What is between the beats is watched in blocks; a block that stands out is
// tried with the sounds of both sides.
const (
	watchBlock  = 64   // samples
	watchStride = 4    // of each so many samples one slope is taken
	watchAbove  = 12   // times the power of most blocks
	watchMost   = 6    // places tried in one gap
	watchApart  = 20.0 // ms between them
	extraLikest = 0.75 // normalised correlation from which on it is the clock's own sound
)

// watch looks for extra beats between the last beat and the one at a place.
// What comes where a silent beat should be is not extra.
func (p *pursuit) watch(last, place float64) {
	gaps := max(1, math.Round((place-last)/p.f.beat))
	for i := range int(gaps) {
		p.watchGap(last+float64(i)*(place-last)/gaps, last+float64(i+1)*(place-last)/gaps)
	}
}

func (p *pursuit) watchGap(last, place float64) {
	k, t := p.h.tools, p.h.tape
	clear := float64(k.samples(min(45, 1000*p.f.beat/k.rate/4)))
	a, b := int64(last+clear), int64(place-clear)
	for _, at := range t.loud(a, b, k.samples(watchApart)) {
		if s, side, ok := p.own(at); ok {
			if math.Abs(s.at-last) > clear && math.Abs(s.at-place) > clear {
				p.h.ear.extra(Mark{At: p.h.seconds(s.at) + p.sounds().epochs[side], Kind: ExtraBeat}, p.run)
			}
		}
	}
}

// own tells whether the clock's own sound is at a place.
func (p *pursuit) own(at int64) (best sound, side int, ok bool) {
	k := p.h.tools
	top := extraLikest
	for i := range p.filters {
		m := &p.filters[i]
		s := m.find(k, p.h.tape, float64(at), k.samples(8), &p.h.buf)
		if s.z < zLeast || s.edge || s.amp < 0.25*p.f.amp[i] {
			continue
		}
		if like := m.like(k, p.h.tape, s); like > top {
			best, side, top, ok = s, i, like, true
		}
	}
	return best, side, ok
}

// loud lists places between a and b where the slope of the sound is much more
// than in most of them, the loudest first, apart from one another.
func (t *tape) loud(a, b int64, apart int) []int64 {
	n := int(b-a) / watchBlock
	if n < 12 || a < t.base || b > t.last() {
		return nil
	}
	power := make([]float32, n)
	for i := range power {
		from := int(a-t.base) + i*watchBlock
		if t.src16 != nil {
			power[i] = slope16(t.i16[from : from+watchBlock])
		} else {
			power[i] = slope(t.f32[from : from+watchBlock])
		}
	}
	limit := watchAbove * max(slices.Sorted(slices.Values(power))[n/2], 1e-12)
	var out []int64
	for len(out) < watchMost {
		best := 0
		for i, v := range power {
			if v > power[best] {
				best = i
			}
		}
		if power[best] <= limit {
			break
		}
		out = append(out, a+int64(best*watchBlock))
		for i := max(0, best-apart/watchBlock); i < min(n, best+apart/watchBlock+1); i++ {
			power[i] = 0
		}
	}
	return out
}

func slope(x []float32) float32 {
	var sum float32
	for i := 1; i < len(x); i += watchStride {
		d := x[i] - x[i-1]
		sum += d * d
	}
	return sum
}

// slope16 is the same of whole numbers, full scale 1.
func slope16(x []int16) float32 {
	var sum int64
	for i := 1; i < len(x); i += watchStride {
		d := int64(x[i]) - int64(x[i-1])
		sum += d * d
	}
	return float32(sum) / (32768 * 32768)
}
