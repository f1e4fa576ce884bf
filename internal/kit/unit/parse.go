package unit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxInput bounds what is looked at: no quantity is longer than this.
const maxInput = 80

// ErrEmpty is returned by Parse for a text with nothing in it.
var ErrEmpty = errors.New("unit: nothing was written")

// ParseError says what is wrong with a written quantity and how to write it.
type ParseError struct {
	Kind  Kind
	Input string // as typed, shortened
	Why   string // a clause: `"kg" measures a weight`
}

// Error is one sentence: what was typed, what is wrong, how to write it.
func (e *ParseError) Error() string {
	return fmt.Sprintf("%s: %s; write %s like %s", quote(e.Input), e.Why, e.Kind.Name(), e.Kind.Example())
}

// quote shortens typed text and puts it between quotation marks.
func quote(s string) string {
	const most = 24
	n := 0
	for i := range s {
		if n == most {
			s = s[:i] + "…"
			break
		}
		n++
	}
	return "“" + strings.ToValidUTF8(s, "�") + "”"
}

// Parse reads a quantity as a person wrote it. assumed is the symbol of the
// unit a bare number is taken in, or "" to refuse bare numbers.
// The error is ErrEmpty or a *ParseError.
func Parse[Q Quantity](s, assumed string) (Q, error) {
	var q Q
	v, err := ParseKind(q.Kind(), s, assumed)
	return Q(v), err
}

// ParseKind is Parse for a kind known only at run time; the value is in SI.
func ParseKind(k Kind, s, assumed string) (float64, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return 0, ErrEmpty
	}
	fail := func(format string, a ...any) (float64, error) {
		return 0, &ParseError{Kind: k, Input: s, Why: fmt.Sprintf(format, a...)}
	}
	if len(s) > maxInput || !utf8.ValidString(s) {
		s = strings.Clone(s[:min(len(s), maxInput)])
		return fail("this is too long or not text")
	}
	sign, rest := leadingSign(s)
	sign2, rest, ok := hemisphere(k, rest)
	if !ok || (sign < 0 && sign2 != 0) {
		return fail("a minus and a compass letter say the same thing twice")
	}
	if sign2 != 0 {
		sign = sign2
	}
	total, err := k.sum(sign, rest, assumed)
	switch {
	case err != nil:
		return fail("%s", err)
	case math.IsInf(total, 0) || math.IsNaN(total):
		return fail("the number is too large")
	case k == TemperatureKind && total < 0:
		return fail("this is below the absolute zero")
	}
	return total, nil
}

// sum adds the parts of "5 ft 2 1/4 in". Only a number that stands alone
// takes the assumed unit: "5 ft 2" does not say 2 what.
func (k Kind) sum(sign float64, rest, assumed string) (float64, error) {
	var total float64
	last := math.Inf(1)
	if rest == "" {
		return 0, errors.New("a number is missing")
	}
	for n := 0; rest != ""; n++ {
		x, tail, err := leadingNumber(rest)
		if err != nil {
			return 0, err
		}
		word, tail := leadingWord(tail)
		if word == "" {
			if n > 0 {
				return 0, errors.New("say the unit of every part")
			}
			word = assumed
		}
		u, err := k.lookup(word)
		if err != nil && word != "" && isDigit(word[0]) {
			err = errors.New("leave out the space inside the number")
		}
		if err != nil {
			return 0, err
		}
		if n > 0 && (u.Offset != 0 || u.Reciprocal || last == 0 || u.Factor >= last) {
			return 0, errors.New("its parts do not follow from large to small")
		}
		if u.Reciprocal && x == 0 {
			return 0, errors.New("it cannot be nought")
		}
		total += u.ToSI(sign * x) // parts share the sign
		last, rest = u.Factor, tail
		if u.Reciprocal || u.Offset != 0 {
			last = 0 // nothing may follow
		}
	}
	return total, nil
}

