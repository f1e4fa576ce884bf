package parts

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// Part is a part as it stands now.
type Part struct {
	Number Number
	Detail
	Count   int
	State   State
	Since   time.Time // when it came into this state
	CameOff bool      // it was taken off, at whatever time
	New     bool      // it was made new, or bought, and came off nothing
	Batch   string    // the batch of its last bath
	Reason  string    // why it is where it is, while it stays there
	Order   int       // the event that recorded it
}

// LiesSomewhere tells whether the part is loose, so that it is looked for where
// it lies: not on the clock, not in a bath, not used up.
func (p Part) LiesSomewhere() bool {
	switch p.State {
	case OnClock, InBath, BackOn, UsedUp:
		return false
	}
	return true
}

// Ledger is the log of one clock with what follows from it. The zero Ledger
// is an empty one.
type Ledger struct {
	log      []Event
	parts    map[Number]*Part
	used     map[Number]bool // numbers ever given out, undone ones too
	last     map[Number]int  // the greatest place given out under a number
	recorded int             // pieces that came in
	recount  int             // pieces more (or fewer) by recounting
}

// Fold makes a ledger of a log. The error is a meas.Faults with every event
// that cannot be; such events are left out of the ledger that comes with it,
// so that nothing else is hidden.
func Fold(log []Event) (Ledger, error) {
	l := Ledger{}
	faults := ledger.Check(log)
	if len(faults) > 0 {
		return l, faults
	}
	l.log = slices.Clone(log)
	standing := ledger.Standing(l.log)
	for i, e := range l.log {
		if n := e.newNumber(); n != "" {
			if l.used[n] {
				faults = append(faults, meas.Fault{Field: at(i), Text: givenOut(n)})
				continue
			}
			l.use(n)
		}
		if !standing[i] || e.Kind == Undone {
			continue
		}
		text := ""
		if f := e.check(); len(f) > 0 {
			text = f.Error()
		} else {
			text = l.apply(e)
		}
		if text != "" {
			faults = append(faults, meas.Fault{Field: at(i), Text: text})
		}
	}
	if len(faults) > 0 {
		return l, faults
	}
	return l, nil
}

func at(i int) string { return fmt.Sprintf("events[%d]", i) }

func givenOut(n Number) string {
	return fmt.Sprintf("The number %s was given out before; take the next one", n)
}

// newNumber is the number that an event gives out, "" for none.
func (e Event) newNumber() Number {
	switch e.Kind {
	case Recorded:
		return e.Part
	case Split:
		return e.Into
	}
	return ""
}

func (l *Ledger) use(n Number) {
	if l.used == nil {
		l.used, l.last = map[Number]bool{}, map[Number]int{}
	}
	l.used[n] = true
	l.last[n.Parent()] = max(l.last[n.Parent()], n.index())
}

// Log is the events, oldest first. It must not be changed.
func (l *Ledger) Log() []Event { return l.log }

// BatchOf is the batch that made an entry of the log, or the entry that this
// one takes back; "" where it was made by hand.
func (l *Ledger) BatchOf(n int) string {
	for n >= 1 && n <= len(l.log) {
		e := l.log[n-1]
		if e.Batch != "" || e.Kind != Undone {
			return e.Batch
		}
		n = e.Undoes // always an earlier one
	}
	return ""
}

// Next proposes the next number under a part, or at the top with "".
func (l *Ledger) Next(parent Number) Number { return parent.Child(l.last[parent] + 1) }

// Find is a part as it stands; false where there is none of that number.
func (l *Ledger) Find(n Number) (Part, bool) {
	p, ok := l.parts[n]
	if !ok {
		return Part{}, false
	}
	return *p, true
}

// Parts lists the parts by number.
func (l *Ledger) Parts() []Part {
	sorted := slices.SortedFunc(maps.Values(l.parts), func(a, b *Part) int { return Compare(a.Number, b.Number) })
	out := make([]Part, len(sorted))
	for i, p := range sorted {
		out[i] = *p
	}
	return out
}

