package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// In is the number to write for q in the unit with this symbol. It panics for
// a symbol that the kind does not have: the symbol is the program's, not the
// user's.
func In[Q Quantity](q Q, symbol string) float64 {
	return must(q.Kind(), symbol).FromSI(float64(q))
}

// From is the quantity written as x in the unit with this symbol, under the
// same condition as In.
func From[Q Quantity](x float64, symbol string) Q {
	var q Q
	return Q(must(q.Kind(), symbol).ToSI(x))
}

func must(k Kind, symbol string) Unit {
	for _, u := range k.Units() {
		if u.Symbol == symbol {
			return u
		}
	}
	panic(fmt.Sprintf("unit: %s has no unit %q", k.Name(), symbol))
}

// Text writes q in a unit with so many decimals: "993.6 mm". The minus is
// U+2212; rates carry their sign always.
func Text[Q Quantity](q Q, symbol string, decimals int) string {
	n := Number(In(q, symbol), decimals)
	if q.Kind() == RateKind && float64(q) > 0 && strings.Trim(n, "0.") != "" {
		n = "+" + n
	}
	return join(n, symbol)
}

// join puts a no-break space between number and unit, none before a degree
// mark of an angle or a per-cent sign.
func join(n, symbol string) string {
	switch symbol {
	case "":
		return n
	case "°", "′", "″":
		return n + symbol
	}
	return n + "\u00a0" + symbol
}

// Number writes x with so many decimals and a typeset minus; zero has no sign.
func Number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', max(decimals, 0), 64)
	if t, ok := strings.CutPrefix(s, "-"); ok {
		if strings.Trim(t, "0.") == "" {
			return t
		}
		return "−" + t
	}
	return s
}

// Significant writes x with so many significant digits, never in powers of
// ten between 1e-6 and 1e9.
func Significant(x float64, digits int) string {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return Number(x, 0)
	}
	// The exponent of the rounded number: 9.996 to three digits is 10.0.
	sci := strconv.FormatFloat(x, 'e', max(digits-1, 0), 64)
	e, _ := strconv.Atoi(sci[strings.IndexByte(sci, 'e')+1:])
	if e < -6 || e > 9 {
		return strings.Replace(strconv.FormatFloat(x, 'g', digits, 64), "-", "−", 1)
	}
	return Number(x, digits-1-e)
}

// String is the quantity in one or two words, without its article.
func (k Kind) String() string { return strings.TrimPrefix(strings.TrimPrefix(k.Name(), "a "), "an ") }