// leadingSign strips a sign; a minus may be typed or typeset.
func leadingSign(s string) (float64, string) {
	for _, m := range []string{"-", "−", "–"} {
		if t, ok := strings.CutPrefix(s, m); ok {
			return -1, strings.TrimSpace(t)
		}
	}
	t := strings.TrimPrefix(s, "+")
	return 1, strings.TrimSpace(t)
}

// hemisphere strips N, S, E or W from an angle; the sign is 0 without one.
func hemisphere(k Kind, s string) (float64, string, bool) {
	if k != AngleKind || len(s) < 2 {
		return 0, s, true
	}
	sign := map[byte]float64{'N': 1, 'E': 1, 'S': -1, 'W': -1}
	body, last := s[:len(s)-1], s[len(s)-1]&^0x20
	if sign[last] == 0 || !endsNumber(body) {
		return 0, s, true
	}
	if strings.HasPrefix(body, "-") {
		return 0, s, false
	}
	return sign[last], strings.TrimSpace(body), true
}

// endsNumber tells whether a compass letter may follow.
func endsNumber(s string) bool {
	s = strings.TrimRight(s, " ")
	r, _ := utf8.DecodeLastRuneInString(s)
	return unicode.IsDigit(r) || strings.ContainsRune(`°º'′’"″”`, r)
}

// leadingWord takes the unit after a number: all up to the next digit.
func leadingWord(s string) (word, rest string) {
	s = strings.TrimLeft(s, " \t\u00a0\u2009\u202f")
	end := len(s)
	for i, r := range s {
		if i > 0 && startsNumber(s, i, r) {
			end = i
			break
		}
	}
	return strings.TrimSpace(s[:end]), strings.TrimSpace(s[end:])
}

// startsNumber tells whether a number begins at s[i]. A digit right after a
// letter or slash belongs to the unit (m/s2, 1/K).
func startsNumber(s string, i int, r rune) bool {
	if !unicode.IsDigit(r) && vulgar(r) == 0 {
		return false
	}
	prev, _ := utf8.DecodeLastRuneInString(s[:i])
	return unicode.IsSpace(prev) || strings.ContainsRune(`°º'′’"″”`, prev)
}

// lookup finds a unit by symbol or name.
func (k Kind) lookup(word string) (Unit, error) {
	if word == "" && k != RatioKind {
		return Unit{}, errors.New("say the unit")
	}
	for _, u := range k.Units() {
		if u.Symbol == word {
			return u, nil
		}
	}
	low := strings.ToLower(strings.Join(strings.Fields(word), " "))
	for _, u := range k.Units() {
		if strings.ToLower(u.Symbol) == low {
			return u, nil
		}
		for _, n := range u.Names {
			if n == low {
				return u, nil
			}
		}
	}
	return Unit{}, errors.New(otherKind(word, low))
}

// otherKind explains an unknown unit: it may measure something else.
func otherKind(word, low string) string {
	for k := range kinds {
		for _, u := range kinds[k].units {
			if u.Symbol != "" && (u.Symbol == word || strings.ToLower(u.Symbol) == low || slices.Contains(u.Names, low)) {
				return fmt.Sprintf("%s measures %s", quote(word), kinds[k].name)
			}
		}
	}
	return fmt.Sprintf("the unit %s is not known here", quote(word))
}

// Lookup finds the unit with a symbol or accepted name.
func (k Kind) Lookup(symbol string) (Unit, bool) {
	u, err := k.lookup(symbol)
	return u, err == nil
}

// leadingNumber takes "39", "39.1", "39,1", "1/2", "39 1/8", "39½", "1e-3".
func leadingNumber(s string) (float64, string, error) {
	if v, rest, ok := leadingVulgar(s); ok {
		return v, rest, nil
	}
	digits, rest := spanNumber(s)
	if digits == "" {
		return 0, "", errors.New("a number is missing")
	}
	if den, tail, ok := denominator(digits, rest); ok {
		return fraction(digits, den, tail)
	}
	v, err := decimal(digits)
	if err != nil {
		return 0, "", err
	}
	if !strings.ContainsAny(digits, ".,eE") {
		if f, tail, ok := trailingFraction(rest); ok {
			return v + f, tail, nil
		}
	}
	return v, rest, nil
}

