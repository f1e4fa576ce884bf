package shop

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/work"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// workBook is the kind of log that hours are kept in; each goes by the UID of
// its clock, and that of work which is for no clock yet has no name.
const workBook = "work"

// Work is a stretch of work with where it stands.
type Work struct {
	work.Stretch
	ClockID  int64          // 0 where the work is for no clock yet
	Title    string         // of the clock
	Entry    int            // of the log, that says how it stands: what a change says it has seen
	Question *work.Question // asks for its true end; nil where nothing is asked
}

// Lasted is how long it was, or runs till now.
func (w Work) Lasted(now time.Time) time.Duration {
	if w.Running() {
		return now.Sub(w.Start)
	}
	return w.Length()
}

// Words is what it is for: number of the clock and task, as far as it is said.
func (w Work) Words() string {
	switch {
	case w.Clock != "" && w.Task != "":
		return w.Clock + ", " + w.Task
	case w.Clock+w.Task != "":
		return w.Clock + w.Task
	case w.Chapter != "":
		return w.Chapter
	}
	return "work for no clock yet"
}

// Now is the instant by the shop's clock on the wall, in its zone.
func (s *Shop) Now() time.Time { return s.now() }

// Zone is where the shop is, for its days and midnights.
func (s *Shop) Zone() *time.Location { return s.now().Location() }

// WorkRule says what was probably forgotten, in the shop's zone.
func (s *Shop) WorkRule() work.Rule { return work.Rule{Zone: s.Zone()} }

// hoursLog is a log of hours as it was read, to be written on.
type hoursLog struct {
	store.Log
	clock   job.Clock // zero for the shop's own
	hours   work.Hours
	damaged meas.Faults
}

// readHours reads the log of a clock, or with 0 that of work for none yet.
func readHours(tx *store.Tx, clock int64) (h hoursLog, err error) {
	if clock != 0 {
		if h.clock, err = tx.Clock(clock); err != nil {
			return h, err
		}
	}
	if h.Log, err = tx.Log(workBook, h.clock.UID); err != nil {
		return h, err
	}
	h.ClockID = clock
	log, err := store.Entries[work.Event](tx, h.Log)
	if err != nil {
		return h, err
	}
	h.hours, err = work.FoldHours(log)
	if err != nil && !errors.As(err, &h.damaged) {
		return h, err
	}
	return h, nil
}

// work is a stretch of the log with where it stands.
func (s *Shop) workOf(h hoursLog, x work.Stretch) Work {
	last, _ := h.hours.Last(x.N)
	x.Clock = h.clock.Number // the one of now
	w := Work{Stretch: x, ClockID: h.ClockID, Title: h.clock.Title, Entry: last.N}
	if q, asked := s.WorkRule().Asks(x, s.now(), time.Time{}); asked {
		w.Question = &q
	}
	return w
}

// all lists the stretches of a log that are not marked removed.
func (s *Shop) allOf(h hoursLog) []Work {
	var out []Work
	for _, x := range h.hours.Stretches() {
		if x.Removed.IsZero() {
			out = append(out, s.workOf(h, x))
		}
	}
	return out
}

// writeHours adds events to a log, all or none.
func (s *Shop) writeHours(tx *store.Tx, by, why string, h *hoursLog, events ...work.Event) error {
	if len(h.damaged) > 0 {
		return &Problem{Code: Storage, Message: "This log of hours is damaged and cannot be written on.", Hint: "It can be read. Restore the shop from a backup, or bring the clock in again from its file.", cause: h.damaged}
	}
	var faults meas.Faults
	for i := range events {
		e := &events[i]
		e.Entry = ledger.Entry{When: job.Instant(s.now()), Who: by, Why: why, Undoes: e.Undoes}
		done, f := h.hours.Add(*e)
		faults, *e = append(faults, f...), done
	}
	if len(faults) > 0 {
		return badInput(faults)
	}
	h.Running = h.hours.Open(s.WorkRule())
	var err error
	h.Log, err = store.Append(tx, h.Log, events...)
	return err
}

func badInput(faults meas.Faults) *Problem {
	return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: faults}
}

