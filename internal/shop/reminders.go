package shop

import (
	"bytes"
	"cmp"
	"context"
	"slices"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/io/store"
	"seatboard/internal/paper/ical"
)

// Reminders writes what is not to be forgotten as an iCalendar file: of one
// clock, or of the whole shop where clock is 0.
func (s *Shop) Reminders(ctx context.Context, clock int64) ([]byte, error) {
	all, name, err := s.reminders(ctx, clock)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, &Problem{Code: NotFound, Message: "There is nothing to be reminded of.", Hint: "Reminders are of readings that are due, the end of a gate, a day that is promised, winding, and baths."}
	}
	slices.SortStableFunc(all, func(a, b ical.Reminder) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.UID, b.UID)) })
	var b bytes.Buffer
	err = ical.Write(&b, name, s.now(), all)
	return b.Bytes(), err
}

func (s *Shop) reminders(ctx context.Context, clock int64) (all []ical.Reminder, name string, err error) {
	baths, err := s.RunningBaths(ctx)
	if err != nil {
		return nil, "", err
	}
	for _, b := range baths {
		if r, ok := remindOfBath(b); ok && (clock == 0 || b.Clock.ID == clock) {
			all = append(all, r)
		}
	}
	if clock != 0 {
		g, err := s.Gates(ctx, clock)
		if err != nil {
			return nil, "", err
		}
		all = append(all, remindOfPromise(g.Clock.UID, g.Clock.Number, g.Clock.Title, g.Clock.Promise, s.Zone())...)
		return append(all, remindOfTrial(g)...), g.Clock.Number, nil
	}
	read, err := s.readTried(ctx, time.Hour) // a file must be whole
	if err != nil {
		return nil, "", explain(err)
	}
	for _, g := range s.judgeAll(read.known) {
		all = append(all, remindOfTrial(g)...)
	}
	promised, err := s.promisedFiles(ctx)
	for _, c := range promised {
		all = append(all, remindOfPromise(c.UID, c.Number, c.Title, c.Promise, s.Zone())...)
	}
	return all, "Seatboard", err
}

// promisedFiles lists the clocks that are promised for a day.
func (s *Shop) promisedFiles(ctx context.Context) ([]job.Clock, error) {
	var out []job.Clock
	err := s.store.View(ctx, func(tx *store.Tx) error {
		promised, err := tx.Promised(promisesShown)
		for _, p := range promised {
			if err != nil {
				return err
			}
			var c job.Clock
			if c, err = tx.Clock(p.ID); err == nil {
				out = append(out, c)
			}
		}
		return err
	})
	return out, explain(err)
}

func remindOfPromise(uid, number, title, promise string, zone *time.Location) []ical.Reminder {
	day, ok := job.Clock{Promise: promise}.PromiseDay()
	if !ok {
		return nil
	}
	at := time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, zone)
	return []ical.Reminder{{UID: "seatboard-promise-" + uid, Kind: "promise", At: at, WholeDay: true, Title: number + " is promised for today", Words: title, Early: 7 * 24 * time.Hour}}
}

// remindOfBath is when parts must come out of a liquid.
func remindOfBath(b Bath) (ical.Reminder, bool) {
	if b.Damaged != "" || !b.InLiquid() {
		return ical.Reminder{}, false
	}
	title := "Take the parts of " + b.Clock.Number + " out of the bath"
	if b.Jar != "" {
		title += ": " + b.Jar
	}
	return ical.Reminder{UID: "seatboard-bath-" + b.ID, Kind: "bath", At: b.Until, Title: title, Words: "The shop’s computer rings too, as long as Seatboard runs. This is only as true as it was when the file was made."}, true
}

// remindOfTrial is what is due of a clock on trial: the reading, the end of
// the gate, winding.
func remindOfTrial(g Gates) []ical.Reminder {
	if g.Clock.Stage == job.GoingHome || g.Clock.Stage == job.GoneHome {
		return nil
	}
	var out []ical.Reminder
	add := func(kind, title, words string, at time.Time, early time.Duration) {
		out = append(out, ical.Reminder{UID: "seatboard-" + kind + "-" + g.Clock.UID, Kind: kind, At: at, Title: title, Words: words, Early: early})
	}
	if due, why, ok := readingDue(g); ok {
		add("reading", "Read "+g.Clock.Number+" "+g.Clock.Title, why, due, 0)
	}
	if s := g.Standing; s.Current < len(s.Gates) {
		if x := s.Gates[s.Current]; x.State == trial.UnderWay && x.Until.After(g.Now) {
			add("gate", g.Clock.Number+": "+x.Gate.Name+" is over", "Take a reading now, and look whether it can be signed.", x.Until, 0)
		}
	}
	if w, ok := WindingOf(g.Trial, g.Now); ok {
		title := "Wind " + g.Clock.Number + " " + g.Clock.Title
		if w.Last.IsZero() {
			title = "When was " + g.Clock.Number + " " + g.Clock.Title + " wound? Wind it, and write it down"
		}
		add("winding", title, w.Words(), w.Due, 0)
	}
	return out
}

// readingDue is when a clock on trial wants to be read at the latest, and why.
func readingDue(g Gates) (at time.Time, why string, ok bool) {
	if s := g.Standing; s.Current < len(s.Gates) {
		if x := s.Gates[s.Current]; x.State == trial.UnderWay && !x.Due.IsZero() {
			at, why, ok = x.Due, "At the latest: without a reading the gate begins anew.", true
		}
	}
	if a := g.Answer; a != nil && a.Complete && a.Advice.Do == regulate.Wait && !a.Advice.Next.IsZero() && (!ok || a.Advice.Next.Before(at)) {
		at, why, ok = a.Advice.Next, "From then on a reading tells more.", true
	}
	return at, why, ok
}
