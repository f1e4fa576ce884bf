package meas

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/cite"
)

// Level says how a finding is to be taken.
type Level uint8

// The levels.
const (
	Note   Level = iota // worth knowing
	Doubt               // cannot be told from what was given
	Clash               // two things do not agree
	Danger              // someone can be hurt
)

// String is the level as written in JSON.
func (l Level) String() string { return [...]string{"note", "doubt", "clash", "danger"}[l] }

// MarshalText writes the level as a word.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads the word.
func (l *Level) UnmarshalText(b []byte) error {
	for x := Note; x <= Danger; x++ {
		if x.String() == string(b) {
			*l = x
			return nil
		}
	}
	return fmt.Errorf("meas: %q is not a level of a finding", b)
}

// Finding is one sentence that a calculation has to say beside its numbers:
// a contradiction, a caution, what could not be told.
type Finding struct {
	Level Level    `json:"level"`
	Code  string   `json:"code"` // stable, for programs: "motion-work"
	Text  string   `json:"text"` // what is so
	Next  string   `json:"next"` // what to do, "" where nothing
	About []string `json:"about,omitempty"`
	Ref   cite.Ref `json:"source"`
}

// Fault is a mistake in an input: the field it stands in and a sentence that
// says what is wrong and what to write.
type Fault struct {
	Field string `json:"field"`
	Text  string `json:"text"`
}

// Clip is typed text as a sentence quotes it: the first 24 characters of what
// is longer, and □ for what is no text.
func Clip(s string) string {
	s = strings.ToValidUTF8(s[:min(len(s), 200)], "□")
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return s
}

// Faults is all the mistakes in one set of inputs, as one error.
type Faults []Fault

func (f Faults) Error() string {
	s := ""
	for i, x := range f {
		if i > 0 {
			s += "; "
		}
		s += x.Text
	}
	return s
}
