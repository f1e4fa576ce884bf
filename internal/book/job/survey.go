package job

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"time"
)

// The parts of the survey that every clock can have. Others may follow them;
// a second drive is "drive/strike".
const (
	TrainPart    = "train"
	PendulumPart = "pendulum"
	DrivePart    = "drive"
)

// Survey is what was found on the clock, part by part.
type Survey map[string]Part

// Part is one part of the survey: the values of its form as typed, whatever
// they are.
type Part struct {
	Values  map[string][]string `json:"values"`
	Saved   time.Time           `json:"saved,omitzero"`
	Removed time.Time           `json:"removed,omitzero"`
	Version int                 `json:"-"` // how often it was saved, 0 before it is stored
}

// Keys lists the parts in the order they are shown: train, pendulum, drive,
// then the others by name, each followed by its own ("drive/strike").
func (s Survey) Keys() []string {
	rank := func(key string) int {
		head, _, _ := strings.Cut(key, "/")
		if i := slices.Index([]string{TrainPart, PendulumPart, DrivePart}, head); i >= 0 {
			return i
		}
		return 3
	}
	return slices.SortedFunc(maps.Keys(s), func(a, b string) int {
		if d := rank(a) - rank(b); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
}

// Names lists the names of the values, sorted.
func (p Part) Names() []string { return slices.Sorted(maps.Keys(p.Values)) }

// Value is the first value of that name, "" where there is none.
func (p Part) Value(name string) string {
	if v := p.Values[name]; len(v) > 0 {
		return v[0]
	}
	return ""
}

// shown is a list of values as the history shows it: one value as it is,
// several as a JSON list.
func shown(v []string) string {
	switch len(v) {
	case 0:
		return ""
	case 1:
		return v[0]
	}
	b, err := json.Marshal(v)
	if err != nil {
		return strings.Join(v, "\n")
	}
	return string(b)
}
