package table

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode"

	"seatboard/internal/kit/unit"
)

var errNumber = errors.New("is not a number")

// absent tells whether a cell says that nothing was read.
func absent(s string) bool {
	if len(s) > 4 {
		return false
	}
	switch strings.ToLower(s) {
	case "", "-", "–", "—", "na", "n/a", "nan", "null", "none", "?", ".", "..", "...", "…":
		return true
	}
	return false
}

// number reads a figure. With comma a comma is the decimal mark; without, it
// parts thousands. Where both stand the last is the decimal mark.
func number(s string, comma bool) (float64, error) {
	if x, err := strconv.ParseFloat(s, 64); err == nil && strings.Trim(s, "+-.0123456789") == "" {
		return x, nil
	}
	s = strings.NewReplacer("−", "-", "–", "-", "\u00a0", "", "\u202f", "", " ", "", "'", "").Replace(s)
	dot, com := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case dot >= 0 && com > dot:
		s = strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	case dot >= 0 && com >= 0:
		s = strings.ReplaceAll(s, ",", "")
	case com >= 0 && (comma || !thousands(s)):
		s = strings.Replace(s, ",", ".", 1)
	case com >= 0:
		s = strings.ReplaceAll(s, ",", "")
	}
	if strings.ContainsAny(s, "xXpP_iInN") {
		return 0, errNumber
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, errNumber
	}
	return x, nil
}

// thousands tells whether commas stand before each three figures.
func thousands(s string) bool {
	parts := strings.Split(strings.TrimLeft(s, "+-"), ",")
	if len(parts[0]) == 0 || len(parts[0]) > 3 || parts[0] == "0" {
		return false
	}
	for _, p := range parts[1:] {
		if len(p) != 3 {
			return false
		}
	}
	return true
}

// ways a cell says which side of right it is.
var sides = map[string]float64{
	"fast": 1, "ahead": 1, "gaining": 1, "gains": 1, "gain": 1, "+": 1,
	"slow": -1, "behind": -1, "losing": -1, "loses": -1, "loss": -1, "lost": -1,
}

// quantityOf reads a cell of a column in its unit, in SI.
func quantityOf(s string, q quantity, symbol string, comma bool) (float64, error) {
	side, said := 1.0, false
	if q.what == slowBy || q.what == losing {
		side = -1
	}
	for _, w := range words(s) {
		if v, ok := sides[w]; ok && len(w) > 1 {
			side, said = v, true
			s = strings.TrimSpace(cutWord(s, w))
		}
	}
	x, pieces := 0.0, false
	var err error
	if q.kind == unit.DurationKind && strings.Trim(s, "+-.0123456789") != "" {
		x, pieces = minutesAndSeconds(s)
	}
	if pieces { // it is read
	} else if q.kind == unit.DurationKind && strings.Contains(s, ":") {
		x, err = colons(s)
	} else {
		x, err = inUnit(s, q.kind, symbol, comma)
	}
	if said && x < 0 {
		return 0, errors.New("has both a minus and a word for it; write one of them")
	}
	switch q.what {
	case slowBy, anError, losing, aRate:
		x *= side
	case wholeArc:
		x /= 2
	}
	return x, err
}

// minutesAndSeconds reads 1 m 12.5 s, 1h 2m 3s, 1min 12sec, 1′ 12″ and 1'12"; ok
// is false where it is anything else, or of one piece.
func minutesAndSeconds(s string) (x float64, ok bool) {
	s = strings.ToLower(strings.NewReplacer("−", "-", "–", "-", ",", ".", " ", "", "\u00a0", "", "′", "m", "″", "s", "’", "m", "”", "s", "\"", "s", "'", "m").Replace(s))
	sign := 1.0
	if t, minus := strings.CutPrefix(s, "-"); minus {
		s, sign = t, -1
	}
	s = strings.TrimPrefix(s, "+")
	size, pieces := 1e9, 0
	for s != "" {
		n := strings.IndexFunc(s, func(r rune) bool { return (r < '0' || r > '9') && r != '.' })
		if n < 0 && pieces > 0 && size == 60 && len(s) != 3 { // the seconds need no name; three figures are thousands
			n = len(s)
		}
		if n <= 0 {
			return 0, false
		}
		v, err := strconv.ParseFloat(s[:n], 64)
		s = s[n:]
		name := s[:len(s)-len(strings.TrimLeft(s, "abcdefghijklmnopqrstuvwxyz"))]
		s = s[len(name):]
		each := map[string]float64{"h": 3600, "hr": 3600, "std": 3600, "m": 60, "min": 60, "s": 1, "sec": 1, "sek": 1, "": 1}[strings.TrimSuffix(name, ".")]
		if err != nil || each == 0 || each >= size || pieces > 0 && v >= 60 {
			return 0, false
		}
		x, size, pieces = x+v*each, each, pieces+1
	}
	return sign * x, pieces > 1
}

// words are those of a cell that has letters in it.
func words(s string) []string {
	if strings.IndexFunc(s, unicode.IsLetter) < 0 {
		return nil
	}
	return strings.Fields(strings.ToLower(s))
}

// cutWord takes a word out, whatever its case.
func cutWord(s, word string) string {
	i := strings.Index(strings.ToLower(s), word)
	if i < 0 || i+len(word) > len(s) {
		return s
	}
	return s[:i] + s[i+len(word):]
}

// inUnit reads a bare number in a unit, or one that names its own.
func inUnit(s string, k unit.Kind, symbol string, comma bool) (float64, error) {
	if symbol == milliDay {
		x, err := inUnit(s, k, "s/d", comma)
		if _, bare := number(s, comma); bare == nil {
			x /= 1000
		}
		return x, err
	}
	u, ok := k.Lookup(symbol)
	if !ok {
		return 0, errNumber
	}
	if x, err := number(s, comma); err == nil {
		return u.ToSI(x), nil
	}
	if x, err := unit.ParseKind(k, s, ""); err == nil {
		return x, nil
	}
	return 0, errNumber
}

// colons reads 0:12 (minutes and seconds), 1:02:03, with a sign.
func colons(s string) (float64, error) {
	sign := 1.0
	s = strings.TrimSpace(strings.NewReplacer("−", "-", "–", "-", ",", ".").Replace(s))
	if t, ok := strings.CutPrefix(s, "-"); ok {
		s, sign = t, -1
	}
	s = strings.TrimPrefix(s, "+")
	parts := strings.Split(s, ":")
	if len(parts) > 3 {
		return 0, errNumber
	}
	var x float64
	for i, p := range parts {
		v, err := number(p, false)
		if err != nil || v < 0 || strings.ContainsAny(p, "+-") || i > 0 && v >= 60 {
			return 0, errors.New("is no length of time; write it like 0:12 or 1:02:03")
		}
		x = 60*x + v
	}
	return sign * x, nil
}
