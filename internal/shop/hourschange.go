package shop

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/work"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// WorkAsk is work as it is typed.
type WorkAsk struct {
	Who     string
	Clock   string // its number; "" for none yet
	Chapter string
	Task    string
	Note    string
	Day     string // "2026-11-25"; "" is today
	Span    string // how long, or from–to
}

// AskOf is a stretch as it would be typed.
func (s *Shop) AskOf(w Work) WorkAsk {
	return WorkAsk{Who: w.Who, Clock: w.Clock, Chapter: w.Chapter, Task: w.Task, Note: w.Note, Day: w.Day(s.Zone()), Span: w.Typed(s.Zone())}
}

// apply puts what was typed over a stretch; the instants stay to the second
// where day and span are as they were shown.
func (s *Shop) apply(x work.Stretch, ask WorkAsk) (work.Stretch, meas.Faults) {
	was := s.AskOf(Work{Stretch: x})
	x.Who, x.Chapter, x.Task, x.Note = strings.TrimSpace(ask.Who), strings.TrimSpace(ask.Chapter), strings.TrimSpace(ask.Task), strings.TrimSpace(ask.Note)
	if !x.Start.IsZero() && was.Day == ask.Day && was.Span == strings.TrimSpace(ask.Span) {
		return x, nil
	}
	day, faults := s.dayTyped(ask.Day)
	span, f := work.ParseSpan(ask.Span, day, s.Zone())
	if faults = append(faults, f...); len(faults) > 0 {
		return x, faults
	}
	latest := span.End
	if latest.IsZero() {
		latest = span.Start
	}
	if span.DayOnly {
		latest = day
	}
	if latest.After(s.now().Add(time.Minute)) {
		return x, meas.Faults{{Field: "span", Text: "That lies ahead: it is " + s.now().Format("15:04 on 2006-01-02") + " now"}}
	}
	x.Start, x.End, x.DayOnly = span.Start, span.End, span.DayOnly
	x.ByHand = !x.End.IsZero()
	return x, nil
}

func (s *Shop) dayTyped(day string) (time.Time, meas.Faults) {
	if strings.TrimSpace(day) == "" {
		return s.now(), nil
	}
	d, err := time.ParseInLocation(time.DateOnly, strings.TrimSpace(day), s.Zone())
	if err != nil {
		return s.now(), meas.Faults{{Field: "day", Text: fmt.Sprintf("“%s” is not a day; write it like %s", meas.Clip(day), s.now().Format(time.DateOnly))}}
	}
	return d, nil
}

// clockTyped finds the clock of a typed number; 0 for none.
func clockTyped(tx *store.Tx, number string) (int64, meas.Faults, error) {
	if strings.TrimSpace(number) == "" {
		return 0, nil, nil
	}
	c, err := tx.ClockByNumber(number)
	if errors.Is(err, store.ErrNotFound) {
		return 0, meas.Faults{{Field: "clock", Text: fmt.Sprintf("There is no clock “%s” in the book", meas.Clip(number))}}, nil
	}
	return c.ID, nil, err
}

// AddWork writes work down by hand.
func (s *Shop) AddWork(ctx context.Context, by string, ask WorkAsk) (Work, error) {
	var added Work
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		clock, faults, err := clockTyped(tx, ask.Clock)
		if err != nil {
			return err
		}
		x, f := s.apply(work.Stretch{}, ask)
		if len(f) == 0 && x.End.IsZero() {
			f = meas.Faults{{Field: "span", Text: "Enter when the work ended, or start the clock instead"}}
		}
		if len(f) == 0 {
			f = x.Check()
		}
		if faults = append(faults, f...); len(faults) > 0 {
			return badInput(faults)
		}
		h, err := readHours(tx, clock)
		if err != nil {
			return err
		}
		x.Clock = h.clock.Number
		if err := s.writeHours(tx, by, "", &h, work.Event{Kind: work.Written, Stretch: x}); err != nil {
			return err
		}
		all := s.allOf(h)
		added = all[len(all)-1]
		return nil
	})
	return added, explain(err)
}

