package shop

import (
	"cmp"
	"context"
	"slices"
	"sync"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
)

// mostOnTrial is how many clocks on trial are looked at together.
const mostOnTrial = 60

// triedClocks keeps what the gates of clocks on trial are judged by: of a
// clock of which nothing was written since, nothing is read again.
type triedClocks struct {
	list untilWritten[tried]
	mu   sync.Mutex
	kept map[int64]triedClock
}

// tried is the clocks on trial, and those that are not reckoned yet.
type tried struct {
	known []triedClock
	late  []job.Summary
}

// triedClock is what the gates of a clock are judged by.
type triedClock struct {
	touch int64
	trial Trial
	beats []trial.Heard
}

// patience is how long a page waits for clocks to be reckoned that nobody
// looked at since the program was started; the next page goes on with the rest.
const patience = 60 * time.Millisecond

// onTrial lists the clocks on trial with their gates as of now, those touched
// last first, and those that are not reckoned yet.
func (s *Shop) onTrial(ctx context.Context) ([]Gates, []job.Summary, error) {
	read, err := s.tried.list.get(s.store, func() (tried, error) { return s.readTried(ctx, patience) })
	if err != nil {
		return nil, nil, explain(err)
	}
	if len(read.late) > 0 {
		s.tried.list.forget()
	}
	return s.judgeAll(read.known), read.late, nil
}

func (s *Shop) judgeAll(all []triedClock) []Gates {
	out := make([]Gates, len(all))
	for i, x := range all {
		out[i] = s.judge(x.trial, x.beats)
	}
	return out
}

// readTried reads the clocks on trial; it begins no further one after the time
// it has.
func (s *Shop) readTried(ctx context.Context, within time.Duration) (tried, error) {
	begun := time.Now()
	var out tried
	var clocks []job.Summary
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		clocks, _, err = tx.ListStage(job.Trial, "", mostOnTrial)
		return err
	})
	if err != nil {
		return out, err
	}
	s.tried.mu.Lock()
	was := s.tried.kept
	s.tried.mu.Unlock()
	kept := map[int64]triedClock{}
	for _, c := range clocks {
		x, ok := was[c.ID]
		if !ok || x.touch != c.Touch {
			if time.Since(begun) > within {
				out.late = append(out.late, c)
				continue
			}
			x.touch = c.Touch
			if x.trial, err = s.trialOf(ctx, c.ID, restsTrial); err != nil {
				return out, err
			}
			if x.beats, err = s.beatsOf(ctx, c.ID); err != nil {
				return out, err
			}
		}
		kept[c.ID] = x
		out.known = append(out.known, x)
	}
	s.tried.mu.Lock()
	s.tried.kept = kept
	s.tried.mu.Unlock()
	return out, nil
}

// OnTrial is a clock on trial in a line.
type OnTrial struct {
	Clock job.Clock
	Rate  meas.Interval[unit.Rate] // what it does now
	Going string                   // rate and trend in words
	Gate  string                   // how it stands with its gates
	Wants []Want                   // what wants a hand, the most urgent first
}

// Want is one thing that a clock on trial wants.
type Want struct {
	Words string
	Late  bool
	Gates bool // it is done on the page of the gates, else on that of the trial

	rank int
}

// The order of what clocks on trial want.
const (
	wantStands = iota
	wantDoubt
	wantOverdue
	wantSign
	wantAnswer
	wantPromise
	wantRead
	wantNothing
)

// linesOnTrial is the clocks on trial, those that want a hand first.
func (s *Shop) linesOnTrial(ctx context.Context) ([]OnTrial, error) {
	known, late, err := s.onTrial(ctx)
	if err != nil {
		return nil, err
	}
	var out []OnTrial
	for _, g := range known {
		out = append(out, lineOf(g))
	}
	for _, c := range late {
		out = append(out, OnTrial{Clock: job.Clock{ID: c.ID, Number: c.Number, Title: c.Title}, Going: "being reckoned", Gate: "open this page again in a moment"})
	}
	slices.SortStableFunc(out, func(a, b OnTrial) int { return cmp.Compare(a.rank(), b.rank()) })
	return out, nil
}

func (o OnTrial) rank() int {
	if len(o.Wants) == 0 {
		return wantNothing
	}
	return o.Wants[0].rank
}

func lineOf(g Gates) OnTrial {
	o := OnTrial{Clock: g.Clock, Gate: present.GatesInShort(g.Standing, g.Now), Going: "no rate yet"}
	if a := g.Answer; a != nil && a.Complete {
		o.Rate = a.Rate.Now
		o.Going = present.GoingInShort(*a)
	}
	o.Wants = wantsOf(g)
	return o
}

// wantsOf lists what a clock on trial wants, the most urgent first.
func wantsOf(g Gates) []Want {
	var out []Want
	add := func(rank int, late, gates bool, words string) {
		out = append(out, Want{Words: words, Late: late, Gates: gates, rank: rank})
	}
	if since, stands := g.Query.StandsSince(); stands {
		add(wantStands, true, false, "stands since "+day(since.In(g.Now.Location()), g.Now))
	}
	for _, x := range g.Standing.Gates {
		if x.State == trial.InDoubt {
			add(wantDoubt, true, true, "signed gate in doubt")
		}
	}
	if s := g.Standing; s.Current < len(s.Gates) && s.Gates[s.Current].State == trial.Ready {
		add(wantSign, false, true, "gate ready to sign")
	}
	if n := len(g.Questions); n > 0 {
		add(wantAnswer, false, false, phrase.Times(n, "question to answer", "questions to answer"))
	}
	if promiseAtRisk(g) {
		add(wantPromise, true, true, "promise at risk")
	}
	switch at, _, ok := readingDue(g); {
	case !ok:
	case at.Before(g.Now.Add(-12 * time.Hour)):
		add(wantOverdue, true, false, "reading due since "+day(at.In(g.Now.Location()), g.Now))
	case at.Before(endOfDay(g.Now)):
		add(wantRead, false, false, "reading due "+day(at.In(g.Now.Location()), g.Now))
	}
	slices.SortStableFunc(out, func(a, b Want) int { return cmp.Compare(a.rank, b.rank) })
	return out
}

func endOfDay(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d+1, 0, 0, 0, 0, t.Location())
}

// promiseAtRisk tells whether the gates that are open cannot be signed by the
// day the clock is promised for.
func promiseAtRisk(g Gates) bool {
	promised, ok := g.Clock.PromiseDay()
	if !ok || g.Standing.Passed || g.Standing.Earliest.IsZero() {
		return false
	}
	end := time.Date(promised.Year(), promised.Month(), promised.Day()+1, 0, 0, 0, 0, g.Now.Location())
	return g.Standing.Earliest.After(end)
}
