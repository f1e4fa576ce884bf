package regulate

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// anyNumber is one of what is usual, nought, and what is far beyond any clock.
func anyNumber(usual float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64Range(-usual, usual), rapid.SampledFrom([]float64{0, 0, 1e-300, -1e-9, 1e9, -1e12, 1e150, math.MaxFloat64, math.Inf(1), math.NaN()}))
}

func anyResult[Q unit.Quantity](usual float64) *rapid.Generator[meas.Result[Q]] {
	return rapid.Custom(func(t *rapid.T) meas.Result[Q] {
		r := meas.Result[Q]{Set: rapid.Bool().Draw(t, "set"), HasU: rapid.Bool().Draw(t, "has u")}
		if r.Set {
			r.Value = Q(anyNumber(usual).Draw(t, "value"))
		}
		if r.HasU {
			r.U = Q(math.Abs(anyNumber(usual/10).Draw(t, "u")))
		}
		return r
	})
}

// anyQuery is a trial in which every number may be out of place. Wild ones are
// few in it, so that most are answered.
func anyQuery(t *rapid.T) Query {
	wild := rapid.IntRange(0, 3).Draw(t, "wild") == 0
	number := func(usual float64, name string) float64 {
		if wild && rapid.IntRange(0, 9).Draw(t, "odd") == 0 {
			return anyNumber(usual).Draw(t, name)
		}
		return rapid.Float64Range(-usual, usual).Draw(t, name)
	}
	gap := rapid.SampledFrom([]time.Duration{0, time.Second, 50 * time.Second, time.Hour, 24 * time.Hour, 400 * 24 * time.Hour}).Draw(t, "gap")
	at := rapid.SampledFrom([]time.Time{start(), start(), start(), start(), time.Date(1600, 1, 2, 0, 0, 0, 0, time.UTC)}).Draw(t, "begins")
	var q Query
	next := func() time.Time {
		at = at.Add(time.Duration(rapid.SampledFrom([]float64{0, .01, .5, 1, 1, 2}).Draw(t, "step") * float64(gap)))
		if rapid.IntRange(0, 9).Draw(t, "back") == 0 {
			return at.Add(-3 * gap)
		}
		return at
	}
	touches := rapid.SampledFrom([]int{0, 1, 2, 3, 10}).Draw(t, "of ten, touches")
	for i := range rapid.SampledFrom([]int{0, 1, 2, 3, 5, 8, 12, 20}).Draw(t, "things") {
		if rapid.IntRange(0, 9).Draw(t, "what") < touches {
			x := Touch{ID: i + 1, At: next(), Kind: rapid.SampledFrom(Kinds()).Draw(t, "kind"), Turns: number(3, "turns"), Mass: unit.Mass(number(0.01, "mass")), Error: unit.Duration(number(60, "error")), HasError: rapid.Bool().Draw(t, "has")}
			if rapid.IntRange(0, 3).Draw(t, "until") == 0 {
				x.Until = x.At.Add(gap)
			}
			q.Touches = append(q.Touches, x)
			continue
		}
		r := Reading{ID: i + 1, At: next(), How: rapid.SampledFrom(Hows()).Draw(t, "how"), Error: unit.Duration(number(60, "error")), U: math.Abs(number(1, "u")), Taken: rapid.IntRange(0, 5).Draw(t, "taken") == 0, Out: rapid.IntRange(0, 9).Draw(t, "out") == 0}
		if rapid.Bool().Draw(t, "no doubt") {
			r.U = 0
		}
		if rapid.IntRange(0, 3).Draw(t, "rate") == 0 {
			r.From, r.Rate, r.U = r.At.Add(-time.Duration(rapid.SampledFrom([]float64{1, 1e9, 1.2e12, 1e14}).Draw(t, "over"))), unit.RatePerDay(number(100, "rate")), r.U/86400
			r.Clock = unit.RatePerDay(math.Abs(number(4, "clock")))
		}
		q.Readings = append(q.Readings, r)
		if rapid.IntRange(0, 2).Draw(t, "air") > 0 {
			q.Air = append(q.Air, Air{At: at, Temperature: meas.Exactly(unit.Temperature(290 + number(10, "warmth"))), Pressure: meas.Exactly(unit.Pressure(1e5 + number(3000, "pressure")))})
		}
	}
	if wild {
		rates := anyResult[unit.Rate](1e-4)
		q.Known = Known{PerTurn: rates.Draw(t, "turn"), PerGram: rates.Draw(t, "gram"), PerKelvin: rates.Draw(t, "kelvin"), Lost: anyResult[unit.Ratio](0.3).Draw(t, "lost"), Divisions: rapid.IntRange(-1, 1000).Draw(t, "divisions")}
		q.Wanted = Wanted{Rate: unit.RatePerDay(number(5, "want")), Band: unit.RatePerDay(number(5, "band")), Days: number(30, "days"), Move: rates.Draw(t, "move")}
	}
	if rapid.Bool().Draw(t, "now") {
		q.Now = at.Add(time.Duration(rapid.Float64Range(-1, 3).Draw(t, "later") * float64(gap)))
	}
	return q
}

// Whatever a query holds, it has an answer of numbers, or its mistakes are
// listed.
func TestAnyQueryIsAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuery(t)
		a, err := Solve(context.Background(), q)
		var faults meas.Faults
		if errors.As(err, &faults) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(a); err != nil { // a number that is none cannot be written
			for _, x := range []any{a.Now, a.Rate, a.Causes, a.Noise, a.Past, a.Ahead, a.Steps, a.Questions, a.Advice, a.Working, a.Findings, a.Query} {
				if _, err := json.Marshal(x); err != nil {
					t.Fatalf("%v: %+v of %+v", err, x, q)
				}
			}
		}
		if a.Advice.Words == "" {
			t.Fatal("nothing is advised")
		}
		if w := a.Rate.Week; a.Complete && !(w.Low <= w.Value && w.Value <= w.High && w.U >= 0) {
			t.Fatalf("limits %+v", w)
		}
		if !(a.Advice.Right >= 0 && a.Advice.Right <= 1.0000001 && a.Advice.AsIs >= 0) {
			t.Fatalf("chances %+v", a.Advice)
		}
	})
}