// spanNumber splits off digits, decimal marks and an exponent.
func spanNumber(s string) (string, string) {
	i := 0
	for i < len(s) && (isDigit(s[i]) || s[i] == '.' || s[i] == ',') {
		i++
	}
	if j := exponent(s, i); j > i {
		i = j
	}
	return s[:i], s[i:]
}

// exponent finds the end of e±NN after i, or i.
func exponent(s string, i int) int {
	if i == 0 || i >= len(s) || (s[i] != 'e' && s[i] != 'E') {
		return i
	}
	j := i + 1
	if j < len(s) && (s[j] == '-' || s[j] == '+') {
		j++
	}
	if j >= len(s) || !isDigit(s[j]) {
		return i
	}
	for j < len(s) && isDigit(s[j]) {
		j++
	}
	return j
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// decimal reads digits with a point or a comma.
func decimal(s string) (float64, error) {
	points, commas := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case points+commas > 1:
		return 0, errors.New("leave out thousands marks")
	case commas == 1:
		whole, part, _ := strings.Cut(s, ",")
		if len(part) == 3 && whole != "" && whole[0] != '0' && len(whole) <= 3 {
			return 0, fmt.Errorf("the comma may mean thousands or decimals: write %s or %s", whole+"."+part, whole+part)
		}
		s = whole + "." + part
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, errors.New("this is not a number")
	}
	return v, nil
}

// denominator recognises /8 after a whole number.
func denominator(digits, rest string) (string, string, bool) {
	tail, ok := strings.CutPrefix(rest, "/")
	if !ok {
		tail, ok = strings.CutPrefix(rest, "⁄")
	}
	if !ok || strings.ContainsAny(digits, ".,eE") {
		return "", "", false
	}
	i := 0
	for i < len(tail) && isDigit(tail[i]) {
		i++
	}
	return tail[:i], tail[i:], i > 0
}

func fraction(num, den, tail string) (float64, string, error) {
	n, err1 := strconv.ParseFloat(num, 64)
	d, err2 := strconv.ParseFloat(den, 64)
	if err1 != nil || err2 != nil || d == 0 {
		return 0, "", errors.New("a fraction cannot have nought below the line")
	}
	return n / d, tail, nil
}

// trailingFraction takes " 1/8", "-1/8" or "½" after whole digits.
func trailingFraction(s string) (float64, string, bool) {
	t := strings.TrimLeft(s, " \u00a0\u2009\u202f-")
	if v, rest, ok := leadingVulgar(t); ok {
		return v, rest, true
	}
	digits, rest := spanNumber(t)
	if digits == "" {
		return 0, "", false
	}
	den, tail, ok := denominator(digits, rest)
	if !ok {
		return 0, "", false
	}
	v, _, err := fraction(digits, den, tail)
	return v, tail, err == nil && v < 1
}

// leadingVulgar takes one of ½ ¼ ¾ ⅓ ⅔ ⅛ ⅜ ⅝ ⅞ ….
func leadingVulgar(s string) (float64, string, bool) {
	r, n := utf8.DecodeRuneInString(s)
	v := vulgar(r)
	return v, s[n:], v != 0
}

func vulgar(r rune) float64 {
	switch r {
	case '½':
		return 1.0 / 2
	case '¼':
		return 1.0 / 4
	case '¾':
		return 3.0 / 4
	case '⅓':
		return 1.0 / 3
	case '⅔':
		return 2.0 / 3
	case '⅕':
		return 1.0 / 5
	case '⅙':
		return 1.0 / 6
	case '⅛':
		return 1.0 / 8
	case '⅜':
		return 3.0 / 8
	case '⅝':
		return 5.0 / 8
	case '⅞':
		return 7.0 / 8
	}
	return 0
}
