// Package meas holds measurements: a quantity as a person wrote it, with its
// standard uncertainty where one was stated, and the propagation of
// uncertainty through a calculation with a budget that says what to measure
// again.
//
// A [Reading] keeps what was typed beside the value: "39 1/8 in ± 1/16 in" is
// stored as that and as 0.993775 m with u = 0.0015875 m. What follows ± is
// taken as one standard uncertainty (JCGM 100:2008, 2.3.1); an uncertainty
// that was not stated is absent, never nought.
//
// A [Result] is a computed quantity; [Propagate] fills its uncertainty from
// those of the readings by evaluating the calculation at each input ± u
// (central differences; exact for linear models, adequate where u is small
// against the curvature). Inputs are taken as independent.
package meas

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/unit"
)

// Reading is a quantity as entered. The zero Reading means "not stated".
type Reading[Q unit.Quantity] struct {
	Value   Q
	U       Q      // standard uncertainty, meaningful if HasU
	HasU    bool   // an uncertainty was stated
	Entered string // what was typed, trimmed; "" for a value set by the program
	Set     bool   // there is a value
}

// Of is a reading set by the program, not typed.
func Of[Q unit.Quantity](v Q) Reading[Q] { return Reading[Q]{Value: v, Set: true} }

// OfU is a reading set by the program with its standard uncertainty.
func OfU[Q unit.Quantity](v, u Q) Reading[Q] {
	return Reading[Q]{Value: v, U: u, HasU: true, Set: true}
}

// Parse reads "994 mm", "994 ± 1 mm" or "994 mm +- 1/2 mm"; a bare number is
// in the assumed unit. An empty text gives the zero Reading and no error.
func Parse[Q unit.Quantity](s, assumed string) (Reading[Q], error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return Reading[Q]{}, nil
	}
	if len(s) > maxEntered {
		return Reading[Q]{}, tooLong[Q](s)
	}
	value, doubt, stated := cutDoubt(s)
	r := Reading[Q]{Entered: s, Set: true, HasU: stated}
	if !stated {
		v, err := unit.Parse[Q](value, assumed)
		r.Value = v
		return checked(r, err)
	}
	return parseDoubt(r, value, doubt, assumed)
}

// maxEntered bounds what is looked at: value and doubt, with room to spare.
const maxEntered = 200

func tooLong[Q unit.Quantity](s string) error {
	var q Q
	return &unit.ParseError{Kind: q.Kind(), Input: strings.Clone(s[:maxEntered]), Why: "this is too long or not text"}
}

// parseDoubt reads both sides of the ±; a unit on one side serves both.
func parseDoubt[Q unit.Quantity](r Reading[Q], value, doubt, assumed string) (Reading[Q], error) {
	var q Q
	v, err := unit.Parse[Q](value, assumed)
	symbol := assumed
	if u := trailingUnit(q.Kind(), doubt); u != "" {
		if bare, e := unit.Parse[Q](value, u); e == nil && trailingUnit(q.Kind(), value) == "" {
			v, err = bare, nil
		}
		symbol = u
	} else if u := trailingUnit(q.Kind(), value); u != "" {
		symbol = u
	}
	if err != nil {
		return checked(r, err)
	}
	r.Value = v
	r.U, err = doubtOf(v, doubt, symbol)
	if err == nil && r.U < 0 {
		err = &unit.ParseError{Kind: q.Kind(), Input: r.Entered, Why: "the doubt after ± cannot be negative"}
	}
	return checked(r, err)
}

// doubtOf is the doubt as a difference: an offset scale (°C) has none.
func doubtOf[Q unit.Quantity](v Q, doubt, symbol string) (Q, error) {
	d, err := unit.Parse[Q](doubt, symbol)
	if err != nil {
		return 0, err
	}
	u, ok := v.Kind().Lookup(symbol)
	switch {
	case !ok:
		return d, nil
	case u.Reciprocal: // ± threads per inch, carried to the pitch
		return Q(math.Abs(float64(v) * u.FromSI(float64(d)) / u.FromSI(float64(v)))), nil
	}
	return d - Q(u.Offset), nil
}

// checked rejects what is not a number and clears the reading on error.
func checked[Q unit.Quantity](r Reading[Q], err error) (Reading[Q], error) {
	if err == nil && (math.IsNaN(float64(r.Value)) || math.IsInf(float64(r.Value), 0) || math.IsNaN(float64(r.U)) || math.IsInf(float64(r.U), 0)) {
		err = &unit.ParseError{Kind: r.Value.Kind(), Input: r.Entered, Why: "this is not a number"}
	}
	if errors.Is(err, unit.ErrEmpty) {
		err = &unit.ParseError{Kind: r.Value.Kind(), Input: r.Entered, Why: "a number is missing on one side of the ±"}
	}
	if err != nil {
		return Reading[Q]{}, err
	}
	return r, nil
}