// OpenWork lists, of all clocks, the running clocks and the work whose true
// end is asked for, the first begun first.
func (s *Shop) OpenWork(ctx context.Context) ([]Work, error) {
	kept, err := s.atWork.get(s.store, func() (read []Work, err error) {
		err = s.store.View(ctx, func(tx *store.Tx) (err error) {
			read, err = s.openIn(tx)
			return err
		})
		return read, err
	})
	if err != nil {
		return nil, explain(err)
	}
	out := slices.Clone(kept)
	for i := range out { // what was not asked then may be now
		out[i].Question = nil
		if q, asked := s.WorkRule().Asks(out[i].Stretch, s.now(), time.Time{}); asked {
			out[i].Question = &q
		}
	}
	return out, nil
}

// openIn reads what is under way.
func (s *Shop) openIn(tx *store.Tx) ([]Work, error) {
	logs, err := tx.RunningLogs(workBook)
	if err != nil {
		return nil, err
	}
	out := []Work{}
	for _, l := range logs {
		h, err := readHours(tx, l.ClockID)
		if err != nil {
			return nil, err
		}
		for _, w := range s.allOf(h) {
			if w.Running() || w.Question != nil {
				out = append(out, w)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Work) int { return a.Start.Compare(b.Start) })
	return out, nil
}

// RunningOf is the running clock of a person among what is under way; false
// where there is none.
func RunningOf(open []Work, who string) (Work, bool) {
	for _, w := range open {
		if w.Running() && work.SamePerson(w.Who, who) {
			return w, true
		}
	}
	return Work{}, false
}

// StartWork starts the running clock of a person; clock 0 is for none yet,
// and chapter and task may wait. Where another runs for the same person it is
// stopped at the same instant if over is set; one that was probably forgotten
// is asked about first.
func (s *Shop) StartWork(ctx context.Context, by string, clock int64, chapter, task string, over bool) (Work, error) {
	var begun Work
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		open, err := s.openIn(tx)
		if err != nil {
			return err
		}
		if other, ok := RunningOf(open, by); ok {
			if !over || other.Question != nil {
				return badInput(meas.Faults{{Field: "who", Text: fmt.Sprintf("%s is at work since %s on %s; stop that first", other.Who, other.Start.In(s.Zone()).Format("15:04"), other.Words())}})
			}
			if err := s.stopIn(tx, by, other); err != nil {
				return err
			}
		}
		h, err := readHours(tx, clock)
		if err != nil {
			return err
		}
		x := work.Stretch{Who: by, Clock: h.clock.Number, Chapter: chapter, Task: task, Start: s.wall()}
		if err := s.writeHours(tx, by, "", &h, work.Event{Kind: work.Began, Stretch: x}); err != nil {
			return err
		}
		all := s.allOf(h)
		begun = all[len(all)-1]
		return nil
	})
	return begun, explain(err)
}

// wall is now, to the millisecond, with the offset of the shop.
func (s *Shop) wall() time.Time { return s.now().Truncate(time.Millisecond) }

// stopIn stops a running clock now.
func (s *Shop) stopIn(tx *store.Tx, by string, w Work) error {
	h, err := readHours(tx, w.ClockID)
	if err != nil {
		return err
	}
	done, faults := w.Stop(s.wall())
	if len(faults) > 0 {
		return badInput(faults)
	}
	return s.writeHours(tx, by, "", &h, work.Event{Kind: work.Stopped, Stretch: done})
}

// StopWork stops a running clock now. One that was probably forgotten is
// still asked about: the answer has its question.
func (s *Shop) StopWork(ctx context.Context, by string, clock int64, n int) (Work, error) {
	var after Work
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		w, _, err := s.findWork(tx, clock, n)
		if err != nil {
			return err
		}
		if !w.Running() {
			return &Problem{Code: Conflict, Message: "This clock was stopped already.", Hint: "It counts to " + w.End.In(s.Zone()).Format("15:04") + ". Correct its end where that is wrong."}
		}
		if err := s.stopIn(tx, by, w); err != nil {
			return err
		}
		after, _, err = s.findWork(tx, clock, n)
		return err
	})
	return after, explain(err)
}

var errNoWork = &Problem{Code: NotFound, Message: "There is no such work.", Hint: "The clock’s hours list it."}

// findWork reads a stretch with its log.
func (s *Shop) findWork(tx *store.Tx, clock int64, n int) (Work, hoursLog, error) {
	h, err := readHours(tx, clock)
	if err != nil {
		return Work{}, h, err
	}
	x, ok := h.hours.Find(n)
	if !ok {
		return Work{}, h, errNoWork
	}
	return s.workOf(h, x), h, nil
}
