package shop

import (
	"math"
	"slices"
)

// meter measures how loud it is: of the last second, and of the whole.
type meter struct {
	now, last        tally // of this second, as far as it is, and the one before
	peak             float64
	clipped, samples int64
}

type tally struct {
	peak, sum  float64
	n, clipped int64
}

const fullScale = 0.9999

func (m *meter) take(x []float32, rate float64) {
	for _, v := range x {
		a := math.Abs(float64(v))
		m.now.peak = max(m.now.peak, a)
		m.now.sum += a * a
		if a >= fullScale {
			m.now.clipped++
			m.clipped++
		}
	}
	m.now.n += int64(len(x))
	m.samples += int64(len(x))
	m.peak = max(m.peak, m.now.peak)
	if float64(m.now.n) >= rate {
		m.now, m.last = tally{}, m.now
	}
}

func (m *meter) level() Level {
	n := float64(max(m.now.n+m.last.n, 1))
	return Level{Peak: max(m.now.peak, m.last.peak), RMS: math.Sqrt((m.now.sum + m.last.sum) / n), Clipped: float64(m.now.clipped+m.last.clipped) / n}
}

// whole is the greatest sample and the share of those at full scale.
func (m *meter) whole() (peak, clipped float64) {
	return m.peak, float64(m.clipped) / float64(max(m.samples, 1))
}

// finite is samples without what is no number.
func finite(x []float32) []float32 {
	bad := func(v float32) bool { return !(math.Abs(float64(v)) <= 1e6) }
	if !slices.ContainsFunc(x, bad) {
		return x
	}
	x = slices.Clone(x)
	for i, v := range x {
		if bad(v) {
			x[i] = 0
		}
	}
	return x
}
