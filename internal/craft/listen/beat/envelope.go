package beat

import (
	"math"

	"seatboard/internal/kit/sig"
)

// A beat is a train of impacts 2 to 8 ms apart. From one beat to the next
// each impact's strength changes severalfold, so that its sound matches now
// one impact and now another; the order of the impacts, and the quiet before
// the first, stay. A logarithm makes of a change of strength a small change
// of height and of the end of the quiet the highest rise of all. Beats of a
// short recording are therefore placed by how the logarithm of the level
// rises, each side by itself, as the two have different trains.

const (
	riseStep   = 0.1 // ms between the values of a curve
	riseAfter  = 1   // ms of the level after a point: less than impacts lie apart
	riseBefore = 2   // ms of the level before it: down into the last impact's decay
	riseReach  = 15  // ms either way that a beat may be from its place
	riseHalf   = 20  // ms either way that are compared: the train and the quiet before it
	riseFloor  = 2   // of the noise's standard deviation, below which no level counts

	riseLags = int(riseReach / riseStep)
	riseSpan = int(2 * riseHalf / riseStep)
)

// rising is how the logarithm of the level rises about a place, in steps of
// riseStep; its square sums up to 1.
func (k *tools) rising(t *tape, place, noise float64) []float64 {
	edge, half := k.band.Len()/2, k.samples(riseReach+riseHalf+riseBefore)
	raw, y := make([]float32, 2*(half+edge)), make([]float32, 2*(half+edge))
	t.float(raw, int64(math.Round(place))-int64(half+edge))
	sig.Convolve(y, k.band, raw)
	sum := []float64{0}
	for _, v := range y[edge : edge+2*half] {
		sum = append(sum, sum[len(sum)-1]+float64(v)*float64(v))
	}
	level := func(a, b int) float64 {
		return math.Sqrt((sum[b]-sum[a])/float64(b-a)) + riseFloor*noise
	}
	out := make([]float64, riseSpan+2*riseLags)
	var norm float64
	for i := range out {
		at := k.samples(riseBefore + float64(i)*riseStep)
		out[i] = max(0, math.Log(level(at, at+k.samples(riseAfter))/level(at-k.samples(riseBefore), at)))
		norm += out[i] * out[i]
	}
	for i := range out {
		out[i] /= math.Sqrt(norm) + 1e-30
	}
	return out
}

// byRise moves the places so that the rises about them lie on one another,
// and all of them onto the highest rise.
func (k *tools) byRise(t *tape, places []float64, noise float64) []float64 {
	curves := make([][]float64, len(places))
	for i, p := range places {
		curves[i] = k.rising(t, p, noise)
	}
	shape := firstCurve(curves)
	lag := make([]int, len(places)) // steps
	for range 5 {
		for i, c := range curves {
			lag[i], _ = bestLag(shape, c)
		}
		shape = meanCurve(curves, lag)
	}
	top := riseSpan / 2
	for i := riseSpan/2 - riseLags; i <= riseSpan/2+riseLags; i++ {
		if shape[i] > shape[top] {
			top = i
		}
	}
	out := make([]float64, len(places))
	for i, p := range places {
		out[i] = p + float64(lag[i]+top-riseSpan/2)*riseStep*k.rate/1000
	}
	return out
}

// shifted is the part of a curve that is compared, moved by so many steps.
func shifted(c []float64, lag int) []float64 { return c[riseLags+lag : riseLags+lag+riseSpan] }

func product(a, b []float64) float64 {
	var s float64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// bestLag is where a shape lies in a curve, and how well it fits.
func bestLag(shape, c []float64) (at int, fit float64) {
	fit = -1
	for lag := -riseLags; lag <= riseLags; lag++ {
		if v := product(shape, shifted(c, lag)); v > fit {
			at, fit = lag, v
		}
	}
	return at, fit
}

// firstCurve is the curve that the others are most like.
func firstCurve(curves [][]float64) []float64 {
	best, first := -1.0, []float64(nil)
	for i := range curves {
		var sum float64
		for j := range curves {
			if i != j {
				_, fit := bestLag(shifted(curves[i], 0), curves[j])
				sum += fit
			}
		}
		if sum > best {
			best, first = sum, shifted(curves[i], 0)
		}
	}
	return first
}

func meanCurve(curves [][]float64, lag []int) []float64 {
	out := make([]float64, riseSpan)
	for i, c := range curves {
		for j, v := range shifted(c, lag[i]) {
			out[j] += v
		}
	}
	return out
}
