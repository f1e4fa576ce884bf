package train

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"seatboard/internal/kit/unit"
)

// Exact is a ratio without rounding; the zero Exact means "not known". About
// marks one that rests on a measurement (a pendulum) and is no more exact
// than that.
type Exact struct {
	r       *big.Rat
	About   bool
	entered string
}

// NewExact is a/b; b must not be 0.
func NewExact(a, b int64) Exact { return Exact{r: big.NewRat(a, b)} }

// exactly wraps a ratio; nil gives the zero Exact. The ratio must not be
// changed afterwards.
func exactly(r *big.Rat) Exact { return Exact{r: r} }

// Known tells whether there is a value.
func (e Exact) Known() bool { return e.r != nil }

// Rat is a copy of the ratio, nil where it is not known.
func (e Exact) Rat() *big.Rat {
	if e.r == nil {
		return nil
	}
	return new(big.Rat).Set(e.r)
}

// Float is the nearest float64, 0 where it is not known.
func (e Exact) Float() float64 {
	if e.r == nil {
		return 0
	}
	f, _ := e.r.Float64()
	return f
}

// String is "12", "15/2", or four figures where it is about.
func (e Exact) String() string {
	switch {
	case e.r == nil:
		return ""
	case e.About:
		return unit.Significant(e.Float(), 4)
	}
	return e.r.RatString()
}

// Mixed is "12", "7 1/2" or, where the fraction is not a simple one, five
// figures.
func (e Exact) Mixed() string {
	switch {
	case e.r == nil:
		return ""
	case e.About:
		return e.String()
	case e.r.IsInt():
		return e.r.RatString()
	case e.r.Denom().Cmp(big.NewInt(16)) > 0:
		return unit.Significant(e.Float(), 5)
	}
	whole, rest := new(big.Int).QuoRem(e.r.Num(), e.r.Denom(), new(big.Int))
	if whole.Sign() == 0 {
		return e.r.RatString()
	}
	return fmt.Sprintf("%v %v/%v", whole, rest, e.r.Denom())
}

// MarshalJSON writes {"exact":"15/2","value":7.5}, {"value":7.5,"about":true}
// for one that rests on a measurement, null where it is not known.
func (e Exact) MarshalJSON() ([]byte, error) {
	if e.r == nil {
		return []byte("null"), nil
	}
	w := struct {
		Exact string  `json:"exact,omitempty"`
		Value float64 `json:"value"`
		About bool    `json:"about,omitempty"`
	}{Value: e.Float(), About: e.About}
	if !e.About {
		w.Exact = e.r.RatString()
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads the wire form, a number, or a text like "7 1/2".
func (e *Exact) UnmarshalJSON(b []byte) error {
	var s string
	switch {
	case string(b) == "null":
		*e = Exact{}
		return nil
	case b[0] == '{':
		return e.fromWire(b)
	case b[0] == '"':
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
	default:
		s = string(b)
	}
	return e.UnmarshalText([]byte(s))
}

// fromWire reads what MarshalJSON wrote, however long.
func (e *Exact) fromWire(b []byte) error {
	var w struct {
		Exact string
		Value *float64
		About bool
	}
	if err := json.Unmarshal(b, &w); err != nil {
		return err
	}
	r, ok := new(big.Rat), false
	switch {
	case w.Exact != "" && len(w.Exact) <= 400 && strings.Trim(w.Exact, "0123456789./") == "":
		r, ok = r.SetString(w.Exact)
	case w.Exact == "" && w.Value != nil && w.About:
		ok = r.SetFloat64(*w.Value) != nil
	case w.Exact == "" && w.Value != nil:
		r = decimalRat(*w.Value)
		ok = r != nil
	}
	if !ok || r.Sign() <= 0 {
		return fmt.Errorf("%s: %w", quote(string(b)), errNumber)
	}
	*e = Exact{r: r, About: w.About}
	return nil
}

// MarshalText writes the number as typed.
func (e Exact) MarshalText() ([]byte, error) {
	if e.entered != "" {
		return []byte(e.entered), nil
	}
	return []byte(e.String()), nil
}

// errNumber tells how an exact number is written.
var errNumber = errors.New("write a number above nought, like 3600, 7.5 or 7 1/2")

// UnmarshalText reads "3600", "89.1", "15/2" or "7 1/2"; nothing is not known.
func (e *Exact) UnmarshalText(b []byte) error {
	s := strings.TrimSpace(string(b))
	if s == "" {
		*e = Exact{}
		return nil
	}
	fail := func() error { return fmt.Errorf("%s: %w", quote(s), errNumber) }
	if len(s) > 40 || strings.Trim(s, "0123456789.,/ ") != "" {
		return fail()
	}
	sum := new(big.Rat)
	parts := strings.Fields(s)
	if len(parts) > 2 || (len(parts) == 2 && (!allDigits(parts[0]) || !strings.Contains(parts[1], "/"))) {
		return fail()
	}
	for _, p := range parts {
		if strings.Count(p, ",") == 1 && !strings.ContainsAny(p, "./") {
			if _, after, _ := strings.Cut(p, ","); len(after) == 3 {
				return fmt.Errorf("%s: the comma may mean thousands or decimals; %w", quote(s), errNumber)
			}
			p = strings.Replace(p, ",", ".", 1)
		}
		r, ok := new(big.Rat).SetString(p)
		if !ok {
			return fail()
		}
		sum.Add(sum, r)
	}
	if sum.Sign() <= 0 {
		return fail()
	}
	*e = Exact{r: sum, entered: s}
	return nil
}

// decimalRat is the ratio of the shortest decimal that is x: what a person
// typed, not its binary neighbour. nil for what is not a number.
func decimalRat(x float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
	if !ok {
		return nil
	}
	return r
}

// Interval writes a time in seconds as a person says it: "12 h",
// "7 min 30 s", "4.615 s".
func Interval(seconds Exact) string {
	if !seconds.Known() {
		return ""
	}
	s := seconds.Float()
	if !seconds.About && seconds.r.IsInt() && s < 1e9 {
		return wholeInterval(int64(s))
	}
	switch {
	case s < 120:
		return unit.Significant(s, 4) + "\u00a0s"
	case s < 7200:
		return unit.Significant(s/60, 4) + "\u00a0min"
	case s < 4*86400:
		return unit.Significant(s/3600, 4) + "\u00a0h"
	}
	return unit.Significant(s/86400, 4) + "\u00a0d"
}

// wholeInterval uses the two largest units that say it wholly, or decimals.
func wholeInterval(s int64) string {
	parts := []struct {
		n    int64
		unit string
	}{{86400, "d"}, {3600, "h"}, {60, "min"}, {1, "s"}}
	for i, p := range parts {
		if s < p.n || (p.unit == "d" && s < 3*86400) {
			continue
		}
		n, rest := s/p.n, s%p.n
		switch {
		case rest == 0:
			return fmt.Sprintf("%d\u00a0%s", n, p.unit)
		case i+1 < len(parts) && rest%parts[i+1].n == 0:
			return fmt.Sprintf("%d\u00a0%s %d\u00a0%s", n, p.unit, rest/parts[i+1].n, parts[i+1].unit)
		}
		return unit.Significant(float64(s)/float64(p.n), 5) + "\u00a0" + p.unit
	}
	return fmt.Sprintf("%d\u00a0s", s)
}
