package making

import (
	"fmt"
	"slices"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// Book is what was worked out for a clock, folded from its log. The zero Book
// is empty.
type Book struct{ log []Event }

// Standing is a sheet as it stands.
type Standing struct {
	Sheet
	N       int          `json:"n"`                // number within the clock
	Entry   ledger.Entry `json:"entry"`            // that says how it stands
	Version int          `json:"version"`          // how often it was worked out, from 1
	Struck  int          `json:"struck,omitempty"` // the entry that struck it out; 0 where it counts
	Parts   []MadePart   `json:"parts,omitempty"`  // made by it
}

// MadePart is a part with the entry that says so.
type MadePart struct {
	Part
	Entry ledger.Entry `json:"entry"`
}

// Fold works a log out. The error is a meas.Faults of the entries that cannot
// be; they are left out, and all others stand.
func Fold(log []Event) (b Book, err error) {
	err = ledger.Fold(log, func(e Event) meas.Faults { return b.faults(e) }, func(e *Event) { e.Kind, e.Undoes = "", 0 },
		func(e Event) { b.log = append(b.log, e) })
	return b, err
}

// Add puts an entry at the end, numbered; with faults nothing is added. A new
// sheet is numbered as well.
func (b *Book) Add(e Event) (Event, meas.Faults) {
	e.N = ledger.Next(b.log)
	if e.Kind == Kept && e.Sheet == 0 {
		e.Sheet = b.used() + 1
	}
	if f := append(ledger.CheckHead(e.Entry), b.faults(e)...); len(f) > 0 {
		return Event{}, f
	}
	b.log = append(b.log, e)
	return e, nil
}

// used is the greatest number that was ever given out.
func (b Book) used() int {
	n := 0
	for _, e := range b.log {
		n = max(n, e.Sheet)
	}
	return n
}

// faults is why an entry cannot follow those that are there.
func (b Book) faults(e Event) meas.Faults {
	one := func(field, format string, a ...any) meas.Faults {
		return meas.Faults{{Field: field, Text: fmt.Sprintf(format, a...)}}
	}
	if e.Kind == Undone {
		return b.cannotUndo(e.Undoes)
	}
	now, there := b.Find(e.Sheet)
	switch e.Kind {
	case Kept:
		if e.Sheet != b.used()+1 {
			return one("sheet", "The next sheet is number %d, not %d", b.used()+1, e.Sheet)
		}
	case Changed, Struck, Made:
		if !there {
			return one("sheet", "There is no sheet %d", e.Sheet)
		}
		if now.Struck != 0 {
			return one("title", "It was struck out; put it back first")
		}
	default:
		return one("kind", "“%s” is no kind of entry", e.Kind)
	}
	switch {
	case e.Kind == Kept || e.Kind == Changed:
		if e.Is == nil {
			return one("is", "There is nothing in it")
		}
		if e.Kind == Changed && e.Is.same(now.Sheet) {
			return one("title", "Nothing was changed")
		}
		return e.Is.Check()
	case e.Kind == Made && e.Part == nil:
		return one("part", "It does not say which part was made")
	case e.Kind == Made:
		return e.Part.check()
	}
	return nil
}

// cannotUndo is why an entry cannot be undone.
func (b Book) cannotUndo(n int) meas.Faults {
	if f := ledger.CanUndo(b.log, n); len(f) > 0 {
		return f
	}
	e := b.log[n-1]
	standing := ledger.Standing(b.log)
	for i := n; i < len(b.log) && e.Sheet != 0; i++ {
		if later := b.log[i]; standing[i] && later.Sheet == e.Sheet && (e.Kind != Made || later.Kind == Struck) {
			return meas.Faults{{Field: "undoes", Text: fmt.Sprintf("Entry %d rests on it; take that back first", later.N)}}
		}
	}
	return nil
}

// Find is a sheet as it stands; false where there is none, or it was taken
// back.
func (b Book) Find(n int) (Standing, bool) {
	s := Standing{N: n}
	for i, stands := range ledger.Standing(b.log) {
		e := b.log[i]
		if !stands || e.Sheet != n || n == 0 {
			continue
		}
		switch e.Kind {
		case Kept, Changed:
			s.Sheet, s.Entry, s.Version = *e.Is, e.Entry, s.Version+1
		case Struck:
			s.Struck = e.N
		case Made:
			s.Parts = append(s.Parts, MadePart{*e.Part, e.Entry})
		}
	}
	return s, s.Version > 0
}

// All lists the sheets by number, those struck out too.
func (b Book) All() []Standing {
	var out []Standing
	for n := 1; n <= b.used(); n++ {
		if s, ok := b.Find(n); ok {
			out = append(out, s)
		}
	}
	return out
}

// Of lists the entries about a sheet, newest first, each with whether it
// stands.
func (b Book) Of(n int) (entries []Event, standing []bool) {
	all := ledger.Standing(b.log)
	for i, e := range b.log {
		if e.Sheet == n && n != 0 {
			entries, standing = append(entries, e), append(standing, all[i])
		}
	}
	slices.Reverse(entries)
	slices.Reverse(standing)
	return entries, standing
}

// Log lists all entries, oldest first.
func (b Book) Log() []Event { return slices.Clone(b.log) }