// ChangeWork corrects a stretch. seen is the Entry that the person saw; where
// it stands otherwise meanwhile the problem is a Conflict with both. With
// another clock's number the work moves there.
func (s *Shop) ChangeWork(ctx context.Context, by string, clock int64, n, seen int, ask WorkAsk) (Work, error) {
	return s.changeWork(ctx, by, clock, n, seen, ask, func(tx *store.Tx, w Work, h hoursLog) (Work, error) {
		to, faults, err := clockTyped(tx, ask.Clock)
		if err != nil {
			return w, err
		}
		x, f := s.apply(w.Stretch, ask)
		if len(f) == 0 {
			f = work.Change(w.Stretch, x)
		}
		if faults = append(faults, f...); len(faults) == 0 && x.Running() {
			faults, err = s.onlyOne(tx, x, w)
		}
		if len(faults) > 0 || err != nil {
			return w, errors.Join(err, asError(faults))
		}
		if to == clock {
			return s.wrote(tx, by, "", h, work.Event{Kind: work.Changed, Stretch: x})
		}
		return s.moveWork(tx, by, h, w, x, to)
	})
}

// asError is faults as an error, nil for none.
func asError(faults meas.Faults) error {
	if len(faults) == 0 {
		return nil
	}
	return badInput(faults)
}

// changeWork finds a stretch, holds it against what the person saw and
// changes it.
func (s *Shop) changeWork(ctx context.Context, by string, clock int64, n, seen int, ask WorkAsk, do func(*store.Tx, Work, hoursLog) (Work, error)) (Work, error) {
	var after Work
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		w, h, err := s.findWork(tx, clock, n)
		if err != nil {
			return err
		}
		if w.Entry != seen {
			return meanwhile(nil, s.asksDiffer(s.AskOf(w), ask))
		}
		after, err = do(tx, w, h)
		return err
	})
	return after, explain(err)
}

// asksDiffer lists where two ways to type a stretch differ.
func (s *Shop) asksDiffer(a, b WorkAsk) []job.Change {
	var out []job.Change
	for _, t := range [][3]string{{"who", a.Who, b.Who}, {"clock", a.Clock, b.Clock}, {"chapter", a.Chapter, b.Chapter}, {"task", a.Task, b.Task}, {"note", a.Note, b.Note}, {"day", a.Day, b.Day}, {"when", a.Span, b.Span}} {
		if t[1] != t[2] {
			out = append(out, job.Change{Field: t[0], Before: t[1], After: t[2]})
		}
	}
	return out
}

// wrote writes one event and reads its stretch anew.
func (s *Shop) wrote(tx *store.Tx, by, why string, h hoursLog, e work.Event) (Work, error) {
	if err := s.writeHours(tx, by, why, &h, e); err != nil {
		return Work{}, err
	}
	x, _ := h.hours.Find(e.Stretch.N)
	return s.workOf(h, x), nil
}

// moveWork strikes a stretch out of one log and writes it into another.
func (s *Shop) moveWork(tx *store.Tx, by string, h hoursLog, was Work, x work.Stretch, to int64) (Work, error) {
	if was.Billed != "" {
		return was, badInput(meas.Faults{{Field: "clock", Text: "This work was billed with " + was.Billed + "; it can be moved only after that document is cancelled"}})
	}
	target, err := readHours(tx, to)
	if err != nil {
		return was, err
	}
	gone := was.Stretch
	gone.Removed = job.Instant(s.now())
	if err := s.writeHours(tx, by, strings.TrimSpace("moved to "+target.clock.Number), &h, work.Event{Kind: work.Moved, Stretch: gone}); err != nil {
		return was, err
	}
	kind := work.Written
	if x.Running() {
		kind = work.Began
	}
	x.N, x.Clock = 0, target.clock.Number
	if err := s.writeHours(tx, by, strings.TrimSpace("moved from "+h.clock.Number), &target, work.Event{Kind: kind, Stretch: x}); err != nil {
		return was, err
	}
	all := s.allOf(target)
	return all[len(all)-1], nil
}

