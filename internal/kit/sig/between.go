package sig

import "math"

const (
	betweenTaps   = 16
	betweenPhases = 512
)

// Between gives values of a signal between its samples.
type Between struct {
	table [betweenPhases + 1][betweenTaps]float32
}

// NewBetween makes the table of the interpolating sinc.
func NewBetween() *Between {
	b := new(Between)
	for p := range betweenPhases/2 + 1 {
		frac := float64(p) / betweenPhases
		var sum float64
		for k := range betweenTaps {
			x := float64(k-betweenTaps/2+1) - frac
			v := sinc(x) * kaiser(x/(betweenTaps/2), 8)
			b.table[p][k] = float32(v)
			sum += v
		}
		for k := range betweenTaps {
			b.table[p][k] /= float32(sum)
			b.table[betweenPhases-p][betweenTaps-1-k] = b.table[p][k] // seen from the other side
		}
	}
	return b
}

// At is the signal at a place counted in samples; 0 where the signal does not
// reach 7 samples before and 8 after it.
func (b *Between) At(x []float32, place float64) float64 {
	i := int(math.Floor(place))
	if i < betweenTaps/2-1 || i+betweenTaps/2 >= len(x) {
		return 0
	}
	p := (place - float64(i)) * betweenPhases
	n := int(p)
	t := float32(p - float64(n))
	y := x[i-betweenTaps/2+1:]
	y = y[:betweenTaps]
	lo := &b.table[n]
	hi := &b.table[min(n+1, betweenPhases)]
	var a, c float32
	for k := range betweenTaps {
		a += lo[k] * y[k]
		c += hi[k] * y[k]
	}
	return float64(a + (c-a)*t)
}

// Shift puts into dst[k] the signal at place+k; 0 where x does not hold all
// that it takes.
func (b *Between) Shift(dst, x []float32, place float64) {
	i := int(math.Floor(place))
	row := &b.table[int((place-float64(i))*betweenPhases+0.5)]
	from := i - betweenTaps/2 + 1
	before := min(max(0, -from), len(dst))
	clear(dst[:before])
	Correlate(dst[before:], row[:], x[min(max(0, from), len(x)):])
}

// PeakRoom is how many samples [Between.Peak] wants on either side of the
// maximum; with fewer it is a parabola's.
const PeakRoom = betweenTaps

// Peak refines the place of a maximum of x that is at sample i, to a small
// fraction of a sample: a parabola, then two steps of Newton on the
// interpolated signal. It returns the place, the value there, and the
// curvature (negative) per sample squared.
func (b *Between) Peak(x []float32, i int) (place, value, curvature float64) {
	place = float64(i)
	if i <= 0 || i+1 >= len(x) {
		return place, float64(x[i]), 0
	}
	l, m, r := float64(x[i-1]), float64(x[i]), float64(x[i+1])
	curvature = l - 2*m + r
	if curvature >= 0 {
		return place, m, 0
	}
	place += 0.5 * (l - r) / curvature
	value = m
	if i < PeakRoom || i+PeakRoom >= len(x) {
		return place, m, curvature
	}
	const h = 0.25
	for range 2 {
		lo, mid, hi := b.At(x, place-h), b.At(x, place), b.At(x, place+h)
		value = mid
		second := (lo - 2*mid + hi) / (h * h)
		if second >= 0 {
			break
		}
		step := -((hi - lo) / (2 * h)) / second
		place += max(-0.5, min(0.5, step))
		curvature = second
	}
	return place, value, curvature
}
