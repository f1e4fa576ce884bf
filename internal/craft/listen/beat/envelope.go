package beat

import (
	"math"

	"seatboard/internal/kit/sig"
)

// The sound of one beat is not quite that of the next, but the order and the
// strength of its impacts is. Short recordings are therefore aligned first by
// how the level rises, which says less about the place and never errs by a
// bounce.

const (
	envelopeStep  = 0.1 // ms
	envelopeReach = 12  // ms either way that a beat may be from its place
	envelopeHalf  = 10  // ms of the curve on either side that is compared
)

// rising is how the level rises about a place: the level over 0.4 ms less
// that over the 2 ms before, where it is more, in steps of envelopeStep.
func (k *tools) rising(t *tape, place float64) []float64 {
	edge := len(k.band) / 2
	half := k.samples(envelopeReach + envelopeHalf + 3)
	raw, y := make([]float32, 2*(half+edge)), make([]float32, 2*(half+edge))
	from := int64(math.Round(place)) - int64(half+edge)
	t.float(raw, from)
	sig.Convolve(y, k.band, raw)
	y = y[edge : edge+2*half]
	sum := make([]float64, len(y)+1)
	for i, v := range y {
		sum[i+1] = sum[i] + math.Abs(float64(v))
	}
	n := int(2 * (envelopeReach + envelopeHalf) / envelopeStep)
	now, before := max(1, k.samples(0.4)), max(1, k.samples(2))
	out := make([]float64, n)
	var norm float64
	for i := range out {
		at := k.samples(3+float64(i)*envelopeStep) - now/2
		v := (sum[at+now]-sum[at])/float64(now) - (sum[at]-sum[max(0, at-before)])/float64(before)
		out[i] = max(0, v)
		norm += out[i] * out[i]
	}
	for i := range out {
		out[i] /= math.Sqrt(norm) + 1e-30
	}
	return out
}

// byEnvelope moves the places so that the rises about them lie on one
// another.
func (k *tools) byEnvelope(t *tape, places []float64) []float64 {
	curves := make([][]float64, len(places))
	lag := make([]int, len(places)) // steps
	for i, p := range places {
		curves[i] = k.rising(t, p)
	}
	shape := k.firstCurve(curves)
	for range 4 {
		for i, c := range curves {
			lag[i] = bestLag(shape, c)
		}
		shape = meanCurve(curves, lag)
	}
	out := make([]float64, len(places))
	for i, p := range places {
		out[i] = p + float64(lag[i])*envelopeStep*k.rate/1000
	}
	return out
}

const (
	curveReach = int(envelopeReach / envelopeStep)
	curveSpan  = int(2 * envelopeHalf / envelopeStep)
)

func window(c []float64, lag int) []float64 { return c[curveReach+lag : curveReach+lag+curveSpan] }

func product(a, b []float64) float64 {
	var s float64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// farther is how much less a fit counts at the end of the reach.
const farther = 0.4

func bestLag(shape, c []float64) int {
	best, at := math.Inf(-1), 0
	for lag := -curveReach; lag <= curveReach; lag++ {
		far := math.Abs(float64(lag)) / float64(curveReach)
		if v := product(shape, window(c, lag)) * (1 - farther*far); v > best {
			best, at = v, lag
		}
	}
	return at
}

// firstCurve is the curve that the others are most like.
func (k *tools) firstCurve(curves [][]float64) []float64 {
	best, at := -1.0, 0
	for i := range curves {
		var sum float64
		for j := range curves {
			if i != j {
				sum += product(window(curves[i], 0), window(curves[j], bestLag(window(curves[i], 0), curves[j])))
			}
		}
		if sum > best {
			best, at = sum, i
		}
	}
	return window(curves[at], 0)
}

func meanCurve(curves [][]float64, lag []int) []float64 {
	out := make([]float64, curveSpan)
	for i, c := range curves {
		for j, v := range window(c, lag[i]) {
			out[j] += v
		}
	}
	return out
}