// onlyOne is the fault of a running stretch beside another of the same
// person; but is left out.
func (s *Shop) onlyOne(tx *store.Tx, x work.Stretch, but Work) (meas.Faults, error) {
	open, err := s.openIn(tx)
	if err != nil {
		return nil, err
	}
	for _, o := range open {
		if same := o.ClockID == but.ClockID && o.N == but.N; !same && o.Running() && work.SamePerson(o.Who, x.Who) {
			return meas.Faults{{Field: "who", Text: fmt.Sprintf("%s is at work since %s on %s; stop that first", o.Who, o.Start.In(s.Zone()).Format("15:04"), o.Words())}}, nil
		}
	}
	return nil, nil
}

// AskAbout puts the question for a true end, with what the person was last
// seen to do among the ends offered; false where nothing is asked.
func (s *Shop) AskAbout(ctx context.Context, w Work) (work.Question, bool, error) {
	var seen time.Time
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		until := w.End
		if w.Running() {
			until = s.now()
		}
		seen, err = tx.LastSeen(w.Who, w.Start, until, workBook)
		return err
	})
	q, asked := s.WorkRule().Asks(w.Stretch, s.now(), seen)
	return q, asked, explain(err)
}

// AnswerWork says when work that was asked about truly ended; a clock that
// runs is stopped with it. end is an instant (RFC 3339) of those offered, or
// an hour as typed, on the day it began or the night after.
func (s *Shop) AnswerWork(ctx context.Context, by string, clock int64, n, seen int, end string) (Work, error) {
	return s.changeWork(ctx, by, clock, n, seen, WorkAsk{Span: end}, func(tx *store.Tx, w Work, h hoursLog) (Work, error) {
		at, faults := s.endTyped(w, end)
		if len(faults) > 0 {
			return w, badInput(faults)
		}
		x := w.Stretch
		x.End, x.Confirmed = at, true
		if f := work.Change(w.Stretch, x); len(f) > 0 {
			for i := range f {
				f[i].Field = "end"
			}
			return w, badInput(f)
		}
		return s.wrote(tx, by, "", h, work.Event{Kind: work.Answered, Stretch: x})
	})
}

func (s *Shop) endTyped(w Work, typed string) (time.Time, meas.Faults) {
	at, err := time.Parse(time.RFC3339Nano, typed)
	var faults meas.Faults
	if err != nil {
		day := w.Start.In(s.Zone())
		if at, faults = work.ParseInstant(typed, day, s.Zone()); len(faults) == 0 && !at.After(w.Start) {
			at, faults = work.ParseInstant(typed, day.AddDate(0, 0, 1), s.Zone())
		}
	}
	if len(faults) == 0 && at.After(s.now().Add(time.Second)) {
		faults = meas.Faults{{Text: "That lies ahead: it is " + s.now().Format("15:04") + " now"}}
	}
	for i := range faults {
		faults[i].Field = "end"
	}
	return at, faults
}

// StrikeWork marks a stretch removed; it stands in the log with the reason.
func (s *Shop) StrikeWork(ctx context.Context, by string, clock int64, n, seen int, why string) error {
	_, err := s.changeWork(ctx, by, clock, n, seen, WorkAsk{}, func(tx *store.Tx, w Work, h hoursLog) (Work, error) {
		if strings.TrimSpace(why) == "" {
			return w, badInput(meas.Faults{{Field: "why", Text: "Write why this work does not count"}})
		}
		x := w.Stretch
		x.Removed = job.Instant(s.now())
		return s.wrote(tx, by, strings.TrimSpace(why), h, work.Event{Kind: work.Struck, Stretch: x})
	})
	return err
}

// UndoWork takes the last entry of a stretch back: a stop, a correction, a
// removal, or its beginning.
func (s *Shop) UndoWork(ctx context.Context, by string, clock int64, n, seen int) error {
	return explain(s.store.Update(ctx, by, func(tx *store.Tx) error {
		w, h, err := s.findWork(tx, clock, n)
		if err != nil {
			return err
		}
		if w.Entry != seen {
			return meanwhile(nil, nil)
		}
		if err := s.writeHours(tx, by, "", &h, work.Event{Kind: work.Undone, Entry: entryThat(seen)}); err != nil {
			return err
		}
		if x, ok := h.hours.Find(n); ok && x.Running() {
			faults, err := s.onlyOne(tx, x, w)
			return errors.Join(err, asError(faults))
		}
		return nil
	}))
}
