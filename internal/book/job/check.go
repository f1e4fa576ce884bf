package job

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"seatboard/internal/kit/meas"
)

// What can be stored.
const (
	MaxText   = 1 << 20 // bytes of any one text
	MaxNumber = 60      // characters of a shop's number
	MaxRows   = 500     // rows of a list, values of a part, parts of a survey
)

// faultf is one fault as an error.
func faultf(field, format string, a ...any) error {
	return meas.Faults{{Field: field, Text: fmt.Sprintf(format, a...)}}
}

// faults gathers faults, and what was not understood.
type faults struct {
	list   meas.Faults
	unread []Unread
}

func (f *faults) add(field, format string, a ...any) {
	f.list = append(f.list, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
}

// text refuses what no text can be.
func (f *faults) text(field, s string) {
	switch {
	case len(s) > MaxText:
		f.add(field, "This text is %.1f MB long; a field holds 1 MB. Put the rest into another field or a file", float64(len(s))/(1<<20))
	case strings.IndexByte(s, 0) >= 0:
		f.add(field, "There is a NUL character in this text; take it out")
	case !utf8.ValidString(s):
		f.add(field, "This text is damaged: it is not UTF-8. Type it again")
	}
}

// instant refuses a time that cannot be written.
func (f *faults) instant(field string, t time.Time) {
	if y := t.UTC().Year(); !t.IsZero() && (y < 1 || y > 9999) {
		f.add(field, "The year %d cannot be kept; write one from 1 to 9999", y)
	}
}

var (
	uidForm = regexp.MustCompile(`^[0-9a-f]{16}$`)
	keyForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*)?$`)
)

// Check lists what cannot be stored; the fields are named as in JSON
// ("object.maker.as_read", "holders[2].name"). What is doubtful or does not
// agree is not a fault: see [Clock.Findings].
func (c Clock) Check() []meas.Fault {
	var f faults
	if !uidForm.MatchString(c.UID) {
		f.add("uid", "The identifier must be 16 of the characters 0–9 and a–f")
	}
	switch n := utf8.RuneCountInString(c.Number); {
	case NumberKey(c.Number) == "":
		f.add("number", "Enter the number of the clock, like 2026-014")
	case n > MaxNumber:
		f.add("number", "The number has %d characters; %d are the most", n, MaxNumber)
	case strings.ContainsFunc(c.Number, func(r rune) bool { return r < ' ' }):
		f.add("number", "The number must stand on one line")
	}
	if !c.Stage.Known() {
		f.add("stage", "“%s” is not a stage of the journey; choose one of the list", meas.Clip(string(c.Stage)))
	}
	for _, e := range fields(Clock{Number: c.Number, Title: c.Title, Promise: c.Promise, Owner: c.Owner, Object: c.Object}) {
		if e.text {
			f.text(fieldPath(e), e.value)
		}
	}
	f.text("object.made.certainty", c.Object.Made.Certainty)
	c.checkRows(&f)
	f.instant("created", c.Created)
	f.instant("touched", c.Touched)
	f.instant("removed", c.Removed)
	return f.list
}

// fieldPath is the JSON path of a field that is not in a list.
func fieldPath(e entry) string {
	if e.record == "owner" {
		return "owner." + e.field
	}
	return e.field
}

func (c Clock) checkRows(f *faults) {
	if n := len(c.Holders); n > MaxRows {
		f.add("holders", "There are %d holders; %d are the most", n, MaxRows)
	}
	if n := len(c.Pieces); n > MaxRows {
		f.add("pieces", "There are %d pieces; %d are the most", n, MaxRows)
	}
	for i, h := range c.Holders {
		at := fmt.Sprintf("holders[%d].", i)
		f.text(at+"name", h.Name)
		f.text(at+"from", h.From)
		f.text(at+"to", h.To)
		f.text(at+"how", h.How)
		f.instant(at+"removed", h.Removed)
		if h.N < 0 {
			f.add(at+"n", "A row number counts from 1")
		}
	}
	for i, p := range c.Pieces {
		at := fmt.Sprintf("pieces[%d].", i)
		f.text(at+"what", p.What)
		f.text(at+"count", p.Count)
		f.text(at+"note", p.Note)
		f.instant(at+"removed", p.Removed)
		if p.N < 0 {
			f.add(at+"n", "A row number counts from 1")
		}
	}
}

// Check lists what cannot be stored of a part; its key comes first.
func (p Part) Check(key string) []meas.Fault {
	var f faults
	at := "survey." + key
	if !keyForm.MatchString(key) || len(key) > 60 {
		f.add(at, "“%s” cannot name a part of the survey; use small letters, digits and hyphens, like drive/strike", meas.Clip(key))
	}
	if n := len(p.Values); n > MaxRows {
		f.add(at, "There are %d values; %d are the most", n, MaxRows)
	}
	for _, name := range p.Names() {
		where := at + ".values." + name
		f.text(where, name)
		if len(p.Values[name]) > MaxRows {
			f.add(where, "There are %d values of one name; %d are the most", len(p.Values[name]), MaxRows)
		}
		for _, v := range p.Values[name] {
			f.text(where, v)
		}
	}
	f.instant(at+".saved", p.Saved)
	f.instant(at+".removed", p.Removed)
	return f.list
}

// PromiseDay is the day the clock is promised for, at midnight UTC; ok is
// false where none can be read. It is read from 2026-12-24 and 24.12.2026.
func (c Clock) PromiseDay() (day time.Time, ok bool) {
	s := strings.TrimSpace(c.Promise)
	for _, form := range []string{time.DateOnly, "2.1.2006"} {
		if d, err := time.Parse(form, s); err == nil {
			return d, true
		}
	}
	return time.Time{}, false
}

// Number is how many pieces there are; ok is false where no number was typed.
func (p Piece) Number() (n int, ok bool) {
	n, err := strconv.Atoi(strings.TrimSpace(p.Count))
	return n, err == nil && n >= 0
}

// Illegible counts what an inscription shows as not read: single marks (□)
// and gaps of unknown length ([...], also with the one-character ellipsis).
func Illegible(inscription string) (marks, gaps int) {
	s := strings.ReplaceAll(inscription, "[…]", "[...]")
	return strings.Count(s, "□"), strings.Count(s, "[...]")
}
