package shop

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// bathBook is the kind of log that cleaning batches are kept in, each under a
// random name.
const bathBook = "bath"

// BathAsk is a batch as it is asked for.
type BathAsk struct {
	Query     clean.Query // without its pieces: they are taken from the ledger
	Parts     []parts.Number
	Jar       string            // which bath it is, in words
	Overruled map[string]string // by the code of a refusal: why it is done all the same
}

// Bath is a batch with the clock whose parts are in it, as it stands now.
type Bath struct {
	bath.Batch
	ID      string
	Clock   job.Clock
	Entries int           // of its log: what a change says it has seen
	Remains time.Duration // how long the parts may stay in; negative is overdue
	Ringing bool          // the time is over and the parts are in
	Damaged string        // why its log cannot be read, "" where it can; then nothing else of the batch is known
	cause   error         // of the damage
}

// Next is the step that is to be ticked next; false where all are.
func (b Bath) Next() (clean.Step, bool) {
	if open := b.Open(); len(open) > 0 && !b.Ended() {
		return open[0], true
	}
	return clean.Step{}, false
}

// Bathable lists the parts of a ledger that can go into a bath.
func Bathable(l *parts.Ledger) []parts.Part {
	return slices.DeleteFunc(slices.Clone(l.Parts()), func(p parts.Part) bool {
		_, ok := parts.FindMove(p.State, parts.InBath)
		return !ok
	})
}

// JudgeBath tells whether parts of a clock may go into a bath; nothing is
// kept. The error is meas.Faults with every mistake in what was typed.
func (s *Shop) JudgeBath(ctx context.Context, clock int64, ask BathAsk) (clean.Answer, error) {
	t, err := s.TakeDown(ctx, clock)
	if err != nil {
		return clean.Answer{}, err
	}
	var found condition.Record
	if err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		_, found, _, err = readCondition(tx, t.Clock)
		return err
	}); err != nil {
		return clean.Answer{}, explain(err)
	}
	ask.Query.Pieces = bathed(t.Ledger, t.Clock.Number, found, ask.Parts)
	a, err := clean.Solve(ask.Query)
	if len(ask.Parts) == 0 {
		err = append(faultsIn(err), noParts())
	}
	return a, err
}

// bathed is parts as a bath judges them: what was found in a part's area of
// the clock, and no liquid may touch, is held to be on the part.
func bathed(l *parts.Ledger, clock string, found condition.Record, numbers []parts.Number) []clean.Piece {
	carries := map[string]clean.Material{clean.RadiumHazard: clean.Radium, clean.IvoryHazard: clean.Ivory}
	var out []clean.Piece
	for _, n := range numbers {
		for _, p := range l.Pieces(clock, n) {
			p.Materials = slices.Clone(p.Materials)
			for _, h := range found.Hazards(condition.AreaOfPart(l, n)) {
				if m, ok := carries[h.Key]; ok && !slices.Contains(p.Materials, m) {
					p.Materials = append(p.Materials, m)
				}
			}
			out = append(out, p)
		}
	}
	return out
}

func noParts() meas.Fault {
	return meas.Fault{Field: "part", Text: "Tick the parts that go into this bath"}
}

// faultsIn is the mistakes that an error carries.
func faultsIn(err error) meas.Faults {
	if err == nil {
		return nil
	}
	return AsProblem(err).Fields
}

// BeginBath judges a batch and, where nothing forbids it, begins it now: its
// parts are in the bath in the same change of the book. The answer tells why
// where it is refused.
func (s *Shop) BeginBath(ctx context.Context, by string, clock int64, ask BathAsk) (id string, a clean.Answer, err error) {
	if id, err = newUID(); err != nil {
		return "", a, err
	}
	err = s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		_, found, _, err := readCondition(tx, c)
		if err != nil {
			return err
		}
		var begun bath.Event
		_, err = s.changeParts(tx, by, c, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
			if len(ask.Parts) == 0 {
				return nil, meas.Faults{noParts()}
			}
			ask.Query.Pieces = bathed(l, c.Number, found, ask.Parts)
			var faults meas.Faults
			begun, a, faults = bath.Begin(head, ask.Query, ask.Jar, ask.Overruled)
			moved, f := l.MoveAll(head, parts.InBath, id, ask.Parts...)
			return moved, append(faults, f...)
		})
		if err != nil {
			return err
		}
		_, err = store.Append(tx, store.Log{Book: bathBook, Name: id, ClockID: c.ID, Running: true}, begun)
		return err
	})
	return id, a, explain(err)
}

