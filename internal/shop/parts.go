package shop

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sync"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// partsBook is the kind of log that take-down ledgers are kept in; each goes
// by the UID of its clock.
const partsBook = "parts"

// TakeDown is a clock's file with its take-down ledger. The ledger is shared
// by all who read and must not be changed.
type TakeDown struct {
	File
	Ledger  *parts.Ledger
	Damaged meas.Faults // entries of the log that cannot be, left out
}

// foldedLedgers keeps the ledgers last read, so that a page need not fold a
// long log again. Of one that has grown since, only what is new is read.
type foldedLedgers struct {
	mu   sync.Mutex
	kept map[string]foldedLedger // by the clock's UID
}

type foldedLedger struct {
	entries int
	touched time.Time
	ledger  *parts.Ledger
	damaged meas.Faults
}

// keptLedgers is how many folded ledgers are kept.
const keptLedgers = 16

// find is what is known of a ledger, and whether it is all there is.
func (k *foldedLedgers) find(l store.Log) (foldedLedger, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	f, ok := k.kept[l.Name]
	return f, ok && f.entries == l.Entries && f.touched.Equal(l.Touched)
}

func (k *foldedLedgers) keep(l store.Log, f foldedLedger) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil || len(k.kept) >= keptLedgers {
		k.kept = map[string]foldedLedger{}
	}
	f.entries, f.touched = l.Entries, l.Touched
	k.kept[l.Name] = f
}

// TakeDown loads a clock's file with its take-down ledger.
func (s *Shop) TakeDown(ctx context.Context, clock int64) (TakeDown, error) {
	var t TakeDown
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if t.Clock, err = tx.Clock(clock); err != nil {
			return err
		}
		if t.Survey, err = tx.Survey(clock); err != nil {
			return err
		}
		f, err := s.ledgerIn(tx, t.Clock)
		t.Ledger, t.Damaged = f.ledger, f.damaged
		return err
	})
	return t, explain(err)
}

// ledgerIn is the take-down ledger of a clock, as it was read before where
// nothing has come since.
func (s *Shop) ledgerIn(tx *store.Tx, c job.Clock) (foldedLedger, error) {
	l, err := tx.Log(partsBook, c.UID)
	if err != nil {
		return foldedLedger{}, err
	}
	f, ok := s.folded.find(l)
	if !ok {
		if f, err = fold(tx, l, f); err != nil {
			return f, err
		}
		s.folded.keep(l, f)
	}
	return f, nil
}

// fold reads a ledger of which an earlier state may be known; entries that
// cannot be do not hide the others.
func fold(tx *store.Tx, l store.Log, known foldedLedger) (foldedLedger, error) {
	var was []parts.Event
	if known.ledger != nil && len(known.damaged) == 0 {
		was = known.ledger.Log()
	}
	log, err := grown(tx, l, was)
	if err != nil {
		return foldedLedger{}, err
	}
	made, err := parts.Fold(log)
	var damaged meas.Faults
	if err != nil && !errors.As(err, &damaged) {
		return foldedLedger{}, err
	}
	return foldedLedger{ledger: &made, damaged: damaged}, nil
}

// grown is the whole log. What is known of it is not read again where its last
// entry is still what it was: a log only grows.
func grown[E ledger.Logged](tx *store.Tx, l store.Log, was []E) ([]E, error) {
	if last := len(was) - 1; last >= 0 && len(was) <= l.Entries {
		more, err := store.EntriesFrom[E](tx, l, last+1)
		if err == nil && len(more) > 0 && reflect.DeepEqual(more[0], was[last]) {
			return append(slices.Clip(was), more[1:]...), nil
		}
	}
	return store.Entries[E](tx, l)
}

// PartsChange changes a ledger: it adds events to l, each with the head, and
// answers them; with faults nothing is kept.
type PartsChange func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults)

