package parts

import (
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
)

// Number is a part's number under that of its clock: "2.1". The empty Number
// is the clock itself.
type Number string

// The limits of a number: so deep, and so many parts of one part.
const (
	maxDepth = 8
	maxIndex = 9999
)

// badNumber says how a number is written.
const badNumber = "A part's number is digits and dots, like 2 or 2.1, up to 9999 at each place and eight places deep"

// ParseNumber reads "2.1", ".2.1" or, with the clock's number before it,
// "2026-014.2.1". Under a clock whose number is digits too, "7.2" is the whole
// number of part 2 of clock 7; its part 7.2 is written ".7.2". The error is a meas.Faults without a field.
func ParseNumber(clock, s string) (Number, error) {
	clock, s = strings.TrimSpace(clock), strings.TrimSpace(s)
	if rest, ok := strings.CutPrefix(s, clock+"."); ok && clock != "" {
		s = rest
	}
	n := Number(strings.TrimPrefix(s, "."))
	if !n.Valid() {
		return "", meas.Faults{{Text: badNumber}}
	}
	return n, nil
}

// Valid tells whether the number is one that is given out.
func (n Number) Valid() bool {
	places := strings.Split(string(n), ".")
	if n == "" || len(places) > maxDepth {
		return false
	}
	for _, p := range places {
		i, err := strconv.Atoi(p)
		if err != nil || i < 1 || i > maxIndex || strconv.Itoa(i) != p {
			return false
		}
	}
	return true
}

// Of is the whole number, the clock's before it: "2026-014.2.1".
func (n Number) Of(clock string) string { return strings.TrimSpace(clock) + "." + string(n) }

// Parent is the number of the part that this one is of, "" at the top.
func (n Number) Parent() Number {
	i := strings.LastIndexByte(string(n), '.')
	if i < 0 {
		return ""
	}
	return n[:i]
}

// Child is the number of the i-th part of this one.
func (n Number) Child(i int) Number {
	if n == "" {
		return Number(strconv.Itoa(i))
	}
	return n + Number("."+strconv.Itoa(i))
}

// After is the number that is given out after this one: 3 after 2, 2.4 after
// 2.3. The empty Number has none.
func (n Number) After() Number {
	if n == "" {
		return ""
	}
	return n.Parent().Child(n.index() + 1)
}

// Under tells whether the number is below another, at any depth.
func (n Number) Under(above Number) bool {
	return above == "" && n != "" || strings.HasPrefix(string(n), string(above)+".")
}

// Compare orders numbers as they are counted: 1.2 before 1.10, a part before
// its own parts.
func Compare(a, b Number) int {
	x, y := string(a), string(b)
	for x != "" && y != "" {
		var p, q string
		p, x, _ = strings.Cut(x, ".")
		q, y, _ = strings.Cut(y, ".")
		i, _ := strconv.Atoi(p)
		j, _ := strconv.Atoi(q)
		if i != j {
			return i - j
		}
	}
	return len(x) - len(y)
}

// index is the last place of the number.
func (n Number) index() int {
	i, _ := strconv.Atoi(string(n[strings.LastIndexByte(string(n), '.')+1:]))
	return i
}
