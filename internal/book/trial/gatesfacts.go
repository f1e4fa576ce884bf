package trial

import (
	"slices"

	"seatboard/internal/craft/regulate"
)

// Facts is what a book knows for [Judge]; q is what follows from it
// ([Book.Query]). The moment, what was reckoned and is asked, the beat and
// the promise of the clock's file are left for the asker.
func (b Book) Facts(q regulate.Query) Facts {
	f := Facts{Readings: q.Readings}
	for _, t := range q.Touches {
		if t.ID < 1 || t.ID > len(b.log) || b.log[t.ID-1].Kind != Stood { // a stop stands for itself
			f.Touches = append(f.Touches, t)
		}
	}
	for _, e := range b.Standing() {
		at := e.At
		if at.IsZero() {
			at = e.When
		}
		switch e.Kind {
		case Stood:
			f.Stops = append(f.Stops, *e.Stop)
		case Struck:
			f.Strikes = append(f.Strikes, *e.Strike)
		case Began, Failed, Passed:
			f.Marks = append(f.Marks, Mark{N: e.N, Kind: e.Kind, Gate: e.Gate, At: at, Who: e.Who, Why: e.Why})
		}
	}
	return f
}

// Waived is the entry by which gates were given up with a reason, so that the
// clock could go home without them; false where none was.
func (b Book) Waived() (Event, bool) {
	for _, e := range slices.Backward(b.Standing()) {
		if e.Kind == Aimed {
			return e, e.Why != ""
		}
	}
	return Event{}, false
}

// Unwritten are the entries that begin a gate anew where it began anew and
// nobody wrote that down.
func (g GateStanding) Unwritten() []Event {
	var out []Event
	for _, r := range g.Resets {
		if !r.Written {
			e := OfGate(Failed, g.Gate.Key, r.Words)
			e.At = r.At
			out = append(out, e)
		}
	}
	return out
}