// ChangeParts changes a clock's take-down ledger, all of it or nothing.
func (s *Shop) ChangeParts(ctx context.Context, by string, clock int64, why string, change PartsChange) ([]parts.Event, error) {
	var added []parts.Event
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		added, err = s.changeParts(tx, by, c, why, change)
		return err
	})
	return added, explain(err)
}

// changeParts does it inside a change of the store, for what must be kept
// together with it.
func (s *Shop) changeParts(tx *store.Tx, by string, c job.Clock, why string, change PartsChange) ([]parts.Event, error) {
	l, err := tx.Log(partsBook, c.UID)
	if err != nil {
		return nil, err
	}
	known, _ := s.folded.find(l)
	f, err := fold(tx, l, known)
	if err != nil {
		return nil, err
	}
	if len(f.damaged) > 0 {
		return nil, &Problem{Code: Storage, Message: "The take-down ledger of this clock is damaged and cannot be written on.", Hint: "It can be read. Restore the shop from a backup, or bring the clock in again from its file.", cause: f.damaged}
	}
	added, faults := change(f.ledger, ledger.Entry{When: job.Instant(s.now()), Who: by, Why: why})
	if len(faults) > 0 {
		return nil, &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: faults}
	}
	l.ClockID = c.ID
	if _, err = store.Append(tx, l, added...); err != nil || len(added) == 0 {
		return added, err
	}
	return added, tx.IndexParts(c.ID, f.ledger.Parts())
}

// addEvent is the change of one event.
func addEvent(e parts.Event) PartsChange {
	return func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		e.Entry = ledger.Entry{When: head.When, Who: head.Who, Why: head.Why, Undoes: e.Undoes}
		done, faults := l.Add(e)
		return []parts.Event{done}, faults
	}
}

// RecordPart puts a part into the ledger. shown is the number the person was
// told and may have written on a bag: where it was given out meanwhile the
// problem is a Conflict that says what has it, and nothing is kept. With
// shown "" the next number under the parent is taken.
func (s *Shop) RecordPart(ctx context.Context, by string, clock int64, parent, shown parts.Number, e parts.Event, why string) (parts.Event, error) {
	e.Kind, e.Part = parts.Recorded, shown
	if shown == "" {
		e.Part = parent + "."
	}
	var taken *Problem
	added, err := s.ChangeParts(ctx, by, clock, why, func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		if next := l.Next(parent); shown != "" && next != shown {
			taken = numberTaken(l, shown, next, e)
			return nil, meas.Faults{{Field: "number", Text: taken.Message}}
		}
		return addEvent(e)(l, head)
	})
	switch {
	case taken != nil:
		return parts.Event{}, taken
	case err != nil:
		return parts.Event{}, err
	}
	return added[0], nil
}

// numberTaken sets what has the number beside what was to have it.
func numberTaken(l *parts.Ledger, shown, next parts.Number, e parts.Event) *Problem {
	p := &Problem{Code: Conflict, Message: fmt.Sprintf("The number %s was given out meanwhile; this part would be %s.", shown, next), Hint: "If it is the same part, it is in the ledger and nothing is left to do. If not, change the number on its bag and save."}
	p.Fields = meas.Faults{{Field: "number", Text: p.Message}}
	was, there := l.Find(shown)
	if !there {
		return p
	}
	for _, d := range [][3]string{{"part", was.Name, e.Detail.Name}, {"pieces", fmt.Sprint(was.Count), fmt.Sprint(e.Count)}, {"place", was.Place, e.Detail.Place}} {
		p.Differ = append(p.Differ, job.Change{Field: d[0], Before: d[1], After: d[2]})
	}
	return p
}