var errNoBath = &Problem{Code: NotFound, Message: "There is no such batch.", Hint: "The clock’s file lists its baths."}

// Bath loads a batch.
func (s *Shop) Bath(ctx context.Context, id string) (Bath, error) {
	var b Bath
	err := s.store.View(ctx, func(tx *store.Tx) error {
		l, err := tx.Log(bathBook, id)
		if err != nil {
			return err
		}
		b, err = s.bathOf(tx, l)
		return err
	})
	return b, explain(err)
}

// BathChange is what is done with a batch. Seen is the number of entries of
// its log that the person has seen; where it has more the change is refused
// as a Conflict.
type BathChange struct {
	Kind  bath.Kind
	Seen  int
	Step  string        // of Ticked
	Words string        // what was seen, or why
	In    time.Duration // of Moved: the bath ends so long from now
}

// longestBath is the most that an end of a bath is set ahead, in minutes.
const longestBath = 24 * 60

// BathMinutes reads in how many minutes from now a bath is to end. The error
// is a meas.Faults.
func BathMinutes(typed string) (time.Duration, error) {
	n, err := strconv.Atoi(strings.TrimSpace(typed))
	if err != nil || n < 0 || n > longestBath {
		return 0, meas.Faults{{Field: "minutes", Text: fmt.Sprintf("Enter whole minutes from now, 0 to %d", longestBath)}}
	}
	return time.Duration(n) * time.Minute, nil
}

// ChangeBath ticks, moves, closes or gives up a batch, or (Undone) takes its
// last entry back. The parts follow in the same change of the book.
func (s *Shop) ChangeBath(ctx context.Context, by, id string, change BathChange) (Bath, error) {
	var after Bath
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		l, err := tx.Log(bathBook, id)
		if err != nil {
			return err
		}
		after, err = s.changeBath(tx, by, l, change)
		return err
	})
	return after, explain(err)
}

// changeBath does it inside a change of the store, for what must be kept
// together with it.
func (s *Shop) changeBath(tx *store.Tx, by string, l store.Log, change BathChange) (Bath, error) {
	b, err := s.bathOf(tx, l)
	if err != nil {
		return b, err
	}
	if change.Seen != l.Entries {
		return b, &store.LogConflictError{Book: l.Book, Name: l.Name, Read: change.Seen, Stands: l.Entries}
	}
	e, err := s.bathEvent(b, by, change)
	if err != nil {
		return b, err
	}
	if faults := b.Add(e); len(faults) > 0 {
		return b, badBath(change.Kind, faults)
	}
	log := b.Log()
	e = log[len(log)-1]
	if err := s.partsFollow(tx, by, b, e); err != nil {
		return b, err
	}
	l.Running = !b.Ended()
	if l, err = store.Append(tx, l, e); err != nil {
		return b, err
	}
	return s.bathOf(tx, l)
}

// bathEvent is the entry of a change. The instant is never before that of the
// last entry: a clock on the wall that was set back stops nobody.
func (s *Shop) bathEvent(b Bath, by string, change BathChange) (bath.Event, error) {
	log := b.Log()
	when := job.Instant(s.now())
	for _, e := range log {
		if e.When.After(when) {
			when = e.When
		}
	}
	e := bath.Event{Entry: ledger.Entry{When: when, Who: by, Why: change.Words}, Kind: change.Kind, Step: change.Step}
	switch change.Kind {
	case bath.Begun:
		return e, &Problem{Code: BadInput, Message: "The batch was begun before."}
	case bath.Moved:
		e.Until = when.Add(change.In)
	case bath.Undone:
		n, ok := Undoable(b)
		if !ok {
			return e, &Problem{Code: BadInput, Message: "Nothing of this batch can be taken back.", Hint: "Give it up, or begin another."}
		}
		e.Undoes = n
	}
	return e, nil
}

