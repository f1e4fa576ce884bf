package trial

import (
	"fmt"
	"slices"
	"sort"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
)

// Book is a clock's trial: its log with what follows from it. The zero Book is
// empty.
type Book struct {
	log      []Event
	standing []bool
	first    []int // by event, how many readings were written before it
	readings int   // in all events
	stand    int   // readings in events that stand
	touches  int   // touches, stops and replies with one, that stand
}

// Fold makes a book of a log. The error is a meas.Faults of the events that
// cannot be, by their place in the log ("events[2].at"); they are left out and
// all others stand.
func Fold(log []Event) (b Book, err error) {
	err = ledger.Fold(log, b.faults, silence, b.take)
	return b, err
}

// silence makes an event say nothing. Its readings keep their numbers.
func silence(e *Event) { e.Kind, e.Undoes = "", 0 }

// take puts an event at the end.
func (b *Book) take(e Event) {
	b.log = append(b.log, e)
	b.first = append(b.first, b.readings)
	b.readings += len(e.Readings)
	if e.Undoes == 0 {
		b.standing = append(b.standing, true)
		b.count(e, 1)
		return
	}
	was := b.standing
	b.standing = ledger.Standing(b.log)
	for i, stood := range was {
		switch now := b.standing[i]; {
		case now && !stood:
			b.count(b.log[i], 1)
		case stood && !now:
			b.count(b.log[i], -1)
		}
	}
}

// count keeps how much stands.
func (b *Book) count(e Event, sign int) {
	switch {
	case e.Kind == Read:
		b.stand += sign * len(e.Readings)
	case e.Kind == Tabled:
		b.stand += sign * len(e.Readings)
		b.touches += sign * len(e.Touches)
	case e.Kind == Touched, e.Kind == Stood, e.Kind == Answered && e.Answer.Touch != nil:
		b.touches += sign
	}
}

// Add puts an event at the end, numbered; with faults the book stays as it is.
func (b *Book) Add(e Event) (Event, meas.Faults) {
	e.N = ledger.Next(b.log)
	f := append(ledger.CheckHead(e.Entry), b.faults(e)...)
	if len(f) > 0 {
		return Event{}, f
	}
	b.take(e)
	return e, nil
}

// Clone is a book of its own, to which events can be added apart.
func (b Book) Clone() Book {
	b.log, b.standing, b.first = slices.Clone(b.log), slices.Clone(b.standing), slices.Clone(b.first)
	return b
}

// Log is the events, oldest first. It must not be changed.
func (b Book) Log() []Event { return b.log }

// Len is how many events there are.
func (b Book) Len() int { return len(b.log) }

// Stands tells whether event n stands: it is there, says something and is not
// undone.
func (b Book) Stands(n int) bool {
	return n >= 1 && n <= len(b.log) && b.standing[n-1] && b.log[n-1].Kind != ""
}

// CanUndo tells whether event n can be taken back.
func (b Book) CanUndo(n int) bool { return b.Stands(n) && b.log[n-1].Kind != Undone }

// Standing lists the events that stand, those that undo left out, oldest
// first.
func (b Book) Standing() []Event {
	var out []Event
	for i, e := range b.log {
		if b.standing[i] && e.Kind != Undone && e.Kind != "" {
			out = append(out, e)
		}
	}
	return out
}

// ID is the number of reading i (from 0) of event n: how many readings were
// written before it, and one. It is 0 where there is no such reading.
func (b Book) ID(n, i int) int {
	if n < 1 || n > len(b.log) || i < 0 || i >= len(b.log[n-1].Readings) {
		return 0
	}
	return b.first[n-1] + i + 1
}

// ReadingOf is the event and the place in it of the reading with a number;
// false where there is none.
func (b Book) ReadingOf(id int) (n, i int, ok bool) {
	if id < 1 || id > b.readings {
		return 0, 0, false
	}
	n = sort.Search(len(b.first), func(k int) bool { return b.first[k] >= id })
	return n, id - 1 - b.first[n-1], true
}

// Reading is the reading with a number as it was written, with that number;
// false where there is none or its event does not stand.
func (b Book) Reading(id int) (regulate.Reading, bool) {
	n, i, ok := b.ReadingOf(id)
	if !ok || !b.Stands(n) {
		return regulate.Reading{}, false
	}
	r := b.log[n-1].Readings[i]
	r.ID = id
	return r, true
}

// Aim is what counts as right, as it was said last; false where nothing was.
func (b Book) Aim() (Aim, bool) {
	for i := len(b.log) - 1; i >= 0; i-- {
		if e := b.log[i]; b.standing[i] && e.Kind == Aimed {
			return *e.Aim, true
		}
	}
	return Aim{}, false
}

// faults lists everything that is wrong with an event behind those that are
// there.
func (b *Book) faults(e Event) meas.Faults {
	f := e.check()
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if e.Kind != Undone && e.Undoes != 0 {
		add("undoes", "Only an entry that takes another back names one")
	}
	switch e.Kind {
	case Undone:
		return append(f, b.undoFaults(e.Undoes)...)
	case Read, Tabled:
		if b.stand+len(e.Readings) > regulate.MaxReadings {
			add("readings", "A clock has at most %d readings; take an earlier table back first", regulate.MaxReadings)
		}
		if e.Kind == Tabled && len(e.Touches) > 0 {
			f = append(f, b.room(len(e.Touches))...)
		}
	case Touched, Stood:
		f = append(f, b.room(1)...)
	case Answered:
		if a := e.Answer; a != nil {
			if _, there := b.Reading(a.Reading); a.Reading != 0 && !there {
				add("answer.reading", "There is no reading %d, or it was taken back", a.Reading)
			}
			if a.Touch != nil {
				f = append(f, b.room(1)...)
			}
		}
	case Began, Passed, Failed:
		if a, ok := b.Aim(); e.Gate != "" && (!ok || !slices.ContainsFunc(a.Gates, func(g Gate) bool { return g.Key == e.Gate })) {
			add("gate", "“%s” is not one of this clock’s gates; say first what counts as right", meas.Clip(e.Gate))
		}
	}
	return f
}

// room is the fault of n touches too many.
func (b *Book) room(n int) meas.Faults {
	if b.touches+n <= regulate.MaxTouches {
		return nil
	}
	return meas.Faults{{Field: "touch", Text: fmt.Sprintf("A clock has at most %d touches; take some back first", regulate.MaxTouches)}}
}

// undoFaults is why an event cannot be taken back, or not be put back.
func (b *Book) undoFaults(n int) meas.Faults {
	if f := ledger.CanUndo(b.log, n); len(f) > 0 {
		return f
	}
	if b.log[n-1].Kind != Undone {
		return nil
	}
	was := *b // what would stand again must have room
	was.standing = slices.Clone(b.standing)
	was.log = slices.Clip(b.log)
	was.take(Event{Entry: ledger.Entry{N: len(b.log) + 1, Undoes: n}, Kind: Undone})
	if was.stand > regulate.MaxReadings || was.touches > regulate.MaxTouches {
		return meas.Faults{{Field: "undoes", Text: "There is no room to put it back; take something else back first"}}
	}
	return nil
}
