package shop

import (
	"context"
	"fmt"
	"sort"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
)

// Today is what needs a hand now.
type Today struct {
	Empty    bool // the book has no clock yet
	Promised []Promise
	Bench    List     // the clocks touched last
	Damage   []string // what the look-through after an unclean end has found, none if all is well
}

// Promise is a clock that is promised for a day.
type Promise struct {
	Clock job.Summary
	When  string // as entered
	Words string // "in 3 days", "4 days late"
	Late  bool
	days  int
	told  bool // the day can be told from the words
}

const (
	benchLength   = 10
	promisesShown = 50
)

// Today gathers what needs a hand now: promises, the nearest first, and what
// is on the bench.
func (s *Shop) Today(ctx context.Context) (Today, error) {
	var t Today
	var promised []job.Summary
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if t.Bench.Clocks, t.Bench.After, t.Bench.Total, err = tx.List(nil, "", benchLength); err != nil {
			return err
		}
		promised, err = tx.Promised(promisesShown)
		return err
	})
	if err != nil {
		return t, explain(err)
	}
	t.Empty = t.Bench.Total == 0
	t.Damage = s.store.Health().Problems
	now := s.now().Local()
	for _, c := range promised {
		t.Promised = append(t.Promised, promiseOf(c, now))
	}
	sort.SliceStable(t.Promised, func(i, j int) bool {
		a, b := t.Promised[i], t.Promised[j]
		if a.told != b.told {
			return a.told
		}
		return a.days < b.days
	})
	return t, nil
}

// promiseOf says how far off a promise is; a day that cannot be told from
// the words stands last, as written.
func promiseOf(c job.Summary, now time.Time) Promise {
	p := Promise{Clock: c, When: c.Promise, Words: "no day set"}
	day, ok := job.Clock{Promise: c.Promise}.PromiseDay()
	if !ok {
		return p
	}
	today := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	due := time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, time.UTC)
	p.days, p.told = int(due.Sub(today).Hours()/24), true
	switch {
	case p.days < -1:
		p.Words, p.Late = fmt.Sprintf("%d days late", -p.days), true
	case p.days == -1:
		p.Words, p.Late = "a day late", true
	case p.days == 0:
		p.Words = "today"
	case p.days == 1:
		p.Words = "tomorrow"
	default:
		p.Words = fmt.Sprintf("in %d days", p.days)
	}
	return p
}