// cutDoubt splits at ±, +- or +/-.
func cutDoubt(s string) (value, doubt string, ok bool) {
	for _, mark := range []string{"±", "+/-", "+-", "+−"} {
		if v, d, found := strings.Cut(s, mark); found {
			return strings.TrimSpace(v), strings.TrimSpace(d), true
		}
	}
	return s, "", false
}

// trailingUnit is the symbol a text ends in, or "": the longest ending that
// is a unit.
func trailingUnit(k unit.Kind, s string) string {
	for i := range s {
		if u, ok := k.Lookup(strings.TrimSpace(s[i:])); ok && u.Symbol != "" {
			return u.Symbol
		}
	}
	return ""
}

// String is what was entered, or the SI value.
func (r Reading[Q]) String() string {
	switch {
	case !r.Set:
		return ""
	case r.Entered != "":
		return r.Entered
	}
	symbol := r.Value.Kind().SI().Symbol
	if r.HasU {
		return WithU(r.Value, r.U, symbol)
	}
	return strings.TrimSpace(unit.Significant(float64(r.Value), 6) + " " + symbol)
}

// Bare tells whether a number was typed without a unit, so that it was taken in
// that of its field.
func (r Reading[Q]) Bare() bool {
	if r.Entered == "" {
		return false
	}
	_, err := Parse[Q](r.Entered, "")
	return err != nil
}

// Written is what was entered, with the unit a bare number was taken in
// behind it: "2" in a field of degrees is "2°", "994 mm" stays as it is. A
// value whose text does not give it is written in the unit.
func (r Reading[Q]) Written(symbol string) string {
	if !r.Set || r.Entered == "" {
		return r.String()
	}
	if v, err := Parse[Q](r.Entered, ""); err == nil && v.Value == r.Value {
		return r.Entered
	}
	with := r.Entered + "\u00a0" + symbol
	if strings.HasPrefix(symbol, "°") && len(symbol) == len("°") {
		with = r.Entered + symbol
	}
	if v, err := Parse[Q](r.Entered, symbol); err == nil && v.Value == r.Value {
		return with
	}
	if r.HasU {
		return WithU(r.Value, r.U, symbol)
	}
	return unit.Text(r.Value, symbol, 3)
}

// UnmarshalText reads a quantity that names its unit.
func (r *Reading[Q]) UnmarshalText(b []byte) error {
	v, err := Parse[Q](string(b), "")
	if err != nil {
		return err
	}
	*r = v
	return nil
}

// jsonReading is the wire form: {"value":0.994,"unit":"m","u":0.001,"entered":"994 mm ± 1 mm"}.
type jsonReading struct {
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"`
	U       *float64 `json:"u,omitempty"`
	Entered string   `json:"entered,omitempty"`
}

// MarshalJSON writes the wire form, null where nothing was stated.
func (r Reading[Q]) MarshalJSON() ([]byte, error) {
	if !r.Set {
		return []byte("null"), nil
	}
	v := float64(r.Value)
	w := jsonReading{Value: &v, Unit: r.Value.Kind().SI().Symbol, Entered: r.Entered}
	if r.HasU {
		u := float64(r.U)
		w.U = &u
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads the wire form or a plain text such as "994 mm". Where
// both a value and an entered text stand, the value counts and the text is
// kept.
func (r *Reading[Q]) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*r = Reading[Q]{}
		return nil
	}
	if len(b) > 0 && b[0] == '"' {
		var s string
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
		return r.UnmarshalText([]byte(s))
	}
	var w jsonReading
	if err := json.Unmarshal(b, &w); err != nil {
		return err
	}
	if w.Value == nil {
		return r.UnmarshalText([]byte(w.Entered))
	}
	return r.fromWire(w)
}

func (r *Reading[Q]) fromWire(w jsonReading) error {
	k := r.Value.Kind()
	u, ok := k.Lookup(w.Unit)
	if !ok {
		return fmt.Errorf("meas: the unit %q does not measure %s", w.Unit, k.Name())
	}
	out := Reading[Q]{Value: Q(u.ToSI(*w.Value)), Entered: w.Entered, Set: true}
	if w.U != nil {
		out.HasU, out.U = true, Q(*w.U*u.Factor)
		if u.Reciprocal {
			out.U = Q(math.Abs(float64(out.Value) * *w.U / *w.Value))
		}
	}
	if out.U < 0 || math.IsNaN(float64(out.Value)) || math.IsInf(float64(out.Value), 0) {
		return fmt.Errorf("meas: %v is not a possible reading", *w.Value)
	}
	*r = out
	return nil
}
