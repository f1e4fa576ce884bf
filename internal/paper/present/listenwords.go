package present

import (
	"math"
	"strconv"
	"strings"

	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// lasting writes a time in the two greatest of its units that matter: "7 min
// 30 s", "2 h 20 min", "3 d 4 h"; under ten seconds with three figures.
func lasting(d unit.Duration) string {
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
		words := counted(whole) + "\u00a0" + names[i]
		if rest := n - whole*sizes[i]/least; rest > 0 {
			words += " " + counted(rest) + "\u00a0" + names[i+1]
		}
		return words
	}
	return counted(math.Round(s)) + "\u00a0s"
}

// hearFor writes a time to listen, rounded up to what one would set a watch
// by: "40 min", "3 h 20 min", "2 d".
func hearFor(d unit.Duration) string {
	step := 86400.0
	for _, s := range [...]struct{ under, step float64 }{{120, 10}, {1200, 60}, {7200, 300}, {12 * 3600, 1200}, {3 * 86400, 3600}} {
		if float64(d) < s.under {
			step = s.step
			break
		}
	}
	return lasting(unit.Duration(math.Ceil(float64(d)/step-1e-9) * step))
}

// counted writes a whole number with a comma between thousands.
func counted(n float64) string {
	s := strconv.FormatFloat(math.Round(n), 'f', 0, 64)
	for i := len(s) - 3; i > 0; i -= 3 {
		if s[i-1] != '-' {
			s = s[:i] + "," + s[i:]
		}
	}
	return strings.Replace(s, "-", "−", 1)
}

// oneIn writes a small chance as "1 in 4,000", rounded to two figures.
func oneIn(p float64) string {
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
	return "1 in " + counted(math.Round(n/round)*round)
}

// fineSymbol is the unit that suits a size of time: µs under 1 ms, ms under
// a second.
func fineSymbol(most unit.Duration) string {
	switch m := math.Abs(float64(most)); {
	case m < 0.9995e-3:
		return "µs"
	case m < 0.9995:
		return "ms"
	}
	return "s"
}

// within writes an estimate with its limits: "8.99 ± 0.07 ms" where they are
// even about it, "9 ms (4 to 31)" where they are not.
func within[Q unit.Quantity](i meas.Interval[Q], symbol string) string {
	if !i.Set {
		return ""
	}
	if even(i) {
		return meas.WithU(i.Value, i.Half(), symbol)
	}
	value, low, high := limits(i, symbol)
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

// limits are an estimate and its limits as numbers of one precision.
func limits[Q unit.Quantity](i meas.Interval[Q], symbol string) (value, low, high string) {
	_, _, places := meas.Rounded(i.Value, i.Half(), symbol)
	n := func(q Q) string { return unit.Number(unit.In(q, symbol), places) }
	return n(i.Value), n(i.Low), n(i.High)
}

// size turns an interval of either sign into one of sizes.
func size[Q unit.Quantity](i meas.Interval[Q]) meas.Interval[Q] {
	if i.Value < 0 {
		i.Value, i.Low, i.High = -i.Value, -i.High, -i.Low
	}
	return i
}

// suspectName is the part with how often it shows: "Third wheel, once a turn".
func suspectName(s culprit.Suspect) string {
	return capital(s.Part.Name) + ", " + often(s.Part.Kind, s.Harmonic)
}

func often(k culprit.Kind, harmonic int) string {
	if k == culprit.Contact {
		if harmonic > 1 {
			return strconv.Itoa(harmonic) + " times a tooth"
		}
		return "at each tooth"
	}
	switch {
	case harmonic <= 1:
		return "once a turn"
	case harmonic == 2:
		return "twice a turn"
	}
	return strconv.Itoa(harmonic) + " times a turn"
}

// lower makes the first letter small, for the middle of a sentence.
func lower(s string) string {
	for i, r := range s {
		return strings.ToLower(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// capital makes the first letter of a sentence large.
func capital(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// listed joins words as a sentence does: "a, b and c".
func listed(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// times is "1 beat", "3 beats".
func times(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return counted(float64(n)) + " " + many
}

// swing is an amplitude: "±38 µs (31 to 45)".
func swing(i meas.Interval[unit.Duration]) string {
	symbol := fineSymbol(i.Value)
	value, low, high := limits(i, symbol)
	return "±" + value + "\u00a0" + symbol + " (" + low + " to " + high + ")"
}
