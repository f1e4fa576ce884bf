package job

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Change is one field of one record that changed.
type Change struct {
	ID     int64     `json:"-"` // order of the changes; times may jump, this does not
	When   time.Time `json:"when"`
	Who    string    `json:"who"`
	Record string    `json:"record"` // "clock", "owner", "holder", "piece", "survey/train"
	Field  string    `json:"field"`  // "title", "object.maker.as_read", "2.name"
	Before string    `json:"before"`
	After  string    `json:"after"`
}

// Fields of changes that concern a record as a whole.
const (
	CreatedField  = "created"  // taken into the book; After is its number
	ImportedField = "imported" // read from a file; After is its number
	RemovedField  = "removed"  // marked removed (After "yes") or put back (After "no")
	OrderField    = "order"    // rows of a list moved; their numbers in order
)

// entry is one field of a clock: what record and field it is, and its value.
type entry struct {
	record, field, value string
	text                 bool // typed by a person, so it can be searched
}

// fields lists all that a person can change in a clock, in a fixed order.
func fields(c Clock) []entry {
	o := c.Object
	out := []entry{
		{"clock", "number", c.Number, true},
		{"clock", "title", c.Title, true},
		{"clock", "stage", string(c.Stage), false},
		{"clock", "promise", c.Promise, true},
		{"clock", "invented", yesNo(c.Invented), false},
		{"owner", "name", c.Owner.Name, true},
		{"owner", "contact", c.Owner.Contact, true},
		{"owner", "note", c.Owner.Note, true},
		{"clock", "object.type", o.Type, true},
		{"clock", "object.materials", o.Materials, true},
		{"clock", "object.measurements", o.Measurements, true},
		{"clock", "object.inscriptions", o.Inscriptions, true},
		{"clock", "object.made.text", o.Made.Text, true},
		{"clock", "object.made.from", o.Made.From, true},
		{"clock", "object.made.to", o.Made.To, true},
		{"clock", "object.made.certainty", o.Made.Certainty, false},
		{"clock", "object.maker.as_read", o.Maker.AsRead, true},
		{"clock", "object.maker.attributed", o.Maker.Attributed, true},
		{"clock", "object.maker.role", o.Maker.Role, true},
		{"clock", "object.subject", o.Subject, true},
		{"clock", "object.title", o.Title, true},
		{"clock", "object.features", o.Features, true},
		{"clock", "object.description", o.Description, true},
		{"clock", "object.inventory", o.Inventory, true},
		{"clock", "object.writings", o.Writings, true},
		{"clock", "object.place", o.Place, true},
		{"clock", "object.related", o.Related, true},
		{"clock", "object.documented", o.Documented, true},
	}
	for _, h := range c.Holders {
		n := strconv.Itoa(h.N) + "."
		out = append(out,
			entry{"holder", n + "name", h.Name, true},
			entry{"holder", n + "from", h.From, true},
			entry{"holder", n + "to", h.To, true},
			entry{"holder", n + "how", h.How, true},
			entry{"holder", n + RemovedField, yesNo(!h.Removed.IsZero()), false})
	}
	for _, p := range c.Pieces {
		n := strconv.Itoa(p.N) + "."
		out = append(out,
			entry{"piece", n + "what", p.What, true},
			entry{"piece", n + "count", p.Count, true},
			entry{"piece", n + "note", p.Note, true},
			entry{"piece", n + "received", yesNo(p.Received), false},
			entry{"piece", n + RemovedField, yesNo(!p.Removed.IsZero()), false})
	}
	return append(out, entry{"clock", RemovedField, yesNo(!c.Removed.IsZero()), false})
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// Diff lists what differs between two states of a clock, field by field. A
// row that stands on one side only counts as empty on the other. Who and
// When are left to the caller.
func Diff(before, after Clock) []Change {
	type key struct{ record, field string }
	was := map[key]string{}
	for _, f := range fields(before) {
		was[key{f.record, f.field}] = f.value
	}
	var out []Change
	for _, f := range fields(after) {
		k := key{f.record, f.field}
		old, known := was[k]
		delete(was, k)
		if !known && !f.text && f.value == "no" {
			old = "no" // the resting state of a new row
		}
		if old != f.value {
			out = append(out, Change{Record: f.record, Field: f.field, Before: old, After: f.value})
		}
	}
	for _, f := range fields(before) { // rows that are gone
		if old, left := was[key{f.record, f.field}]; left && old != "" && (f.text || old != "no") {
			out = append(out, Change{Record: f.record, Field: f.field, Before: old})
		}
	}
	out = append(out, reordered("holder", numbers(before.StandingHolders(), func(h Holder) int { return h.N }),
		numbers(after.StandingHolders(), func(h Holder) int { return h.N }))...)
	return append(out, reordered("piece", numbers(before.StandingPieces(), func(p Piece) int { return p.N }),
		numbers(after.StandingPieces(), func(p Piece) int { return p.N }))...)
}

func numbers[Row any](rows []Row, n func(Row) int) []int {
	var out []int
	for _, r := range rows {
		out = append(out, n(r))
	}
	return out
}

// reordered is the change of a list's order: none where rows only left it or
// came in at its end.
func reordered(record string, before, after []int) []Change {
	var want []int // the order if nobody had moved a row
	for _, n := range before {
		if slices.Contains(after, n) {
			want = append(want, n)
		}
	}
	for _, n := range after {
		if !slices.Contains(before, n) {
			want = append(want, n)
		}
	}
	if slices.Equal(want, after) {
		return nil
	}
	line := func(list []int) string { return strings.Trim(fmt.Sprint(list), "[]") }
	return []Change{{Record: record, Field: OrderField, Before: line(before), After: line(after)}}
}

// DiffPart lists what differs between two states of a part of the survey.
// A value that is absent and one that is empty are alike.
func DiffPart(key string, before, after Part) []Change {
	record := "survey/" + key
	var out []Change
	names := map[string]bool{}
	for _, p := range []Part{before, after} {
		for n := range p.Values {
			names[n] = true
		}
	}
	for _, n := range slices.Sorted(maps.Keys(names)) {
		if b, a := shown(before.Values[n]), shown(after.Values[n]); b != a {
			out = append(out, Change{Record: record, Field: n, Before: b, After: a})
		}
	}
	if b, a := yesNo(!before.Removed.IsZero()), yesNo(!after.Removed.IsZero()); b != a {
		out = append(out, Change{Record: record, Field: RemovedField, Before: b, After: a})
	}
	return out
}

// Settle makes of a clock as it stands (before) and as a form sends it
// (after) the clock to be kept: rows just typed get the next number of their
// list, and rows that the form left out stay, marked removed at now.
// It is a fault to send a row number twice or one that was not given out.
func Settle(before, after Clock, now time.Time) (Clock, error) {
	var err error
	after.Holders, err = settle("holders", before.Holders, after.Holders, now,
		func(h *Holder) (*int, *time.Time) { return &h.N, &h.Removed })
	if err != nil {
		return Clock{}, err
	}
	after.Pieces, err = settle("pieces", before.Pieces, after.Pieces, now,
		func(p *Piece) (*int, *time.Time) { return &p.N, &p.Removed })
	return after, err
}

func settle[Row any](list string, before, after []Row, now time.Time, parts func(*Row) (*int, *time.Time)) ([]Row, error) {
	known := map[int]bool{}
	last := 0
	for i := range before {
		n, _ := parts(&before[i])
		known[*n], last = true, max(last, *n)
	}
	out := slices.Clone(after)
	seen := map[int]bool{}
	for i := range out {
		n, _ := parts(&out[i])
		if *n != 0 && (!known[*n] || seen[*n]) {
			return nil, rowFault(list, i, *n)
		}
		if *n == 0 {
			last++
			*n = last
		}
		seen[*n] = true
	}
	for _, row := range before {
		n, removed := parts(&row)
		if !seen[*n] {
			if removed.IsZero() {
				*removed = now
			}
			out = append(out, row)
		}
	}
	return out, nil
}

func rowFault(list string, i, n int) error {
	return faultf(fmt.Sprintf("%s[%d].n", list, i),
		"Row number %d is not one of this clock's, or stands there twice; leave it out for a new row", n)
}
