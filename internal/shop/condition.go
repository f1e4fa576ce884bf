package shop

import (
	"context"
	"errors"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/craft/clean"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// conditionBook is the kind of log that observations are kept in; each goes by
// the UID of its clock.
const conditionBook = "condition"

// Condition is a clock's file with its state area by area.
type Condition struct {
	File
	Record  condition.Record
	Photos  map[string][]picture.Photo // by area, the last received first
	Damaged meas.Faults                // entries of the log that cannot be, left out
}

// areaPhotos is how many photographs that name their area are looked at.
const areaPhotos = 300

// Condition loads a clock's file with its state area by area.
func (s *Shop) Condition(ctx context.Context, clock int64) (Condition, error) {
	c := Condition{Photos: map[string][]picture.Photo{}}
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if c.Clock, err = tx.Clock(clock); err != nil {
			return err
		}
		if c.Survey, err = tx.Survey(clock); err != nil {
			return err
		}
		if _, c.Record, c.Damaged, err = readCondition(tx, c.Clock); err != nil {
			return err
		}
		shots, _, err := tx.Photos(store.PhotoPlace{Clock: clock, Areas: true}, 0, areaPhotos)
		for _, p := range shots {
			if a, ok := condition.FindArea(p.Area); ok {
				c.Photos[a] = append(c.Photos[a], p)
			}
		}
		return err
	})
	return c, explain(err)
}

func readCondition(tx *store.Tx, c job.Clock) (l store.Log, r condition.Record, damaged meas.Faults, err error) {
	if l, err = tx.Log(conditionBook, c.UID); err != nil {
		return l, r, nil, err
	}
	l.ClockID = c.ID
	log, err := store.Entries[condition.Event](tx, l)
	if err != nil {
		return l, r, nil, err
	}
	if r, err = condition.Fold(log); err != nil && !errors.As(err, &damaged) {
		return l, r, nil, err
	}
	return l, r, damaged, nil
}

// Observe writes an observation down. read is how many entries the person had
// seen: where another has written of the same area since, the problem is a
// Conflict with both, and nothing is kept.
func (s *Shop) Observe(ctx context.Context, by string, clock int64, read int, o condition.Observation) error {
	return s.changeCondition(ctx, by, clock, func(r *condition.Record, head ledger.Entry) (condition.Event, error) {
		for _, e := range r.Of(o.Area) {
			if e.N > read {
				return condition.Event{}, observedMeanwhile(e, o)
			}
		}
		done, faults := r.Add(condition.Event{Entry: head, Kind: condition.Noted, Observation: o})
		if len(faults) > 0 {
			return done, badInput(faults)
		}
		return done, nil
	})
}

// observedMeanwhile sets what another wrote beside what was to be written.
func observedMeanwhile(e condition.Event, o condition.Observation) *Problem {
	p := &Problem{Code: Conflict, Message: e.Who + " has written of this area meanwhile.", Hint: "Save again where both are to stand."}
	for _, d := range [][3]string{{"seen", e.Seen, o.Seen}, {"thought", e.Thought, o.Thought}, {"how bad", string(e.Severity), string(o.Severity)}, {"day", e.Day, o.Day}} {
		if d[1] != d[2] {
			p.Differ = append(p.Differ, job.Change{Field: d[0], Before: d[1], After: d[2]})
		}
	}
	if len(p.Differ) == 0 { // the same twice: a button pressed again
		p.Message, p.Hint = "This is written down already.", "Nothing is left to do."
	}
	return p
}

// UndoObservation takes an observation back; it stays in the log.
func (s *Shop) UndoObservation(ctx context.Context, by string, clock int64, n int) error {
	return s.changeCondition(ctx, by, clock, func(r *condition.Record, head ledger.Entry) (condition.Event, error) {
		head.Undoes = n
		done, faults := r.Add(condition.Event{Entry: head, Kind: condition.Undone})
		if len(faults) > 0 {
			return done, badInput(faults)
		}
		return done, nil
	})
}

func (s *Shop) changeCondition(ctx context.Context, by string, clock int64, change func(*condition.Record, ledger.Entry) (condition.Event, error)) error {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		l, r, damaged, err := readCondition(tx, c)
		if err != nil {
			return err
		}
		if len(damaged) > 0 {
			return damagedLog("condition", damaged)
		}
		e, err := change(&r, ledger.Entry{When: job.Instant(s.now()), Who: by})
		if err != nil {
			return err
		}
		_, err = store.Append(tx, l, e)
		return err
	})
	return explain(err)
}

// damagedLog is why a log is not written on.
func damagedLog(what string, damaged meas.Faults) *Problem {
	return &Problem{Code: Storage, Message: "The log of the " + what + " is damaged and cannot be written on.", Hint: "It can be read. Restore the shop from a backup.", cause: damaged}
}

// Cautions lists what can hurt on a clock, with the areas where it was found.
func (s *Shop) Cautions(ctx context.Context, clock int64) ([]condition.AreaHazard, error) {
	var r condition.Record
	err := s.store.View(ctx, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		_, r, _, err = readCondition(tx, c)
		return err
	})
	return r.AllHazards(), explain(err)
}

// PartHazards lists the cautions that go with a part: those of its material,
// and those of the area of the clock that it belongs to.
func (s *Shop) PartHazards(ctx context.Context, t TakeDown, n parts.Number) ([]clean.Hazard, error) {
	var r condition.Record
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		_, r, _, err = readCondition(tx, t.Clock)
		return err
	})
	if err != nil {
		return nil, explain(err)
	}
	return hazardsOfPart(t.Ledger, r, n), nil
}

// LedgerHazards lists the cautions of every part of a ledger that has any.
func (s *Shop) LedgerHazards(ctx context.Context, t TakeDown) (map[parts.Number][]clean.Hazard, error) {
	out := map[parts.Number][]clean.Hazard{}
	err := s.store.View(ctx, func(tx *store.Tx) error {
		_, r, _, err := readCondition(tx, t.Clock)
		for _, p := range t.Ledger.Parts() {
			if h := hazardsOfPart(t.Ledger, r, p.Number); len(h) > 0 {
				out[p.Number] = h
			}
		}
		return err
	})
	return out, explain(err)
}

func hazardsOfPart(l *parts.Ledger, found condition.Record, n parts.Number) []clean.Hazard {
	p, _ := l.Find(n)
	out := p.Hazards()
	have := map[string]bool{}
	for _, h := range out {
		have[h.Key] = true
	}
	for _, h := range found.Hazards(condition.AreaOfPart(l, n)) {
		if !have[h.Key] {
			out = append(out, h)
		}
	}
	return out
}
