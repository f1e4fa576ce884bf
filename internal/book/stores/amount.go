package stores

import (
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
)

// Amount is a number of units in thousandths, so that sums are exact.
type Amount int64

const (
	one        Amount = 1000
	mostAmount        = 1_000_000 * one
)

// ParseAmount reads "3", "2.5" or "2,5": up to three decimals, at most a
// million. The error is a meas.Faults without a field.
func ParseAmount(s string) (Amount, error) {
	text := strings.Replace(strings.TrimSpace(s), ",", ".", 1)
	wholes, decimals, point := strings.Cut(text, ".")
	digits := func(s string) bool { return strings.Trim(s, "0123456789") == "" }
	if wholes == "" || !digits(wholes) || !digits(decimals) || point && decimals == "" || len(decimals) > 3 || len(wholes) > 7 {
		return 0, meas.Faults{{Text: fmt.Sprintf("“%s” is not an amount; write a number like 3 or 2.5, with up to three decimals", meas.Clip(s))}}
	}
	n, err := strconv.ParseInt(wholes+(decimals + "000")[:3], 10, 64)
	if err != nil || Amount(n) > mostAmount {
		return 0, meas.Faults{{Text: "An amount is at most 1 000 000"}}
	}
	return Amount(n), nil
}

// String writes the amount as shortly as it is exact: "2.5".
func (a Amount) String() string {
	sign := ""
	if a < 0 {
		sign, a = "−", -a
	}
	return sign + strings.TrimRight(strings.TrimRight(fmt.Sprintf("%d.%03d", a/one, a%one), "0"), ".")
}

// Whole tells whether the amount has no decimals.
func (a Amount) Whole() bool { return a%one == 0 }
