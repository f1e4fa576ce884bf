package making

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
)

// LogBook is the kind of log that sheets are kept in; each goes by the UID of
// its clock.
const LogBook = "making"

// Kind is what an event does.
type Kind string

// The kinds.
const (
	Kept    Kind = "kept"    // a sheet came into the file
	Changed Kind = "changed" // it was worked out anew; what stood before stays in the log
	Struck  Kind = "struck"  // it does not count any more
	Made    Kind = "made"    // a part was made by it
	Undone  Kind = "undone"  // the entry Undoes does not count any more
)

// Event is one entry of the log.
type Event struct {
	ledger.Entry
	Kind  Kind   `json:"kind"`
	Sheet int    `json:"sheet,omitempty"` // its number within the clock, from 1; 0 of Undone
	Is    *Sheet `json:"is,omitempty"`    // of Kept and Changed
	Part  *Part  `json:"part,omitempty"`  // of Made
}

// Sheet is what was worked out once.
type Sheet struct {
	Calculation string              `json:"calculation"` // its name on the desk: "train"
	Title       string              `json:"title"`       // as the person calls it: "third wheel"
	Gist        string              `json:"gist"`        // what came out, in a line
	Note        string              `json:"note"`
	Values      map[string][]string `json:"values"`  // as typed, by the name of the field
	Answer      json.RawMessage     `json:"answer"`  // as it was told
	Program     string              `json:"program"` // that told it
}

// Part is a part that was made by a sheet.
type Part struct {
	Number       parts.Number `json:"number"`
	Recorded     int          `json:"recorded"`     // entry of the take-down ledger
	Intervention int          `json:"intervention"` // number in the originality ledger
	Drawings     []File       `json:"drawings"`     // as they were then
}

// File is a drawing that is kept.
type File struct {
	Name   string `json:"name"` // "third-wheel.dxf"
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size"` // bytes
}

// What one sheet holds at most.
const (
	MaxAnswer = 1 << 20 // bytes of JSON
	maxValues = 1000
	maxTitle  = 200 // bytes
)

// Check lists what cannot be kept, by the names of the fields.
func (s Sheet) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if strings.TrimSpace(s.Title) == "" {
		add("title", "Give it a name by which you will find it, like third wheel")
	}
	if len(s.Title) > maxTitle {
		add("title", "The name is longer than a line; put the rest into the note")
	}
	if s.Calculation == "" {
		add("calculation", "It does not say what it was worked out by")
	}
	if len(s.Answer) > MaxAnswer {
		add("title", "The answer is %.1f MB of figures, and 1 MB is kept. Ask for less at once", float64(len(s.Answer))/MaxAnswer)
	}
	if len(s.Answer) > 0 && !json.Valid(s.Answer) {
		add("answer", "The answer is damaged: it is not JSON")
	}
	if len(s.Values) > maxValues {
		add("values", "There are %d values; %d are the most", len(s.Values), maxValues)
	}
	for _, t := range [][2]string{{"title", s.Title}, {"gist", s.Gist}, {"note", s.Note}} {
		f = append(f, ledger.CheckText(t[0], t[1])...)
	}
	for _, name := range slices.Sorted(maps.Keys(s.Values)) {
		f = append(f, ledger.CheckText(name, name)...)
		f = append(f, ledger.CheckText(name, strings.Join(s.Values[name], "\n"))...)
	}
	return f
}

// same tells whether two sheets say the same; the program that says it and
// the answer count too.
func (s Sheet) same(b Sheet) bool {
	return s.Calculation == b.Calculation && s.Title == b.Title && s.Gist == b.Gist && s.Note == b.Note && s.Program == b.Program &&
		maps.EqualFunc(s.Values, b.Values, slices.Equal[[]string]) && len(Differing(s.Answer, b.Answer)) == 0 && len(Differing(b.Answer, s.Answer)) == 0
}

// check lists what is wrong with a part that was made.
func (p Part) check() meas.Faults {
	var f meas.Faults
	if !p.Number.Valid() {
		f = append(f, meas.Fault{Field: "number", Text: "The part has no number"})
	}
	for i, d := range p.Drawings {
		if d.Name == "" || strings.ContainsAny(d.Name, "/\\\x00") || !sum(d.SHA256) || d.Size < 0 {
			f = append(f, meas.Fault{Field: fmt.Sprintf("drawings[%d]", i), Text: "This is no file: it wants a plain name, a SHA-256 and a size"})
		}
	}
	return f
}

// sum tells whether a text is a SHA-256 in hexadecimal.
func sum(s string) bool {
	return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == ""
}

// Diff lists what differs between two sheets, as a person typed it; answers
// are left to [Differing].
func (s Sheet) Diff(b Sheet) []job.Change {
	var out []job.Change
	add := func(field, was, is string) {
		if was != is {
			out = append(out, job.Change{Record: "sheet", Field: field, Before: was, After: is})
		}
	}
	add("title", s.Title, b.Title)
	add("note", s.Note, b.Note)
	names := map[string]bool{}
	for _, values := range []map[string][]string{s.Values, b.Values} {
		for name := range values {
			names[name] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		add(name, strings.Join(s.Values[name], "\n"), strings.Join(b.Values[name], "\n"))
	}
	return out
}
