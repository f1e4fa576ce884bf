// Package circular has the statistics of points round a circle: whether they
// crowd together more than chance lets them. Places are in turns, from 0 to
// under 1; what they are places of is the asker's.
//
// Two questions are answered. [Hold] is the chance that of n points laid down
// at random some arc of a given width holds k: exact where more than half of
// the points are in it. [Rayleigh] is the chance of a mean vector as long, for
// points that crowd broadly.
package circular

import (
	"math"
	"slices"
)

// Arc is a stretch of the circle.
type Arc struct {
	From  float64 // turns, 0 to under 1
	Width float64 // turns, 0 to 1
}

// Has tells whether a place lies in the arc, its ends among it.
func (a Arc) Has(turn float64) bool {
	off := Wrap(turn - a.From)
	return off <= a.Width+1e-12 || off > 1-1e-12
}

// Wrap brings a number of turns to 0 to under 1.
func Wrap(turns float64) float64 {
	turns -= math.Floor(turns)
	if turns >= 1 {
		return 0
	}
	return turns
}

// Shortest is the shortest arc that holds k of the places, which are sorted;
// 1 <= k <= len(sorted).
func Shortest(sorted []float64, k int) Arc {
	n := len(sorted)
	best := Arc{Width: math.Inf(1)}
	for i, from := range sorted {
		j := i + k - 1
		to := sorted[j%n]
		if j >= n {
			to++
		}
		if w := to - from; w < best.Width {
			best = Arc{From: from, Width: w}
		}
	}
	return best
}

// Hold is the chance that among n points, each anywhere on the circle alike,
// some arc of width w turns holds at least k.
//
// Exact for k > n/2 where w <= 1/3, and to w <= 1/2 where k > 2n/3:
//
//	C(n,k) (k − n w) w^(k−1) (1 − w)^(n−k−1)
//
// for two arcs that hold so many must share points, and so belong to one
// crowd; what is left is a ballot. With w = 1/2 this is the test of Hodges
// and Ajne, with k = n the range. Elsewhere Hold is an upper bound, the mean
// number of times that an arc going round comes to hold k.
func Hold(n, k int, w float64) (chance float64, exact bool) {
	switch {
	case k <= 1 || n < k || !(w >= 0):
		return 1, k <= 1 && n >= 1
	case w == 0:
		return 0, true
	}
	logs := LogBinomial(n, k) + float64(k-1)*math.Log(w)
	if 2*k > n && (w <= 1.0/3 || 3*k > 2*n && w <= 0.5) {
		lead := float64(k) - float64(n)*w
		return math.Min(1, lead*math.Exp(logs+float64(n-k-1)*math.Log1p(-w))), true
	}
	if float64(n-1)*w >= float64(k-1) {
		return 1, false
	}
	return math.Min(1, float64(k)*math.Exp(logs+float64(n-k)*math.Log1p(-w))), false
}

// LogBinomial is ln C(n, k), 0 <= k <= n.
func LogBinomial(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}

// Mean is the direction of the mean of the places and its length, 0 to 1;
// the direction of none is 0.
func Mean(turns []float64) (direction, length float64) {
	var x, y float64
	for _, t := range turns {
		s, c := math.Sincos(2 * math.Pi * t)
		x, y = x+c, y+s
	}
	if len(turns) == 0 {
		return 0, 0
	}
	return Wrap(math.Atan2(y, x) / (2 * math.Pi)), math.Hypot(x, y) / float64(len(turns))
}

// Rayleigh is the chance that n points at random have a mean vector as long,
// with the terms in 1/n and 1/n² of its series; n >= 3 for a fair figure.
func Rayleigh(n int, length float64) float64 {
	m := float64(n)
	z := m * length * length
	series := 1 + (2*z-z*z)/(4*m) - (24*z-132*z*z+76*z*z*z-9*z*z*z*z)/(288*m*m)
	return math.Min(1, math.Max(0, math.Exp(-z)*series))
}

// Sorted is a copy of the places in order, each brought to 0 to under 1.
func Sorted(turns []float64) []float64 {
	out := make([]float64, len(turns))
	for i, t := range turns {
		out[i] = Wrap(t)
	}
	slices.Sort(out)
	return out
}