// ChangePart adds one event of a part that is in the ledger: described,
// moved, split, recounted or explained. A part that stands in a bath whose
// batch is over, or cannot be read, may be moved out of it by hand.
func (s *Shop) ChangePart(ctx context.Context, by string, clock int64, e parts.Event, why string) (parts.Event, error) {
	var added []parts.Event
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		var unread error
		added, err = s.changeParts(tx, by, c, why, func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
			if p, ok := l.Find(e.Part); ok && e.Kind == parts.Moved && p.State == parts.InBath {
				var held bool
				if held, unread = holds(tx, p); !held {
					e.Batch = p.Batch
				}
			}
			return addEvent(e)(l, head)
		})
		if unread != nil {
			return unread
		}
		return err
	})
	if err != nil {
		return parts.Event{}, explain(err)
	}
	return added[0], nil
}

// DescribePart writes anew what is known of a part. before is what the
// person saw; where it was described otherwise meanwhile the problem is a
// Conflict with both.
func (s *Shop) DescribePart(ctx context.Context, by string, clock int64, n parts.Number, before, after parts.Detail) error {
	t, err := s.TakeDown(ctx, clock)
	if err != nil {
		return err
	}
	_, err = s.ChangePart(ctx, by, clock, parts.Event{Kind: parts.Described, Part: n, Before: &before, Detail: &after}, "")
	p, ok := t.Ledger.Find(n)
	if err == nil || !ok || AsProblem(err).Code != BadInput {
		return err
	}
	if differ := DetailsDiffer(before, p.Detail); len(differ) == 0 {
		return err
	}
	return meanwhile(err, DetailsDiffer(p.Detail, after))
}

// MoveParts moves parts at once, all or none.
func (s *Shop) MoveParts(ctx context.Context, by string, clock int64, to parts.State, why string, numbers ...parts.Number) error {
	if len(numbers) == 0 {
		return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: meas.Faults{{Field: "part", Text: "Tick the parts that are to be moved"}}}
	}
	_, err := s.ChangeParts(ctx, by, clock, why, func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		return l.MoveAll(head, to, "", numbers...)
	})
	return err
}

// UndoParts takes entries of the ledger back, the last first: all or none.
func (s *Shop) UndoParts(ctx context.Context, by string, clock int64, entries ...int) error {
	_, err := s.ChangeParts(ctx, by, clock, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		var out []parts.Event
		for i := len(entries) - 1; i >= 0; i-- {
			head.Undoes = entries[i]
			done, faults := l.Add(parts.Event{Entry: head})
			if len(faults) > 0 {
				return nil, faults
			}
			out = append(out, done)
		}
		return out, nil
	})
	return err
}

// ExplainParts writes down why parts are where they are, for the close-out.
func (s *Shop) ExplainParts(ctx context.Context, by string, clock int64, reasons map[parts.Number]string) error {
	_, err := s.ChangeParts(ctx, by, clock, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		var out []parts.Event
		var faults meas.Faults
		for _, p := range l.Parts() {
			why := reasons[p.Number]
			if why == "" || why == p.Reason {
				continue
			}
			head.Why = why
			done, f := l.Add(parts.Event{Entry: head, Kind: parts.Explained, Part: p.Number})
			for i := range f {
				f[i].Field = "why-" + string(p.Number)
			}
			faults = append(faults, f...)
			out = append(out, done)
		}
		return out, faults
	})
	return err
}

// readyForTrial refuses a clock of which a part is neither accounted for nor
// explained.
func readyForTrial(tx *store.Tx, c job.Clock) error {
	l, err := tx.Log(partsBook, c.UID)
	if err != nil {
		return err
	}
	f, err := fold(tx, l, foldedLedger{})
	if err != nil {
		return err
	}
	ready, findings := f.ledger.ReadyForTrial()
	if ready {
		return nil
	}
	p := &Problem{Code: BadInput, Message: "The clock cannot go on trial yet: what came off is not all accounted for.", Hint: "In the close-out, put each part back, lay it aside for the owner, or write why it is where it is."}
	for _, x := range findings {
		if x.Level == meas.Clash {
			p.Fields = append(p.Fields, meas.Fault{Field: "stage", Text: x.Text})
		}
	}
	return p
}
