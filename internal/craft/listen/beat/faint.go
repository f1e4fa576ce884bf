package beat

import (
	"math"
	"slices"
)

// A sound far below the noise shows in no single onset. It still lasts, most
// of it lies low in the band, and it comes again and again: where a minute has
// no onsets that repeat, the level of the lower band is weighed over the time
// that a tick rings.

const (
	swellEdge  = 5000 // Hz, where the lower band ends
	swellRings = 4.0  // ms in which a sound dies away by e
	swellHalf  = 60   // ms to either side that the usual level is taken over
)

// onsets are how strong an onset is in each millisecond, and what a period in
// them is judged by.
type onsets struct {
	strength []float64
	stands   float64 // median deviations that a period must stand out by
	nearly   float64 // share of the best score that a part of the period must have to be taken for it
}

// swell is how far the level of samples a to b stands above the usual one,
// weighed over the time that a sound rings.
func (t *tape) swell(a, b int64) onsets {
	level := t.levels(a, b, newSoftener(swellEdge, t.src.Rate()))
	out := onsets{strength: make([]float64, len(level)), stands: 10, nearly: 0.85}
	if len(level) == 0 {
		return out
	}
	most := nth(slices.Clone(level), int(0.995*float64(len(level)-1)))
	sum := make([]float64, len(level)+1)
	for i, v := range level {
		sum[i+1] = sum[i] + min(v, most)
	}
	// From the last to the first each is what it was and a share of what
	// follows: the sum over a ring that dies away.
	keep, after := math.Exp(-1/swellRings), 0.0
	for i := len(level) - 1; i >= 0; i-- {
		from, to := max(0, i-swellHalf), min(len(level), i+swellHalf+1)
		after = after*keep + sum[i+1] - sum[i] - (sum[to]-sum[from])/float64(to-from)
		out.strength[i] = after
	}
	return out
}

// softener takes away what is high in the band: two poles at one edge.
type softener struct{ share, one, two float32 }

// newSoftener makes one for an edge in Hz at a sampling rate.
func newSoftener(edge, rate float64) *softener {
	return &softener{share: float32(1 - math.Exp(-2*math.Pi*edge/rate))}
}

func (s *softener) soften(x []float32) {
	one, two := s.one, s.two
	for i, v := range x {
		one += s.share * (v - one)
		two += s.share * (one - two)
		x[i] = two
	}
	s.one, s.two = one, two
}
