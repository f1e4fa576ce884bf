package shop

import (
	"context"
	"errors"
	"reflect"
	"strconv"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// trialBook is the kind of log that a clock's time on trial is kept in; each
// goes by the UID of its clock.
const trialBook = "trial"

// Trial is a clock's file with its time on trial and what follows from it.
// Book, Query, Answer and Questions are shared by all who read and must not be
// changed.
type Trial struct {
	File
	Book      *trial.Book
	Query     *regulate.Query            // what stands, with what the survey knows of the clock
	Answer    *regulate.Answer           // for a moment at most ten minutes ago
	Unsolved  meas.Faults                // why there is no answer
	Questions []regulate.Question        // what is asked and not settled
	Damaged   meas.Faults                // entries of the log that cannot be, left out
	Goes      meas.Result[unit.Duration] // how long it goes wound up, by the survey's drive
}

// Trial loads a clock's file with its time on trial.
func (s *Shop) Trial(ctx context.Context, clock int64) (Trial, error) {
	return s.trialOf(ctx, clock, freshTrial)
}

// trialOf loads it with what was reckoned at most oldest ago.
func (s *Shop) trialOf(ctx context.Context, clock int64, oldest time.Duration) (Trial, error) {
	var t Trial
	var l store.Log
	var log []trial.Event
	var k keptTrial
	var kept bool
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if t.Clock, err = tx.Clock(clock); err != nil {
			return err
		}
		if t.Survey, err = tx.Survey(clock); err != nil {
			return err
		}
		if l, err = tx.Log(trialBook, t.Clock.UID); err != nil {
			return err
		}
		if k, kept = s.trials.find(l, versionsOf(t.Survey), s.now(), oldest); !kept {
			log, err = grown(tx, l, s.trials.known(l))
		}
		return err
	})
	if err == nil && !kept { // outside of the look, which may take long
		if k, err = s.reckonTrial(ctx, log, t.Survey); err == nil {
			s.trials.keep(l, versionsOf(t.Survey), k)
		}
	}
	if err != nil {
		return Trial{}, explain(err)
	}
	t.Book, t.Answer, t.Query, t.Unsolved, t.Questions, t.Damaged, t.Goes = k.book, k.answer, &k.answer.Query, k.unsolved, k.questions, k.damaged, k.goes
	return t, nil
}

// AddTrial writes events at the end of a clock's trial, all or none of them,
// and gives them back numbered. seen is how many entries the person had seen:
// where one of these says what another wrote since, or the gates were moved or
// their aim changed meanwhile, the problem is a Conflict and nothing is kept;
// readings, touches and the air only add up. Of an instant that is the
// computer's (Host) it is written down how its clock is kept, and by how much it was
// set since the entry before.
func (s *Shop) AddTrial(ctx context.Context, by string, clock int64, seen int, events ...trial.Event) ([]trial.Event, error) {
	var out []trial.Event
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		l, b, damaged, err := s.readTrialLog(tx, c)
		if err != nil {
			return err
		}
		if len(damaged) > 0 {
			return damagedLog("trial", damaged)
		}
		if p := triedMeanwhile(b, seen, by, events); p != nil {
			return p
		}
		out = nil
		now := s.now()
		set, told := s.trials.set(l.Name, now), false
		for _, e := range events {
			e.When, e.Who = job.Instant(now), by
			if e.Host != nil && e.Host.From != trial.ByTyping {
				e.Host = hostNow(ctx, *e.Host, set)
				set, told = 0, true
			}
			done, faults := b.Add(e)
			if len(faults) > 0 {
				return badInput(faults)
			}
			out = append(out, done)
		}
		if _, err = store.Append(tx, l, out...); err != nil {
			return err
		}
		if told {
			s.trials.wrote(l.Name, now)
		}
		return nil
	})
	return out, explain(err)
}

func (s *Shop) readTrialLog(tx *store.Tx, c job.Clock) (l store.Log, b trial.Book, damaged meas.Faults, err error) {
	if l, err = tx.Log(trialBook, c.UID); err != nil {
		return l, b, nil, err
	}
	l.ClockID = c.ID
	log, err := grown(tx, l, s.trials.known(l))
	if err != nil {
		return l, b, nil, err
	}
	if b, err = trial.Fold(log); err != nil && !errors.As(err, &damaged) {
		return l, b, nil, err
	}
	return l, b, damaged, nil
}

// triedMeanwhile is the conflict of what is to be written with what was
// written since, nil where there is none.
func triedMeanwhile(b trial.Book, seen int, by string, events []trial.Event) *Problem {
	for _, was := range b.Log()[min(max(0, seen), b.Len()):] {
		if !b.Stands(was.N) {
			continue
		}
		for _, e := range events {
			switch {
			case saysTheSame(was, e):
				return &Problem{Code: Conflict, Message: "This is written down already.", Hint: "It is entry " + strconv.Itoa(was.N) + ", by " + was.Who + ". Nothing is left to do."}
			case !excludes(was, e):
			case was.Who == by:
				return &Problem{Code: Conflict, Message: "You have written of this meanwhile, in another window.", Hint: "Look at what stands, and save again where yours is still right."}
			default:
				return &Problem{Code: Conflict, Message: was.Who + " has written of this meanwhile.", Hint: "Look at what stands, and save again where yours is still right."}
			}
		}
	}
	return nil
}

// saysTheSame tells whether two events say the same, whoever wrote them when.
func saysTheSame(a, b trial.Event) bool {
	if a.Kind != b.Kind || a.Kind == trial.Undone {
		return false
	}
	a.Entry, b.Entry = ledger.Entry{Why: a.Why}, ledger.Entry{Why: b.Why}
	a.Host, b.Host = nil, nil
	return reflect.DeepEqual(a, b)
}

// excludes tells whether what was written makes the other doubtful: both
// answer the same question, say what is right, or move the gates.
func excludes(was, e trial.Event) bool {
	gates := func(k trial.Kind) bool {
		return k == trial.Aimed || k == trial.Began || k == trial.Passed || k == trial.Failed
	}
	if was.Kind == trial.Answered && e.Kind == trial.Answered && e.Answer != nil {
		x, y := was.Answer, e.Answer
		return x.About == y.About && x.Reading == y.Reading && x.From.Equal(y.From)
	}
	return gates(was.Kind) && gates(e.Kind)
}
