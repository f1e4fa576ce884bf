package beat

import (
	"cmp"
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
	watchTried  = 4    // sounds tried at each of them
	watchApart  = 12.0 // ms between them
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
	found := []float64{last, place}
	for _, at := range t.loud(a, b, k.samples(watchApart)) {
		if s, side, ok := p.own(at); ok {
			if !slices.ContainsFunc(found, func(x float64) bool { return math.Abs(s.at-x) <= clear }) {
				found = append(found, s.at)
				p.h.ear.extra(Mark{At: p.h.seconds(s.at) + p.sounds().epochs[side], Kind: ExtraBeat}, p.run)
			}
		}
	}
}

// own tells whether the clock's own sound is about a place. What is loudest
// there may be a click beside it or on it.
func (p *pursuit) own(at int64) (best sound, side int, ok bool) {
	k, t := p.h.tools, p.h.tape
	top := extraLikest
	for i := range p.filters {
		m := &p.filters[i]
		all := m.findAll(k, t, float64(at), k.samples(watchApart+1), &p.h.buf)
		slices.SortFunc(all, func(a, b sound) int { return cmp.Compare(b.z, a.z) })
		for _, s := range all[:min(len(all), watchTried)] {
			if s.z < zLeast || s.amp < 0.25*p.f.amp[i] {
				break
			}
			if like := m.like(k, t, s, p.f.amp[i], p.noise); like > top {
				best, side, top, ok = s, i, like, true
			}
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
	power := t.slopes(int(a-t.base), n)
	// Most of them is judged by some of them.
	step := max(1, n/64)
	some := make([]float32, 0, 128)
	for i := step / 2; i < n; i += step {
		some = append(some, power[i])
	}
	limit := watchAbove * max(nth(some, len(some)/2), 1e-12)
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

// slopes is the slope of so many blocks from a place on the tape on. It is
// good until the next call.
func (t *tape) slopes(from, n int) []float32 {
	if cap(t.slope) < n {
		t.slope = make([]float32, n)
	}
	power := t.slope[:n]
	if t.src16 != nil {
		for i := range power {
			power[i] = slope16((*[watchBlock]int16)(t.i16[from:]))
			from += watchBlock
		}
		return power
	}
	for i := range power {
		power[i] = slope((*[watchBlock]float32)(t.f32[from:]))
		from += watchBlock
	}
	return power
}

// slope is written out for all of a block: the places are known then, and
// none need be checked.
func slope(x *[watchBlock]float32) float32 {
	return squared(x[1]-x[0]) + squared(x[5]-x[4]) + squared(x[9]-x[8]) + squared(x[13]-x[12]) +
		(squared(x[17]-x[16]) + squared(x[21]-x[20]) + squared(x[25]-x[24]) + squared(x[29]-x[28])) +
		(squared(x[33]-x[32]) + squared(x[37]-x[36]) + squared(x[41]-x[40]) + squared(x[45]-x[44])) +
		(squared(x[49]-x[48]) + squared(x[53]-x[52]) + squared(x[57]-x[56]) + squared(x[61]-x[60]))
}

// slope16 is the same of whole numbers, full scale 1.
func slope16(x *[watchBlock]int16) float32 {
	sum := squared(int(x[1])-int(x[0])) + squared(int(x[5])-int(x[4])) + squared(int(x[9])-int(x[8])) + squared(int(x[13])-int(x[12])) +
		(squared(int(x[17])-int(x[16])) + squared(int(x[21])-int(x[20])) + squared(int(x[25])-int(x[24])) + squared(int(x[29])-int(x[28]))) +
		(squared(int(x[33])-int(x[32])) + squared(int(x[37])-int(x[36])) + squared(int(x[41])-int(x[40])) + squared(int(x[45])-int(x[44]))) +
		(squared(int(x[49])-int(x[48])) + squared(int(x[53])-int(x[52])) + squared(int(x[57])-int(x[56])) + squared(int(x[61])-int(x[60])))
	return float32(sum) * (1.0 / (32768 * 32768))
}

func squared[T int | float32](x T) T { return x * x }
