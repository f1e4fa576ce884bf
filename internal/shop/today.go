package shop

import (
	"context"
	"fmt"
	"sort"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// Today is what needs a hand now.
type Today struct {
	Empty    bool      // the book has no clock yet
	Damage   []string  // what the look-through after an unclean end has found, none if all is well
	Trouble  string    // why the shop's computer may not ring, "" where nothing is known against it
	Needs    []Need    // baths and hours that wait for a hand, the most urgent first
	Trials   []OnTrial // the clocks on trial, those that want a hand first
	Promised []Promise
	Low      []meas.Finding // what is low on the shelf, or cannot be right there
	Stages   []InStage      // the clocks in the house by stage; a stage without one is left out
}

// InStage is the clocks at one stage of the journey.
type InStage struct {
	Stage  job.Stage
	Total  int
	Clocks []job.Summary // those touched last
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
	stageShown    = 6 // clocks of a stage
	promisesShown = 50
)

// Today gathers what needs a hand now: baths and forgotten hours, promises,
// the nearest first, and the clocks in the house by stage.
func (s *Shop) Today(ctx context.Context) (Today, error) {
	t := Today{Trouble: s.AlarmTrouble()}
	var promised []job.Summary
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		counts, err := tx.StageCounts()
		if err != nil {
			return err
		}
		t.Empty = len(counts) == 0
		if t.Stages, err = stagesOf(tx, counts); err != nil {
			return err
		}
		promised, err = tx.Promised(promisesShown)
		return err
	})
	if err != nil {
		return t, explain(err)
	}
	if t.Needs, err = s.needs(ctx); err != nil {
		return t, err
	}
	if t.Trials, err = s.linesOnTrial(ctx); err != nil {
		return t, err
	}
	if t.Low, err = s.LowStores(ctx); err != nil {
		return t, err
	}
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

// stagesOf lists the first clocks of each stage that has some and is not the
// end of the journey.
func stagesOf(tx *store.Tx, counts map[job.Stage]int) ([]InStage, error) {
	var out []InStage
	for _, stage := range job.Stages() {
		if counts[stage] == 0 || stage == job.GoneHome {
			continue
		}
		clocks, _, err := tx.ListStage(stage, "", stageShown)
		if err != nil {
			return nil, err
		}
		out = append(out, InStage{stage, counts[stage], clocks})
	}
	return out, nil
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
