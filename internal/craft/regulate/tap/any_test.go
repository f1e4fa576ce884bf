package tap

import (
	"encoding/json"
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Whatever is tapped, there is an answer of numbers or a list of mistakes:
// taps at one instant, evenly to the bit, one alone, hours apart, a thousand.
func TestAnyTapsAreAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Start: time.Date(2026, 11, 3, 23, 59, 58, 0, time.UTC), Way: rapid.SampledFrom(Ways()).Draw(t, "way"), Every: unit.Duration(rapid.SampledFrom([]float64{0.5, 1, 60, 60, 7, 3600, 43200 / 7.0}).Draw(t, "every"))}
		gap := rapid.SampledFrom([]float64{0, 1e-9, 1, float64(q.Every), float64(q.Every), 21600}).Draw(t, "gap")
		noise := rapid.SampledFrom([]float64{0, 0.05, 30}).Draw(t, "noise")
		at := rapid.SampledFrom([]float64{0, 0, -21000}).Draw(t, "from")
		for range rapid.SampledFrom([]int{0, 1, 2, 3, 4, 6, 6, 12, 40, 1001}).Draw(t, "taps") {
			q.Taps = append(q.Taps, unit.Duration(at))
			at += gap + noise*rapid.Float64Range(0, 1).Draw(t, "late")
		}
		odd := func(name string, usual float64) float64 {
			if rapid.IntRange(0, 19).Draw(t, name+" odd") == 0 {
				return rapid.SampledFrom([]float64{-1, 1e300, math.NaN(), math.Inf(-1)}).Draw(t, name)
			}
			return usual
		}
		said := func(name string, usual float64) meas.Result[unit.Duration] {
			if rapid.Bool().Draw(t, name+" said") {
				return meas.Result[unit.Duration]{}
			}
			return meas.Result[unit.Duration]{Value: unit.Duration(odd(name, usual)), U: unit.Duration(odd(name+" u", usual/10)), HasU: rapid.Bool().Draw(t, name+" has"), Set: true}
		}
		q.Shown, q.Near, q.Lag = said("shown", 43199.9), said("near", 21000), said("lag", 0.1)
		q.Beat, q.Host = unit.Duration(odd("beat", 1)), unit.Duration(odd("host", 0))
		a, err := Solve(q)
		var faults meas.Faults
		if errors.As(err, &faults) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatalf("%v of %+v", err, a)
		}
		if a.Error.Set && !(a.Error.Low <= a.Error.Value && a.Error.Value <= a.Error.High && a.U >= 0) {
			t.Fatalf("%+v", a.Error)
		}
	})
}