// Undoable is the entry of a batch that can be taken back: the last that
// stands, where it ticked, moved or closed.
func Undoable(b Bath) (int, bool) {
	log := b.Log()
	standing := ledger.Standing(log)
	for i := len(log) - 1; i >= 0; i-- {
		if standing[i] && log[i].Kind != bath.Undone {
			k := log[i].Kind
			return log[i].N, k == bath.Ticked || k == bath.Moved || k == bath.Closed
		}
	}
	return 0, false
}

// badBath puts a batch's mistakes beside the field of what was tried.
func badBath(kind bath.Kind, faults meas.Faults) error {
	field := map[bath.Kind]string{bath.Ticked: "seen", bath.Moved: "minutes", bath.Abandoned: "why"}[kind]
	out := make(meas.Faults, len(faults))
	for i, f := range faults {
		out[i] = meas.Fault{Field: field, Text: f.Text}
	}
	return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: out}
}

// partsFollow moves the parts with their batch: dry once it is ticked, and
// back where an entry is undone or the batch is given up.
func (s *Shop) partsFollow(tx *store.Tx, by string, b Bath, e bath.Event) error {
	back := parts.State("")
	switch {
	case e.Kind == bath.Abandoned && !dried(b):
		back = parts.InBath
	case e.Kind == bath.Undone:
		undone := b.Log()[e.Undoes-1]
		if to, ok := undone.MovesParts(); ok {
			back = to
		}
	}
	to, moves := e.MovesParts()
	if back == "" && !moves {
		return nil
	}
	_, err := s.changeParts(tx, by, b.Clock, e.Why, func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		if moves {
			return l.MoveAll(head, to, b.ID, inBath(l, b.ID)...)
		}
		return moveBack(l, head, b.ID, back)
	})
	return err
}

func dried(b Bath) bool {
	return slices.ContainsFunc(b.Ticks, func(t bath.Tick) bool { return t.Step == clean.DryStep })
}

// inBath lists the parts that are in a bath with a batch.
func inBath(l *parts.Ledger, id string) []parts.Number {
	var out []parts.Number
	for _, p := range l.Parts() {
		if p.Batch == id && p.State == parts.InBath {
			out = append(out, p.Number)
		}
	}
	return out
}

// InRunningBath tells whether a part is in the bath with a batch under way
// that can be read: then only the batch brings it out.
func (s *Shop) InRunningBath(ctx context.Context, p parts.Part) (held bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) error {
		held, err = holds(tx, p)
		return err
	})
	return held, explain(err)
}

func holds(tx *store.Tx, p parts.Part) (bool, error) {
	if p.State != parts.InBath {
		return false, nil
	}
	l, err := tx.Log(bathBook, p.Batch)
	if err != nil || !l.Running {
		return false, err
	}
	b, err := readBath(tx, l)
	return err == nil && b.Damaged == "" && !b.Ended() && !dried(b), err
}

// moveBack undoes the moves of a batch to a state, the last first.
func moveBack(l *parts.Ledger, head ledger.Entry, id string, to parts.State) ([]parts.Event, meas.Faults) {
	var out []parts.Event
	log := slices.Clone(l.Log())
	standing := ledger.Standing(log)
	for i := len(log) - 1; i >= 0; i-- {
		if !standing[i] || log[i].Kind != parts.Moved || log[i].Batch != id || log[i].To != to {
			continue
		}
		head.Undoes = log[i].N
		e, faults := l.Add(parts.Event{Entry: head, Batch: id})
		if len(faults) > 0 {
			return nil, faults
		}
		out = append(out, e)
	}
	return out, nil
}

// Minutes is a time that is left as people read it: "12 min", "0:40",
// "3 min over".
func Minutes(d time.Duration) string {
	switch {
	case d <= -time.Minute:
		return fmt.Sprintf("%d min over", int(-d/time.Minute))
	case d <= 0:
		return "time is up"
	case d < time.Minute:
		return fmt.Sprintf("%d s", int(d/time.Second))
	}
	return fmt.Sprintf("%d min", int((d+30*time.Second)/time.Minute))
}
