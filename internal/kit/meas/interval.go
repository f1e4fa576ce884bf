package meas

import (
	"encoding/json"
	"math"

	"seatboard/internal/kit/unit"
)

// Interval is an estimate between its limits: the true value lies from Low to
// High in 95 of 100 such cases. It need not be even about Value. U is one
// standard uncertainty. The zero Interval is nothing known.
type Interval[Q unit.Quantity] struct {
	Value, Low, High Q
	U                Q
	Set              bool
}

// Around is the interval of a value with standard uncertainty u and a
// coverage factor k, such as a quantile of Student's t.
func Around[Q unit.Quantity](v, u Q, k float64) Interval[Q] {
	half := Q(float64(u) * k)
	return Interval[Q]{Value: v, Low: v - half, High: v + half, U: u, Set: true}
}

// Half is half the width of the interval.
func (i Interval[Q]) Half() Q { return (i.High - i.Low) / 2 }

// Has tells whether a value lies in the interval.
func (i Interval[Q]) Has(v Q) bool { return i.Set && i.Low <= v && v <= i.High }

// Text prints "value ± half" in a unit, rounded to the half width; "" where
// nothing is known.
func (i Interval[Q]) Text(symbol string) string {
	if !i.Set {
		return ""
	}
	return WithU(i.Value, i.Half(), symbol)
}

type jsonInterval struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	U     float64 `json:"u"`
	Unit  string  `json:"unit"`
}

// MarshalJSON writes {"value":…,"low":…,"high":…,"u":…,"unit":"s"}, null
// where nothing is known.
func (i Interval[Q]) MarshalJSON() ([]byte, error) {
	w := jsonInterval{float64(i.Value), float64(i.Low), float64(i.High), float64(i.U), i.Value.Kind().SI().Symbol}
	if !i.Set || math.IsNaN(w.Value+w.Low+w.High+w.U) || math.IsInf(w.Value+w.Low+w.High+w.U, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads what MarshalJSON writes; the unit must be the SI's.
func (i *Interval[Q]) UnmarshalJSON(b []byte) error {
	*i = Interval[Q]{}
	if string(b) == "null" {
		return nil
	}
	var w jsonInterval
	if err := json.Unmarshal(b, &w); err != nil {
		return err
	}
	if want := i.Value.Kind().SI().Symbol; w.Unit != want {
		return &unitError{w.Unit, want}
	}
	*i = Interval[Q]{Q(w.Value), Q(w.Low), Q(w.High), Q(w.U), true}
	return nil
}

type unitError struct{ got, want string }

func (e *unitError) Error() string { return "meas: the unit is " + e.got + ", wanted " + e.want }
