package parts

import (
	"fmt"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// maxCount is the most pieces of one part.
const maxCount = 9999

// checkEvent lists what is wrong with an event before it is tried.
func (l *Ledger) checkEvent(e Event) meas.Faults {
	f := e.check()
	if e.Kind == Undone {
		f = append(f, ledger.CanUndo(l.log, e.Undoes)...)
		if len(f) > 0 {
			return f
		}
	}
	if text := l.refusesBath(e); text != "" {
		return append(f, meas.Fault{Field: e.field(), Text: text})
	}
	if n := e.newNumber(); n != "" && l.used[n] {
		f = append(f, meas.Fault{Field: "part", Text: givenOut(n)})
	}
	return f
}

// field is what a refusal of the event as a whole stands beside.
func (e Event) field() string {
	if e.Kind == Undone {
		return "undoes"
	}
	return "part"
}

// refusesBath is why an event that carries no batch, or another, cannot be:
// a batch alone brings a part into its bath and out of it, and takes its own
// moves back. Logs written before this was so are still read.
func (l *Ledger) refusesBath(e Event) string {
	p, known := l.parts[e.Part]
	switch {
	case e.Kind == Undone && l.BatchOf(e.Undoes) != e.Batch:
		return fmt.Sprintf("Entry %d (%s) was made by a bath; take it back on the page of that bath", e.Undoes, l.log[e.Undoes-1].words())
	case e.Kind != Moved || !known:
	case e.To == InBath && e.Batch == "":
		return fmt.Sprintf("%s goes into a bath with a batch only; begin one under Baths", e.Part)
	case p.State == InBath && p.Batch != e.Batch:
		return fmt.Sprintf("%s is in the bath with a batch, which brings it out; on the page of that bath tick that it is dry, or give the batch up. If that batch is over, move the part on its own page", e.Part)
	}
	return ""
}

// check lists what is wrong with an event by itself.
func (e Event) check() meas.Faults {
	f := ledger.CheckHead(e.Entry)
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if e.Kind == Undone {
		return f
	}
	if !e.Part.Valid() {
		add("part", "%s", badNumber)
	}
	if e.Kind == Split && !e.Into.Valid() {
		add("into", "%s", badNumber)
	}
	if e.Detail != nil {
		f = append(f, e.Detail.check()...)
	}
	if (e.Kind == Recorded || e.Kind == Described) && e.Detail == nil {
		add("detail", "Say what the part is, if only with a photograph and no name")
	}
	if (e.Kind == Recorded || e.Kind == Split) && (e.Count < 1 || e.Count > maxCount) || e.Kind == Recounted && (e.Count < 0 || e.Count > maxCount) {
		add("count", "The number of pieces is a whole number from 1 to %d; %d was entered", maxCount, e.Count)
	}
	if e.needsWhy() && strings.TrimSpace(e.Why) == "" {
		add("why", "Write why")
	}
	return f
}

// needsWhy tells whether the event must say why.
func (e Event) needsWhy() bool {
	switch e.Kind {
	case Recounted, Explained:
		return true
	case Moved, Recorded:
		m, _ := FindMove(e.From, e.To)
		return m.NeedsWhy
	}
	return false
}

// refuses is the sentence why an event cannot be, "" where it can.
func (l *Ledger) refuses(e Event) string {
	p, known := l.parts[e.Part]
	if e.Kind == Recorded {
		return l.refusesRecord(e, known)
	}
	if !known {
		return fmt.Sprintf("There is no part %s; record it first", e.Part)
	}
	switch e.Kind {
	case Described:
		switch {
		case e.Before == nil || !e.Before.same(p.Detail):
			return fmt.Sprintf("%s was described anew in between; look at it again", e.Part)
		case e.Detail.same(p.Detail):
			return fmt.Sprintf("Nothing of %s would change", e.Part)
		}
	case Moved:
		return p.refusesMove(e)
	case Split:
		if e.Count >= p.Count {
			return fmt.Sprintf("%s has %s; fewer than that can be parted from it, not %d", e.Part, pieces(p.Count), e.Count)
		}
		if !l.has(e.Into.Parent()) {
			return fmt.Sprintf("%s would be a part of %s, which is not in the ledger", e.Into, e.Into.Parent())
		}
	case Recounted:
		switch {
		case e.Was != p.Count:
			return fmt.Sprintf("%s had %s when this was counted, not %d", e.Part, pieces(p.Count), e.Was)
		case e.Count == p.Count:
			return fmt.Sprintf("%s has %s already", e.Part, pieces(p.Count))
		}
	case Explained:
	default:
		return fmt.Sprintf("“%s” is nothing that can be done with a part", e.Kind)
	}
	return ""
}

func (l *Ledger) refusesRecord(e Event, known bool) string {
	_, ok := FindMove("", e.To)
	switch {
	case known:
		return givenOut(e.Part)
	case !ok:
		return fmt.Sprintf("A part is recorded as %s, not as “%s”", State("").nextWords(), e.To.Words())
	case !l.has(e.Part.Parent()):
		return fmt.Sprintf("%s would be a part of %s, which is not in the ledger", e.Part, e.Part.Parent())
	}
	return ""
}

func (l *Ledger) has(n Number) bool { return n == "" || l.parts[n] != nil }

// refusesMove is why a part cannot move so.
func (p Part) refusesMove(e Event) string {
	if e.From != p.State {
		return fmt.Sprintf("%s is %s, not %s", p.Number, p.State.Words(), e.From.Words())
	}
	if !e.To.Known() {
		return fmt.Sprintf("“%s” is no state of a part", e.To)
	}
	if _, ok := FindMove(p.State, e.To); !ok {
		return fmt.Sprintf("%s is %s and cannot go to “%s” from there; it may go to: %s", p.Number, p.State.Words(), e.To.Words(), p.State.nextWords())
	}
	return ""
}

func pieces(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return fmt.Sprintf("%d pieces", n)
}

// apply does what an event says; the answer is why it cannot, and then
// nothing was done.
func (l *Ledger) apply(e Event) string {
	if text := l.refuses(e); text != "" {
		return text
	}
	if l.parts == nil {
		l.parts = map[Number]*Part{}
	}
	p := l.parts[e.Part]
	switch e.Kind {
	case Recorded:
		l.parts[e.Part] = &Part{Number: e.Part, Detail: *e.Detail, Count: e.Count, State: e.To, Since: e.When, CameOff: e.To == Off, New: e.To == Mended, Order: e.N}
		l.recorded += e.Count
	case Described:
		p.Detail = *e.Detail
	case Moved:
		p.State, p.Since, p.Reason = e.To, e.When, ""
		p.CameOff = p.CameOff || e.From == OnClock
		if e.To == InBath {
			p.Batch = e.Batch
		}
		if e.To.accounted() {
			p.Reason = e.Why
		}
	case Split:
		q := *p
		q.Number, q.Count, q.Order = e.Into, e.Count, e.N
		if e.Detail != nil {
			q.Detail = *e.Detail
		}
		p.Count -= e.Count
		l.parts[e.Into] = &q
	case Recounted:
		l.recount += e.Count - p.Count
		p.Count = e.Count
	case Explained:
		p.Reason = e.Why
	}
	return ""
}

// Tally is the ledger's sum of pieces: what was recorded and what recounting
// changed make what there is, state by state.
type Tally struct {
	Recorded  int           // pieces recorded
	Recounted int           // more by recounting; negative: fewer
	Now       map[State]int // pieces in each state
}

// Holds tells whether the sum comes out.
func (t Tally) Holds() bool {
	n := 0
	for _, c := range t.Now {
		n += c
	}
	return n == t.Recorded+t.Recounted
}

// Tally counts the pieces.
func (l *Ledger) Tally() Tally {
	t := Tally{Recorded: l.recorded, Recounted: l.recount, Now: map[State]int{}}
	for _, p := range l.parts {
		t.Now[p.State] += p.Count
	}
	return t
}
