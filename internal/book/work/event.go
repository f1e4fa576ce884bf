package work

import (
	"fmt"
	"slices"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// Kind is what an entry of a log of hours does.
type Kind string

// The kinds.
const (
	Began    Kind = "began"    // the running clock was started
	Stopped  Kind = "stopped"  // and stopped
	Written  Kind = "written"  // by hand, both ends or the length
	Answered Kind = "answered" // the true end of one that was asked about
	Changed  Kind = "changed"
	Struck   Kind = "struck" // marked removed
	Moved    Kind = "moved"  // marked removed, and written into another log
	Undone   Kind = "undone" // an entry was taken back
)

// Event is an entry of a log of hours: a stretch as it stands from then on.
type Event struct {
	ledger.Entry
	Kind    Kind    `json:"kind"`
	Stretch Stretch `json:"stretch,omitzero"` // nothing of Undone
}

// Hours is a log of hours, worked out. A log belongs to one clock, or to the
// shop where it is not yet said what the work was for.
type Hours struct {
	log  []Event
	last map[int]int // by a stretch's number, the index of its last entry that stands
	used int         // the greatest number that was ever given out
}

// FoldHours works a log out. The error is a meas.Faults of the entries that
// cannot be; they are left out, and all others stand.
func FoldHours(log []Event) (h Hours, err error) {
	err = ledger.Fold(log, h.faults, func(e *Event) { e.Kind, e.Undoes = "", 0 }, h.take)
	return h, err
}

// take puts an entry at the end.
func (h *Hours) take(e Event) {
	h.log = append(h.log, e)
	h.used = max(h.used, e.Stretch.N)
	if e.Undoes == 0 && h.last != nil {
		if e.Kind != "" {
			h.last[e.Stretch.N] = len(h.log) - 1
		}
		return
	}
	h.last = map[int]int{}
	for i, stands := range ledger.Standing(h.log) {
		if x := h.log[i]; stands && x.Kind != Undone && x.Kind != "" {
			h.last[x.Stretch.N] = i
		}
	}
}

// Add puts an entry at the end, numbered; with faults nothing is added. A new
// stretch is numbered as well.
func (h *Hours) Add(e Event) (Event, meas.Faults) {
	e.N = ledger.Next(h.log)
	if (e.Kind == Began || e.Kind == Written) && e.Stretch.N == 0 {
		e.Stretch.N = h.used + 1
	}
	f := append(ledger.CheckHead(e.Entry), h.faults(e)...)
	if len(f) > 0 {
		return Event{}, f
	}
	h.take(e)
	return e, nil
}

// faults is why an entry cannot follow those that are there.
func (h *Hours) faults(e Event) meas.Faults {
	n := e.Stretch.N
	was, there := h.Find(n)
	switch e.Kind {
	case Began, Written:
		if n != h.used+1 {
			return meas.Faults{{Field: "stretch.n", Text: fmt.Sprintf("The next stretch is number %d, not %d", h.used+1, n)}}
		}
		return e.Stretch.Check()
	case Undone:
		return h.undoFaults(e.Undoes)
	case Stopped, Answered, Changed, Struck, Moved:
		if !there {
			return meas.Faults{{Field: "stretch.n", Text: fmt.Sprintf("There is no stretch %d", n)}}
		}
		return Change(was, e.Stretch)
	}
	return meas.Faults{{Field: "kind", Text: fmt.Sprintf("“%s” is no kind of entry", e.Kind)}}
}

// undoFaults is why an entry cannot be taken back: only the last of a stretch
// can, and nothing of one that was billed.
func (h *Hours) undoFaults(n int) meas.Faults {
	if f := ledger.CanUndo(h.log, n); len(f) > 0 {
		return f
	}
	s := h.log[n-1].Stretch
	if h.log[n-1].Kind == Moved {
		return meas.Faults{{Field: "undoes", Text: "This work was moved and stands elsewhere; move it back from there"}}
	}
	if i, ok := h.last[s.N]; !ok || i != n-1 {
		return meas.Faults{{Field: "undoes", Text: fmt.Sprintf("Entry %d is not the last of its stretch; take the later ones back first", n)}}
	}
	if s.Billed != "" {
		return meas.Faults{{Field: "undoes", Text: "This work was billed with " + s.Billed + "; it can be changed only after that document is cancelled"}}
	}
	return nil
}

// Find is the stretch of that number as it stands; false where there is none,
// or its beginning was taken back.
func (h Hours) Find(n int) (Stretch, bool) {
	i, ok := h.last[n]
	if !ok {
		return Stretch{}, false
	}
	return h.log[i].Stretch, true
}

// Last is the entry that says how a stretch stands; false where there is no
// such stretch.
func (h Hours) Last(n int) (Event, bool) {
	i, ok := h.last[n]
	if !ok {
		return Event{}, false
	}
	return h.log[i], true
}

// Stretches lists all that stand, those that were marked removed too, by
// number.
func (h Hours) Stretches() []Stretch {
	out := make([]Stretch, 0, len(h.last))
	for n := range h.last {
		s, _ := h.Find(n)
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Stretch) int { return a.N - b.N })
	return out
}

// Log lists all entries, oldest first.
func (h Hours) Log() []Event { return slices.Clone(h.log) }

// Of lists the entries of one stretch, oldest first, with those that undo
// them.
func (h Hours) Of(n int) []Event {
	var out []Event
	for _, e := range h.log {
		if e.Stretch.N == n && n > 0 || e.Kind == Undone && e.Undoes >= 1 && e.Undoes <= len(h.log) && h.log[e.Undoes-1].Stretch.N == n {
			out = append(out, e)
		}
	}
	return out
}

// Open tells whether anything in the log waits for a person: a clock that
// runs, or an end that is asked for.
func (h Hours) Open(r Rule) bool {
	return slices.ContainsFunc(h.Stretches(), func(s Stretch) bool {
		_, asked := r.Asks(s, s.End, s.End)
		return s.Running() || asked
	})
}
