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

func slope(x *[watchBlock]float32) float32 {
	var a, b, c, d float32
	for i := 0; i+4*watchStride <= len(x); i += 4 * watchStride {
		p, q, r, s := x[i+1]-x[i], x[i+5]-x[i+4], x[i+9]-x[i+8], x[i+13]-x[i+12]
		a, b, c, d = a+p*p, b+q*q, c+r*r, d+s*s
	}
	return a + b + c + d
}

// slope16 is the same of whole numbers, full scale 1.
func slope16(x *[watchBlock]int16) float32 {
	var a, b, c, d int
	for i := 0; i+4*watchStride <= len(x); i += 4 * watchStride {
		p, q := int(x[i+1])-int(x[i]), int(x[i+5])-int(x[i+4])
		r, s := int(x[i+9])-int(x[i+8]), int(x[i+13])-int(x[i+12])
		a, b, c, d = a+p*p, b+q*q, c+r*r, d+s*s
	}
	return float32(a+b+c+d) / (32768 * 32768)
}