// InOrder lists the parts in the order in which they were recorded.
func (l *Ledger) InOrder() []Part {
	out := l.Parts()
	slices.SortStableFunc(out, func(a, b Part) int { return a.Order - b.Order })
	return out
}

// Assembled tells whether parts that were recorded on this one have not been
// taken off it.
func (l *Ledger) Assembled(n Number) bool {
	for k, p := range l.parts {
		if k.Under(n) && p.State == OnClock {
			return true
		}
	}
	return false
}

// Add checks an event and puts it at the end of the log. It fills in the
// event's number, what was before where the caller does not say (who says what
// it was learns of a change in between), and, of a part or split without a
// number, the next one. With faults nothing is changed; all of them come at once.
func (l *Ledger) Add(e Event) (Event, meas.Faults) {
	e = l.fill(e)
	if f := l.checkEvent(e); len(f) > 0 {
		return Event{}, f
	}
	if e.Kind == Undone {
		return l.undo(e)
	}
	if text := l.apply(e); text != "" {
		return Event{}, meas.Faults{{Field: "part", Text: text}}
	}
	if n := e.newNumber(); n != "" {
		l.use(n)
	}
	l.log = append(l.log, e)
	return e, nil
}

// fill completes an event with what the ledger knows.
func (l *Ledger) fill(e Event) Event {
	e.N = ledger.Next(l.log)
	if e.Undoes != 0 {
		e.Kind = Undone
	}
	p, known := l.parts[e.Part]
	switch {
	case e.Kind == Recorded && (e.Part == "" || strings.HasSuffix(string(e.Part), ".")):
		e.Part = l.Next(Number(strings.TrimSuffix(string(e.Part), "."))) // "2." is: the next under 2
	case e.Kind == Split && e.Into == "":
		e.Into = l.Next(e.Part.Parent())
	case !known:
	case e.Kind == Moved && e.From == "":
		e.From = p.State
	case e.Kind == Described && e.Before == nil:
		before := p.Detail
		e.Before = &before
	case e.Kind == Recounted:
		e.Was = p.Count
	}
	return e
}

// undo adds an undo if what is left still holds together.
func (l *Ledger) undo(e Event) (Event, meas.Faults) {
	log := append(slices.Clone(l.log), e)
	after, err := Fold(log)
	if err != nil {
		faults := meas.Faults{{Field: "undoes", Text: fmt.Sprintf("Entry %d (%s) cannot be undone: later entries lean on it. Undo these first", e.Undoes, log[e.Undoes-1].words())}}
		leaning, _ := err.(meas.Faults)
		for _, f := range leaning {
			var i int
			if _, err := fmt.Sscanf(f.Field, "events[%d]", &i); err == nil {
				faults = append(faults, meas.Fault{Field: "undoes", Text: fmt.Sprintf("Entry %d: %s", log[i].N, log[i].words())})
			}
		}
		return Event{}, faults
	}
	*l = after
	return e, nil
}

// MoveAll moves several parts at once, all of them or, with faults, none.
func (l *Ledger) MoveAll(head ledger.Entry, to State, batch string, numbers ...Number) ([]Event, meas.Faults) {
	var faults meas.Faults
	seen := map[Number]bool{}
	for _, n := range numbers {
		e := l.fill(Event{Entry: head, Kind: Moved, Part: n, To: to, Batch: batch})
		f := l.checkEvent(e)
		if text := l.refuses(e); len(f) == 0 && text != "" {
			f = meas.Faults{{Field: "part", Text: text}}
		}
		if seen[n] {
			f = append(f, meas.Fault{Field: "part", Text: fmt.Sprintf("%s stands twice", n)})
		}
		seen[n] = true
		faults = append(faults, f...)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	var out []Event
	for _, n := range numbers {
		e, f := l.Add(Event{Entry: head, Kind: Moved, Part: n, To: to, Batch: batch})
		if len(f) > 0 {
			return out, f // cannot be: each was checked and no move touches another part
		}
		out = append(out, e)
	}
	return out, nil
}

// Standing tells for each event of the log whether it stands.
func (l *Ledger) Standing() []bool { return ledger.Standing(l.log) }
