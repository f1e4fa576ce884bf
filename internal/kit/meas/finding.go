package meas

import "seatboard/internal/kit/cite"

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
