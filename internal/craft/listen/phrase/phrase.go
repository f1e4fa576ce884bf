// Package phrase puts the figures of listening into words: times, chances,
// estimates with their limits. Sentences and tables take them from here, so
// that a figure reads the same wherever it stands.
package phrase

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Lasting writes a time in the two greatest of its units that matter: "7 min
// 30 s", "2 h 20 min", "3 d 4 h"; under ten seconds with three figures.
func Lasting(d unit.Duration) string {
	s := math.Abs(float64(d))
	if s < 10 && s != math.Round(s) {
		return unit.Significant(s, 3) + "\u00a0s"
	}
	sizes := [...]float64{86400, 3600, 60, 1}
	names := [...]string{"d", "h", "min", "s"}
	for i := range sizes[:3] {
		least := sizes[i+1]
		n := math.Round(s / least)
		if n*least < sizes[i] {
			continue
		}
		whole := math.Floor(n * least / sizes[i])
		words := Counted(whole) + "\u00a0" + names[i]
		if rest := n - whole*sizes[i]/least; rest > 0 {
			words += " " + Counted(rest) + "\u00a0" + names[i+1]
		}
		return words
	}
	return Counted(math.Round(s)) + "\u00a0s"
}

// At is a place in a record: "3 min 2 s".
func At(d unit.Duration) string {
	if d > 60 {
		d = unit.Duration(math.Round(float64(d)))
	}
	return Lasting(d)
}

// HearFor writes a time to listen, rounded up to what one would set a watch
// by: "40 min", "3 h 20 min", "2 d".
func HearFor(d unit.Duration) string {
	step := 86400.0
	for _, s := range [...]struct{ under, step float64 }{{120, 10}, {1200, 60}, {7200, 300}, {12 * 3600, 1200}, {3 * 86400, 3600}} {
		if float64(d) < s.under {
			step = s.step
			break
		}
	}
	return Lasting(unit.Duration(math.Ceil(float64(d)/step-1e-9) * step))
}

// Counted writes a whole number with a comma between thousands.
func Counted(n float64) string {
	s := strconv.FormatFloat(math.Round(n), 'f', 0, 64)
	for i := len(s) - 3; i > 0; i -= 3 {
		if s[i-1] != '-' {
			s = s[:i] + "," + s[i:]
		}
	}
	return strings.Replace(s, "-", "−", 1)
}

// Times is "1 beat", "3 beats".
func Times(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Counted(float64(n)) + " " + many
}

// OneIn writes a small chance as "1 in 4,000", rounded to two figures.
func OneIn(p float64) string {
	switch {
	case !(p >= 0):
		return ""
	case p < 1e-6:
		return "under 1 in a million"
	case p >= 0.5:
		return "more likely than not"
	}
	n := 1 / p
	round := math.Max(1, math.Pow10(int(math.Floor(math.Log10(n)))-1))
	return "1 in " + Counted(math.Round(n/round)*round)
}

// FineSymbol is the unit that suits a size of time: µs under 1 ms, ms under
// a second.
func FineSymbol(most unit.Duration) string {
	switch m := math.Abs(float64(most)); {
	case m < 0.9995e-3:
		return "µs"
	case m < 0.9995:
		return "ms"
	}
	return "s"
}

// Fine is a time with two figures in the unit that suits it.
func Fine(d unit.Duration) string {
	symbol := FineSymbol(d)
	return unit.Significant(unit.In(d, symbol), 2) + "\u00a0" + symbol
}

// Within writes an estimate with its limits: "8.99 ± 0.07 ms" where they are
// even about it, "9 ms (4 to 31)" where they are not.
func Within[Q unit.Quantity](i meas.Interval[Q], symbol string) string {
	if !i.Set {
		return ""
	}
	if even(i) {
		return meas.WithU(i.Value, i.Half(), symbol)
	}
	value, low, high := Limits(i, symbol)
	if symbol != "" {
		value += "\u00a0" + symbol
	}
	return value + " (" + low + " to " + high + ")"
}

// even tells whether the limits are even about the value, to a fifth.
func even[Q unit.Quantity](i meas.Interval[Q]) bool {
	up, down := float64(i.High-i.Value), float64(i.Value-i.Low)
	return math.Abs(up-down) <= 0.2*math.Max(up, down)
}

// Limits are an estimate and its limits as numbers of one precision.
func Limits[Q unit.Quantity](i meas.Interval[Q], symbol string) (value, low, high string) {
	_, _, places := meas.Rounded(i.Value, i.Half(), symbol)
	n := func(q Q) string { return unit.Number(unit.In(q, symbol), places) }
	return n(i.Value), n(i.Low), n(i.High)
}

// Size turns an interval of either sign into one of sizes.
func Size[Q unit.Quantity](i meas.Interval[Q]) meas.Interval[Q] {
	if i.Value < 0 {
		i.Value, i.Low, i.High = -i.Value, -i.High, -i.Low
	}
	return i
}

// Swing is an amplitude: "±38 µs (31 to 45)".
func Swing(i meas.Interval[unit.Duration]) string {
	symbol := FineSymbol(i.Value)
	value, low, high := Limits(i, symbol)
	return "±" + value + "\u00a0" + symbol + " (" + low + " to " + high + ")"
}

// PerDay writes a rate with its limits: "7.28 ± 0.02 s a day".
func PerDay(i meas.Interval[unit.Rate]) string {
	d := func(r unit.Rate) unit.Ratio { return unit.Ratio(r.PerDay()) }
	r := meas.Interval[unit.Ratio]{Value: d(i.Value), Low: d(i.Low), High: d(i.High), U: d(i.U), Set: i.Set}
	if even(r) {
		return Within(r, "") + "\u00a0s a day"
	}
	value, low, high := Limits(r, "")
	return fmt.Sprintf("%s\u00a0s a day (%s to %s)", value, low, high)
}

// Lower makes the first letter small, for the middle of a sentence.
func Lower(s string) string { return first(s, strings.ToLower) }

// Capital makes the first letter of a sentence large.
func Capital(s string) string { return first(s, strings.ToUpper) }

func first(s string, change func(string) string) string {
	for i, r := range s {
		return change(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// Listed joins words as a sentence does: "a, b and c".
func Listed(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// SomeOf lists so many words and counts the others.
func SomeOf(words []string, n int) string {
	if len(words) <= n+1 {
		return Listed(words)
	}
	return strings.Join(words[:n], ", ") + fmt.Sprintf(" and %d more", len(words)-n)
}
