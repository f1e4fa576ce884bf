package shop

import (
	"cmp"
	"context"
	"slices"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/work"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// entryThat is the head of an entry that undoes another.
func entryThat(undoes int) ledger.Entry { return ledger.Entry{Undoes: undoes} }

// Hours is the work on one clock, or with no clock what is for none yet.
type Hours struct {
	Clock    job.Clock
	Work     []Work // that is not marked removed, the last begun first
	Struck   []Work
	Sums     work.Sums
	Findings []meas.Finding // one person at two things at once
	Damaged  meas.Faults    // entries of the log that cannot be, left out
}

// Hours lists the work on a clock; 0 is what is for none yet.
func (s *Shop) Hours(ctx context.Context, clock int64) (Hours, error) {
	var out Hours
	err := s.store.View(ctx, func(tx *store.Tx) error {
		h, err := readHours(tx, clock)
		if err != nil {
			return err
		}
		out = s.hoursOf(h)
		return nil
	})
	return out, explain(err)
}

func (s *Shop) hoursOf(h hoursLog) Hours {
	out := Hours{Clock: h.clock, Damaged: h.damaged}
	var counted []work.Stretch
	for _, x := range h.hours.Stretches() {
		w := s.workOf(h, x)
		if last, _ := h.hours.Last(x.N); !x.Removed.IsZero() {
			if last.Kind != work.Moved {
				out.Struck = append(out.Struck, w)
			}
			continue
		}
		out.Work, counted = append(out.Work, w), append(counted, w.Stretch)
	}
	slices.SortStableFunc(out.Work, func(a, b Work) int { return b.Start.Compare(a.Start) })
	out.Sums = work.Sum(counted, s.WorkRule(), s.now())
	out.Findings = work.Overlaps(counted, s.now())
	return out
}

// OneWork is a stretch with all that was written of it, oldest first.
type OneWork struct {
	Work
	Clock   job.Clock
	History []work.Event
}

// OneWork reads one stretch of a clock; 0 is of none yet.
func (s *Shop) OneWork(ctx context.Context, clock int64, n int) (OneWork, error) {
	var out OneWork
	err := s.store.View(ctx, func(tx *store.Tx) error {
		w, h, err := s.findWork(tx, clock, n)
		out = OneWork{Work: w, Clock: h.clock, History: h.hours.Of(n)}
		return err
	})
	return out, explain(err)
}

// DayHours is the work of one person on one day, which is the day it began.
type DayHours struct {
	Day, Who string
	Length   time.Duration // without what runs or is asked about
	Work     []Work        // the first begun first
}

// WeekHours is the work of seven days, by day and person, the last day first.
type WeekHours struct {
	Monday time.Time
	Days   []DayHours
	Total  time.Duration

	Findings []meas.Finding // one person at two things at once, on whichever clocks
}

// Week lists the work of the week that a day is in, of all clocks.
func (s *Shop) Week(ctx context.Context, day time.Time) (WeekHours, error) {
	y, m, d := day.In(s.Zone()).Date()
	out := WeekHours{Monday: time.Date(y, m, d-(int(day.In(s.Zone()).Weekday())+6)%7, 0, 0, 0, 0, s.Zone())}
	end := out.Monday.AddDate(0, 0, 7)
	at := map[[2]string]int{}
	err := s.store.View(ctx, func(tx *store.Tx) error {
		logs, err := tx.LogsSince(workBook, out.Monday)
		if err != nil {
			return err
		}
		for _, l := range logs {
			h, err := readHours(tx, l.ClockID)
			if err != nil {
				return err
			}
			for _, w := range s.allOf(h) {
				if !w.Start.Before(out.Monday) && w.Start.Before(end) {
					out.add(at, w, s.Zone())
				}
			}
		}
		return nil
	})
	slices.SortStableFunc(out.Days, func(a, b DayHours) int {
		return cmp.Or(cmp.Compare(b.Day, a.Day), cmp.Compare(a.Who, b.Who))
	})
	var all []work.Stretch
	for _, d := range out.Days {
		slices.SortStableFunc(d.Work, func(a, b Work) int { return a.Start.Compare(b.Start) })
		for _, w := range d.Work {
			all = append(all, w.Stretch)
		}
	}
	out.Findings = work.Overlaps(all, s.now())
	return out, explain(err)
}

func (h *WeekHours) add(at map[[2]string]int, w Work, zone *time.Location) {
	k := [2]string{w.Day(zone), work.Person(w.Who)}
	i, ok := at[k]
	if !ok {
		i = len(h.Days)
		at[k] = i
		h.Days = append(h.Days, DayHours{Day: k[0], Who: w.Who})
	}
	d := &h.Days[i]
	d.Work = append(d.Work, w)
	if !w.Running() && w.Question == nil {
		d.Length += w.Length()
		h.Total += w.Length()
	}
}
