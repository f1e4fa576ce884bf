package parts

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
)

// Kind is what an event does.
type Kind string

// The kinds.
const (
	Recorded  Kind = "recorded"  // a part comes into the ledger, in state To
	Described Kind = "described" // its detail is written anew
	Moved     Kind = "moved"     // from state From to state To
	Split     Kind = "split"     // Count of its pieces become the part Into
	Recounted Kind = "recounted" // it has Count pieces, whatever was thought
	Explained Kind = "explained" // why it is where it is; Why has the words
	Undone    Kind = "undone"    // the entry Undoes does not count any more
)

// Event is one entry of the log.
type Event struct {
	ledger.Entry
	Kind   Kind    `json:"kind"`
	Part   Number  `json:"part,omitempty"`
	Into   Number  `json:"into,omitempty"`
	Count  int     `json:"count,omitempty"`
	Was    int     `json:"was,omitempty"`  // the count before a recount; filled in by Add
	From   State   `json:"from,omitempty"` // filled in by Add
	To     State   `json:"to,omitempty"`
	Detail *Detail `json:"detail,omitempty"` // as it is from now on
	Before *Detail `json:"before,omitempty"` // as it was; filled in by Add
	Batch  string  `json:"batch,omitempty"`  // the batch that moves the part, or takes its own move back; "" by hand
}

// LeftInPlace is the place of what was recorded and not taken off.
const LeftInPlace = "left in place"

// Places lists the places offered; any other may be typed.
func Places() []string { return []string{"tray", "bag", "box", LeftInPlace} }

// Detail is what is known of a part; every field as typed, and may be empty.
type Detail struct {
	Name     string           `json:"name"`
	Place    string           `json:"place"`    // "tray 3", "left in place"
	Way      string           `json:"way"`      // which way round: "boss to the front plate"
	Mark     string           `json:"mark"`     // index mark, found or made
	Repair   string           `json:"repair"`   // earlier repair seen
	Looked   string           `json:"looked"`   // what the second look at it found
	Material string           `json:"material"` // in words
	Made     []clean.Material `json:"made"`     // all that matters to a bath
	Replaces Number           `json:"replaces,omitempty"`
	Note     string           `json:"note"`
}

// WantsSecondLook tells whether an earlier repair was seen and not looked at
// again.
func (d Detail) WantsSecondLook() bool {
	return strings.TrimSpace(d.Repair) != "" && strings.TrimSpace(d.Looked) == ""
}

// same tells whether two details say the same.
func (d Detail) same(b Detail) bool {
	made := slices.Equal(d.Made, b.Made)
	d.Made, b.Made = nil, nil
	return made && reflect.DeepEqual(d, b)
}

// check lists what in a detail cannot be kept.
func (d Detail) check() meas.Faults {
	var f meas.Faults
	for _, t := range [][2]string{{"name", d.Name}, {"place", d.Place}, {"way", d.Way}, {"mark", d.Mark}, {"repair", d.Repair}, {"looked", d.Looked}, {"material", d.Material}, {"note", d.Note}} {
		f = append(f, ledger.CheckText(t[0], t[1])...)
	}
	for _, m := range d.Made {
		if !m.Known() {
			f = append(f, meas.Fault{Field: "made", Text: "“" + meas.Clip(string(m)) + "” is not in the table of materials; choose from the list, or “not known”"})
		}
	}
	if d.Replaces != "" && !d.Replaces.Valid() {
		f = append(f, meas.Fault{Field: "replaces", Text: badNumber})
	}
	return f
}

// words is the event in words, for a sentence that names it.
func (e Event) words() string {
	switch e.Kind {
	case Recorded:
		return fmt.Sprintf("%s recorded", e.Part)
	case Described:
		return fmt.Sprintf("%s described", e.Part)
	case Moved:
		return fmt.Sprintf("%s moved to “%s”", e.Part, e.To.Words())
	case Split:
		return fmt.Sprintf("%s split into %s", e.Part, e.Into)
	case Recounted:
		return fmt.Sprintf("%s recounted", e.Part)
	case Explained:
		return fmt.Sprintf("%s explained", e.Part)
	}
	return fmt.Sprintf("entry %d undone", e.Undoes)
}
