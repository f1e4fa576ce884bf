// Package ledger has the rules that every append-only log of the shop's book
// keeps: entries are numbered 1, 2, 3 … in the order they were written, each
// says who, when and why, none is ever changed or taken out, and a mistake is
// undone by another entry that names it. What is true now is worked out from
// the entries that stand ([Standing]); an undo may itself be undone.
//
// The order is that of the numbers, never that of the instants: a clock on
// the wall may be set back.
package ledger

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"seatboard/internal/kit/meas"
)

// Entry is what every entry of a log has.
type Entry struct {
	N      int       `json:"n"`                // its number in the log, from 1
	When   time.Time `json:"when"`             // UTC
	Who    string    `json:"who"`              // the person
	Why    string    `json:"why,omitempty"`    // in words
	Undoes int       `json:"undoes,omitempty"` // the entry that this one undoes; 0 for none
}

// Head gives the entry itself, so that what embeds it can be logged.
func (e Entry) Head() Entry { return e }

// Logged is anything that is kept in a log.
type Logged interface{ Head() Entry }

// Standing tells for each entry of a log whether it stands: it is not undone
// by an entry that stands. Entries that undo stand or fall like others. A log
// that [Check] refuses has no standing that means anything.
func Standing[E Logged](log []E) []bool {
	out := make([]bool, len(log))
	for i := range out {
		out[i] = true
	}
	for i := len(log) - 1; i >= 0; i-- { // the last word first
		if u := log[i].Head().Undoes; out[i] && u >= 1 && u <= i {
			out[u-1] = false
		}
	}
	return out
}

// Next is the number of the next entry.
func Next[E Logged](log []E) int { return len(log) + 1 }

// Check lists what is wrong with the log as a log; fields are "events[2].n".
func Check[E Logged](log []E) meas.Faults {
	var f meas.Faults
	add := func(i int, field, format string, a ...any) {
		f = append(f, meas.Fault{Field: fmt.Sprintf("events[%d].%s", i, field), Text: fmt.Sprintf(format, a...)})
	}
	for i, e := range log {
		h := e.Head()
		if h.N != i+1 {
			add(i, "n", "Entry %d carries the number %d; entries are numbered in order from 1", i+1, h.N)
		}
		for _, x := range CheckHead(h) {
			add(i, x.Field, "Entry %d: %s", i+1, x.Text)
		}
		if h.Undoes < 0 || h.Undoes > i {
			add(i, "undoes", "Entry %d undoes entry %d, which is not before it", i+1, h.Undoes)
		}
	}
	return f
}

// CheckHead lists what an entry lacks before it can be written down.
func CheckHead(e Entry) meas.Faults {
	var f meas.Faults
	if strings.TrimSpace(e.Who) == "" {
		f = append(f, meas.Fault{Field: "who", Text: "Say who does this"})
	}
	if e.When.IsZero() {
		f = append(f, meas.Fault{Field: "when", Text: "Say when this was done"})
	}
	return append(f, CheckText("why", e.Why)...)
}

// CanUndo is the fault of undoing entry n, nil where it can be: there must be
// such an entry and it must stand.
func CanUndo[E Logged](log []E, n int) meas.Faults {
	switch {
	case n < 1 || n > len(log):
		return meas.Faults{{Field: "undoes", Text: fmt.Sprintf("There is no entry %d; the log has %d", n, len(log))}}
	case !Standing(log)[n-1]:
		return meas.Faults{{Field: "undoes", Text: fmt.Sprintf("Entry %d is undone already", n)}}
	}
	return nil
}

// MaxText is the most bytes of any one text of an entry.
const MaxText = 1 << 20

// CheckText is the fault of a text that cannot be kept, nil where it can.
func CheckText(field, s string) meas.Faults {
	switch {
	case len(s) > MaxText:
		return meas.Faults{{Field: field, Text: fmt.Sprintf("This text is %.1f MB long; a field holds 1 MB. Put the rest into another field or a file", float64(len(s))/MaxText)}}
	case strings.IndexByte(s, 0) >= 0:
		return meas.Faults{{Field: field, Text: "There is a NUL character in this text; take it out"}}
	case !utf8.ValidString(s):
		return meas.Faults{{Field: field, Text: "This text is damaged: it is not UTF-8. Type it again"}}
	}
	return nil
}

// Fold takes a log in, entry by entry. faults tells why an entry cannot follow
// those that were taken: it is silenced then, so that it says nothing and
// keeps its place, and all others stand. The error is a meas.Faults with every
// fault, by its place in the log ("events[2].name").
func Fold[E Logged](log []E, faults func(E) meas.Faults, silence func(*E), take func(E)) error {
	all := Check(log)
	for i, e := range log {
		for _, f := range faults(e) {
			all = append(all, meas.Fault{Field: fmt.Sprintf("events[%d].%s", i, f.Field), Text: fmt.Sprintf("Entry %d: %s", i+1, f.Text)})
			silence(&e)
		}
		take(e)
	}
	if len(all) > 0 {
		return all
	}
	return nil
}
