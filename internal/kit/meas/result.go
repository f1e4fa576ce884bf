package meas

import (
	"encoding/json"
	"math"
	"sort"
	"strings"

	"seatboard/internal/kit/unit"
)

// Result is a computed quantity. U is one standard uncertainty where HasU;
// Budget says which input it comes from, largest first.
type Result[Q unit.Quantity] struct {
	Value  Q
	U      Q
	HasU   bool
	Budget []Share
	Set    bool // it could be computed
}

// Share is an input's part in the uncertainty of a result.
type Share struct {
	Input string  `json:"input"`
	Part  float64 `json:"part"` // of the variance, 0 to 1
}

// Exactly is a result without uncertainty.
func Exactly[Q unit.Quantity](v Q) Result[Q] { return Result[Q]{Value: v, Set: true} }

type jsonResult struct {
	Value  float64  `json:"value"`
	Unit   string   `json:"unit"`
	U      *float64 `json:"u,omitempty"`
	Budget []Share  `json:"budget,omitempty"`
}

// MarshalJSON writes {"value":…,"unit":"m","u":…,"budget":[…]}, null where
// the result could not be computed.
func (r Result[Q]) MarshalJSON() ([]byte, error) {
	v := float64(r.Value)
	if !r.Set || math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	w := jsonResult{Value: v, Unit: r.Value.Kind().SI().Symbol, Budget: r.Budget}
	if r.HasU {
		u := float64(r.U)
		w.U = &u
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads what MarshalJSON writes; the unit must be the SI's.
func (r *Result[Q]) UnmarshalJSON(b []byte) error {
	*r = Result[Q]{}
	if string(b) == "null" {
		return nil
	}
	var w jsonResult
	if err := json.Unmarshal(b, &w); err != nil {
		return err
	}
	if want := r.Value.Kind().SI().Symbol; w.Unit != want {
		return &unitError{w.Unit, want}
	}
	*r = Result[Q]{Value: Q(w.Value), Budget: w.Budget, Set: true}
	if w.U != nil {
		r.U, r.HasU = Q(*w.U), true
	}
	return nil
}

// Text prints the result in a unit: rounded to its uncertainty where it has
// one, with so many decimals where not.
func (r Result[Q]) Text(symbol string, decimals int) string {
	switch {
	case !r.Set:
		return ""
	case r.HasU && r.U > 0:
		return WithU(r.Value, r.U, symbol)
	}
	return unit.Text(r.Value, symbol, decimals)
}

// WithU prints value ± u in a unit, u to two significant digits and the
// value to the same decimal.
func WithU[Q unit.Quantity](v, u Q, symbol string) string {
	value, doubt, decimals := Rounded(v, u, symbol)
	s := unit.Number(value, decimals)
	if v.Kind() == unit.RateKind && value > 0 && strings.Trim(s, "0.") != "" {
		s = "+" + s
	}
	s += "\u00a0±\u00a0" + unit.Number(doubt, decimals)
	if symbol == "" {
		return s
	}
	return s + "\u00a0" + symbol
}

// Rounded gives value and doubt in a unit and the decimals that show the
// doubt to two significant digits (one where the first is 3 or more).
func Rounded[Q unit.Quantity](v, u Q, symbol string) (value, doubt float64, decimals int) {
	one, ok := v.Kind().Lookup(symbol)
	if !ok {
		one = v.Kind().SI()
	}
	value, doubt = one.FromSI(float64(v)), math.Abs(float64(u)/one.Factor)
	if one.Reciprocal {
		doubt = math.Abs(value * float64(u) / float64(v))
	}
	if doubt == 0 || math.IsNaN(doubt) || math.IsInf(doubt, 0) {
		return value, doubt, 3
	}
	e := int(math.Floor(math.Log10(doubt)))
	decimals = max(-e, 0)
	if doubt/math.Pow10(e) < 3 {
		decimals = max(1-e, 0)
	}
	return value, doubt, decimals
}

// Input is a number that goes into a propagation, in any one unit.
type Input struct {
	Name  string
	Value float64
	U     float64 // standard uncertainty, 0 where none was stated
}

// From makes an Input of a reading, in SI.
func From[Q unit.Quantity](name string, r Reading[Q]) Input {
	return Input{Name: name, Value: float64(r.Value), U: float64(r.U)}
}

// Propagate evaluates f at the inputs and at each input ± u. The result has
// an uncertainty only if some input has one. f must not keep its argument.
// A result that is not finite comes back with Set false; an input whose
// shifted values leave f's domain contributes its one-sided difference; where
// both sides leave it, no uncertainty can be told and none is given.
func Propagate[Q unit.Quantity](f func(x []float64) Q, inputs ...Input) Result[Q] {
	x := make([]float64, len(inputs))
	for i, in := range inputs {
		x[i] = in.Value
	}
	y := f(x)
	if !finite(float64(y)) {
		return Result[Q]{}
	}
	out := Result[Q]{Value: y, Set: true}
	var variance float64
	for i, in := range inputs {
		if in.U == 0 {
			continue
		}
		out.HasU = true
		d := slope(f, x, i, in.U, y)
		if math.IsNaN(d) {
			return Exactly(y)
		}
		variance += d * d
		out.Budget = append(out.Budget, Share{Input: in.Name, Part: d * d})
	}
	out.U = Q(math.Sqrt(variance))
	out.Budget = normalised(out.Budget, variance)
	return out
}

// slope is half the change of f over x[i] ± u.
func slope[Q unit.Quantity](f func([]float64) Q, x []float64, i int, u float64, y Q) float64 {
	at := x[i]
	x[i] = at + u
	up := float64(f(x))
	x[i] = at - u
	down := float64(f(x))
	x[i] = at
	switch {
	case finite(up) && finite(down):
		return (up - down) / 2
	case finite(up):
		return up - float64(y)
	case finite(down):
		return float64(y) - down
	}
	return math.NaN()
}

func normalised(b []Share, variance float64) []Share {
	if variance == 0 {
		return nil
	}
	for i := range b {
		b[i].Part /= variance
	}
	sort.SliceStable(b, func(i, j int) bool { return b[i].Part > b[j].Part })
	return b
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
