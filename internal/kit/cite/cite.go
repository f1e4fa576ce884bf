// Package cite says where a number is from. Nothing that Seatboard computes
// rests on a figure without a [Ref]: a source with its edition, the place in
// it, and the [Grade] of the evidence, shown to the user as a word.
//
// A constant is a [Value], a published table a [Table]; a chapter of craft
// lists all it uses as [Entry] values and proves itself by [Check] values: a
// printed figure beside the one computed here. The pages Sources and
// Validation, docs/sources.md and docs/validation.md are written from these.
// A line of working is a [Step].
//
// Where two sources differ both stay; where a print is wrong the printed and
// the corrected value stay and the check says so ([Check.Misprint]).
package cite

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Grade is the kind of evidence behind a number.
type Grade uint8

// The grades; a Ref that says nothing else is to print.
const (
	Printed        Grade = iota // read in the named source
	Exact                       // a definition or a theorem
	Measured                    // measured here, on this clock
	Computed                    // worked out for this program; method named
	Memory                      // from memory, not yet seen in print
	CommonPractice              // common practice of the trade, no source
)

// String is the word shown to the user.
func (g Grade) String() string {
	return [...]string{"printed", "exact", "measured here", "computed", "from memory", "common practice, no source"}[g]
}

// Ref names the place a number is from.
type Ref struct {
	Source string `json:"source,omitempty"` // key in the bibliography, "" where there is none
	Place  string `json:"place,omitempty"`  // "p. 255, table", "eq. 4-3"
	Grade  Grade  `json:"-"`
	Note   string `json:"note,omitempty"`
}

// String is the reference in words, with its grade unless it is printed.
func (r Ref) String() string {
	work, place := r.Parts()
	if work != "" && place != "" {
		return work + ", " + place
	}
	return work + place
}

// Parts is the reference as its work and the place in it with grade and note;
// either may be empty.
func (r Ref) Parts() (work, place string) {
	var parts []string
	if s, ok := Find(r.Source); ok {
		work = s.Short()
	}
	if r.Place != "" {
		parts = append(parts, r.Place)
	}
	if r.Grade != Printed {
		parts = append(parts, r.Grade.String())
	}
	if r.Note != "" {
		parts = append(parts, r.Note)
	}
	return work, strings.Join(parts, ", ")
}

// MarshalText writes the reference in words for JSON outputs.
func (r Ref) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText wrote, by this program or an older
// one: what is read is written again word for word, also where the work is
// no longer in the bibliography or is named otherwise there.
func (r *Ref) UnmarshalText(b []byte) error {
	text := string(b)
	*r = Ref{Place: text}
	read := Ref{}
	rest := text
	for _, s := range bibliography {
		short := s.Short()
		if after, ok := strings.CutPrefix(text, short); ok && len(after) < len(rest) && (after == "" || strings.HasPrefix(after, ", ")) {
			read.Source, rest = s.Key, strings.TrimPrefix(after, ", ")
		}
	}
	read.Place, read.Grade, read.Note = splitGrade(rest)
	if read.String() == text {
		*r = read
	}
	return nil
}

// splitGrade finds the grade among place and note; without one all is place.
func splitGrade(text string) (place string, g Grade, note string) {
	for g := Exact; g <= CommonPractice; g++ {
		before, after, ok := strings.Cut(", "+text+", ", ", "+g.String()+", ")
		if ok {
			return strings.TrimPrefix(before, ", "), g, strings.TrimSuffix(after, ", ")
		}
	}
	return text, Printed, ""
}

// Value is a constant with its source.
type Value[T any] struct {
	V   T
	Ref Ref
}

// Table is a published table: each row carries its own place where the
// table's is not enough.
type Table[Row any] struct {
	Name string
	Ref  Ref
	Rows []Row
}

// Entry is one line of the sources page: something used, and from where.
type Entry struct {
	Name  string // "expansion of steel, tempered rod"
	Value string // "11.52 µm/m/K", or "22 rows" for a table
	Ref   Ref
}

// Step is one line of working, as it would be written on paper.
type Step struct {
	Name    string `json:"name"`    // "Beats an hour"
	Formula string `json:"formula"` // "n = 2 e Π wheels / Π pinions"
	Numbers string `json:"numbers"` // "2 · 30 · (60 · 56)/(8 · 7)"
	Result  string `json:"result"`  // "3600 an hour"
	Ref     Ref    `json:"source"`
}

// String is the step on one line.
func (s Step) String() string {
	return fmt.Sprintf("%s = %s = %s", s.Formula, s.Numbers, s.Result)
}

// Check is a figure printed by an outside source beside the one computed
// here.
type Check struct {
	What     string  // "vibrations a minute, 84/8 80/8 32"
	Ref      Ref     // where it is printed
	Printed  string  // as printed, "112.0"
	Got      float64 // ours, in the unit of the print
	Tol      float64 // 0 means half a unit of the last printed digit
	Misprint bool    // the print is known to be wrong: it must NOT agree
}

// Agrees tells whether ours rounds to the printed figure, within Tol where
// one is stated.
func (c Check) Agrees() bool {
	p, half, err := PrintedNumber(c.Printed)
	if err != nil {
		return false
	}
	tol := c.Tol
	if tol == 0 {
		tol = half * (1 + 1e-9)
	}
	return math.Abs(c.Got-p) <= tol
}

// Holds tells whether the check came out as it should: agreement, or for a
// known misprint the lack of it.
func (c Check) Holds() bool { return c.Agrees() != c.Misprint }

// PrintedNumber reads a printed figure and half a unit of its last digit.
func PrintedNumber(s string) (value, half float64, err error) {
	t := strings.NewReplacer("−", "-", " ", "", "\u00a0", "", ",", "").Replace(s)
	value, err = strconv.ParseFloat(t, 64)
	if err != nil {
		return 0, 0, fmt.Errorf("cite: %q is not a printed figure", s)
	}
	mantissa, exp, _ := strings.Cut(strings.ToLower(t), "e")
	_, frac, _ := strings.Cut(mantissa, ".")
	e, _ := strconv.Atoi(exp)
	return value, 0.5 * math.Pow10(e-len(frac)), nil
}
