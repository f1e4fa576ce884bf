package trial

import (
	"math"
	"slices"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// nearHand is how far from a strike a reading of the hands may be to be held
// against it: at a minute a day it adds less than three seconds.
const nearHand = time.Hour

// StrikeLag is how early a clock strikes against what its hands show, in
// seconds, early positive: the middle of what its strikes heard and the
// readings of its hands within an hour of each differ by. It is the same at
// each strike, so that once it is known strikes tell what the clock is wrong
// by. It is not Set without such a pair.
func (b Book) StrikeLag(zone *time.Location) (lag meas.Result[unit.Duration], pairs int) {
	hands := b.Query(zone).Readings
	var found []float64
	var u float64
	for _, e := range b.Standing() {
		if e.Kind != Read || e.Taps == nil || e.Taps.Way != tap.Blow {
			continue
		}
		a, err := tap.Solve(*e.Taps)
		if err != nil || !a.Complete {
			continue
		}
		r, ok := nearest(hands, a.At)
		if !ok {
			continue
		}
		found = append(found, math.Remainder(float64(a.Error.Value-r.Error), 12*3600))
		u = max(u, math.Hypot(float64(a.U), max(r.U, 0.5)))
	}
	n := len(found)
	if n == 0 {
		return lag, 0
	}
	slices.Sort(found)
	mid := (found[(n-1)/2] + found[n/2]) / 2
	if n > 1 {
		far := 0.0
		for _, x := range found {
			far += (x - mid) * (x - mid)
		}
		u = max(u, math.Sqrt(far/float64(n-1))) / math.Sqrt(float64(n))
	}
	return meas.Result[unit.Duration]{Value: unit.Duration(mid), U: unit.Duration(u), HasU: true, Set: true}, n
}

// nearest is the reading of the hands nearest to an instant.
func nearest(all []regulate.Reading, at time.Time) (best regulate.Reading, ok bool) {
	away := nearHand
	for _, r := range all {
		if r.How == regulate.ByStrike || r.Out || !r.From.IsZero() {
			continue
		}
		if d := r.At.Sub(at).Abs(); d <= away {
			best, away, ok = r, d, true
		}
	}
	return best, ok
}
