package shop

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/proposal"
	"seatboard/internal/book/work"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// proposalBook is the kind of log that proposals are kept in; each goes by the
// UID of its clock.
const proposalBook = "proposal"

// Estimate is what is proposed for a clock, and what was worked on it.
type Estimate struct {
	Clock    job.Clock
	Proposal proposal.Proposal
	Answer   estimate.Answer          // of the draft, with the shop's finished jobs
	Done     map[string]time.Duration // hours by task, small letters; without what is asked about
	Total    time.Duration            // of all hours
	Finished []FinishedJob            // what the shop has learned from, the last first
	Damaged  meas.Faults              // entries of the log that cannot be, left out
}

// DoneOn is the hours written down on a task.
func (e Estimate) DoneOn(task string) time.Duration { return e.Done[work.Person(task)] }

// proposalLog is a proposal as it was read, to be written on.
type proposalLog struct {
	store.Log
	clock   job.Clock
	p       proposal.Proposal
	damaged meas.Faults
}

func readProposal(tx *store.Tx, clock int64) (l proposalLog, err error) {
	if l.clock, err = tx.Clock(clock); err != nil {
		return l, err
	}
	if l.Log, err = tx.Log(proposalBook, l.clock.UID); err != nil {
		return l, err
	}
	l.ClockID = clock
	log, err := store.Entries[proposal.Event](tx, l.Log)
	if err != nil {
		return l, err
	}
	l.p, err = proposal.Fold(log)
	if err != nil && !errors.As(err, &l.damaged) {
		return l, err
	}
	return l, nil
}

// Estimate loads what is proposed for a clock, and reckons its draft.
func (s *Shop) Estimate(ctx context.Context, clock int64) (Estimate, error) {
	out := Estimate{Done: map[string]time.Duration{}}
	entries := 0
	err := s.store.View(ctx, func(tx *store.Tx) error {
		l, err := readProposal(tx, clock)
		if err != nil {
			return err
		}
		entries = l.Entries
		h, err := readHours(tx, clock)
		if err != nil {
			return err
		}
		sums := s.hoursOf(h).Sums
		for _, x := range sums.Lines {
			out.Done[work.Person(x.Task)] += x.Length
		}
		out.Clock, out.Proposal, out.Total, out.Damaged = l.clock, l.p, sums.Total, l.damaged
		out.Finished, err = s.finished(tx, clock)
		return err
	})
	if err != nil {
		return out, explain(err)
	}
	out.Answer, err = s.drafts.answer(out, entries)
	return out, explain(err)
}

// reckonedDrafts keeps the answers last reckoned: drawing the whole takes
// longer than all else on the page. One is used as long as neither the
// proposal nor what was learned has changed.
type reckonedDrafts struct {
	mu   sync.Mutex
	kept map[string]reckonedDraft // by the clock's UID
}

type reckonedDraft struct {
	entries  int
	finished []FinishedJob
	answer   estimate.Answer
}

// keptAnswers is how many answers are kept.
const keptAnswers = 16

func (r *reckonedDrafts) answer(e Estimate, entries int) (estimate.Answer, error) {
	r.mu.Lock()
	was, ok := r.kept[e.Clock.UID]
	r.mu.Unlock()
	if ok && was.entries == entries && slices.Equal(was.finished, e.Finished) {
		return was.answer, nil
	}
	a, err := estimate.Solve(withJobs(e.Proposal.Draft.Query, e.Finished))
	if err != nil {
		return a, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.kept == nil || len(r.kept) >= keptAnswers {
		r.kept = map[string]reckonedDraft{}
	}
	r.kept[e.Clock.UID] = reckonedDraft{entries, e.Finished, a}
	return a, nil
}

// ProposedTasks lists the tasks of a clock's draft, without reckoning it.
func (s *Shop) ProposedTasks(ctx context.Context, clock int64) ([]estimate.Task, error) {
	var out []estimate.Task
	err := s.store.View(ctx, func(tx *store.Tx) error {
		l, err := readProposal(tx, clock)
		out = l.p.Draft.Query.Tasks
		return err
	})
	return out, explain(err)
}

// withJobs is a query with the shop's finished jobs that have hours.
func withJobs(q estimate.Query, jobs []FinishedJob) estimate.Query {
	q.Finished = nil
	for _, j := range jobs {
		if j.Actual > 0 && j.Estimated > 0 {
			q.Finished = append(q.Finished, j.Finished)
		}
	}
	return q
}

// changeProposal adds one event to the proposal of a clock.
func (s *Shop) changeProposal(ctx context.Context, by string, clock int64, make func(*store.Tx, proposalLog) (proposal.Event, error)) error {
	return explain(s.store.Update(ctx, by, func(tx *store.Tx) error {
		l, err := readProposal(tx, clock)
		if err != nil {
			return err
		}
		if len(l.damaged) > 0 {
			return &Problem{Code: Storage, Message: "The proposal of this clock is damaged and cannot be written on.", Hint: "It can be read. Restore the shop from a backup, or bring the clock in again from its file.", cause: l.damaged}
		}
		e, err := make(tx, l)
		if err != nil {
			return err
		}
		e.Entry = ledger.Entry{When: job.Instant(s.now()), Who: by, Undoes: e.Undoes}
		e, faults := l.p.Add(e)
		if len(faults) > 0 {
			return badInput(faults)
		}
		_, err = store.Append(tx, l.Log, e)
		return err
	}))
}

// SaveEstimate keeps a draft. seen is the entry of the draft that the person
// saw; where it was changed meanwhile the problem is a Conflict with both.
func (s *Shop) SaveEstimate(ctx context.Context, by string, clock int64, seen int, d proposal.Draft) error {
	return s.changeProposal(ctx, by, clock, func(_ *store.Tx, l proposalLog) (proposal.Event, error) {
		if l.p.Drafted != seen {
			return proposal.Event{}, meanwhile(nil, draftsDiffer(l.p.Draft, d))
		}
		d.Query.Finished = nil // they are read when it is reckoned
		return proposal.Event{Kind: proposal.Drafted, Draft: &d}, nil
	})
}

// draftsDiffer lists where two drafts differ, task by task.
func draftsDiffer(a, b proposal.Draft) []job.Change {
	var out []job.Change
	was, is := taskWords(a), taskWords(b)
	for _, t := range a.Query.Tasks {
		if was[t.What] != is[t.What] {
			out = append(out, job.Change{Field: t.What, Before: was[t.What], After: is[t.What]})
		}
	}
	for _, t := range b.Query.Tasks {
		if _, ok := was[t.What]; !ok {
			out = append(out, job.Change{Field: t.What, After: is[t.What]})
		}
	}
	for _, t := range [][3]string{{"not included", a.NotIncluded, b.NotIncluded}, {"terms", a.Terms, b.Terms}} {
		if t[1] != t[2] {
			out = append(out, job.Change{Field: t[0], Before: t[1], After: t[2]})
		}
	}
	return out
}

func taskWords(d proposal.Draft) map[string]string {
	out := map[string]string{}
	for _, t := range d.Query.Tasks {
		words := []string{t.Low.String(), t.Likely.String(), t.High.String(), string(t.Decision), t.Why, t.CanUndo, t.Chapter}
		if t.LeftOut {
			words = append(words, "not included")
		}
		out[t.What] = strings.Join(words, "; ")
	}
	return out
}

// FixEstimate fixes the draft as a version, with its figures as they are
// reckoned now. seen is the entry of the draft that the person saw.
func (s *Shop) FixEstimate(ctx context.Context, by string, clock int64, seen int) (version int, err error) {
	err = s.changeProposal(ctx, by, clock, func(tx *store.Tx, l proposalLog) (proposal.Event, error) {
		if l.p.Drafted != seen {
			return proposal.Event{}, meanwhile(nil, nil)
		}
		jobs, err := s.finished(tx, clock)
		if err != nil {
			return proposal.Event{}, err
		}
		a, err := estimate.Solve(withJobs(l.p.Draft.Query, jobs))
		if err != nil {
			return proposal.Event{}, err
		}
		v := proposal.Version{Answer: a, NotIncluded: l.p.Draft.NotIncluded, Terms: l.p.Draft.Terms}
		return proposal.Event{Kind: proposal.Fixed, Version: &v}, nil
	})
	if err != nil {
		return 0, err
	}
	e, err := s.Estimate(ctx, clock)
	if n := len(e.Proposal.Versions); n > 0 {
		version = e.Proposal.Versions[n-1].N
	}
	return version, err
}

// SayOwner writes down the owner's word on a version; day is as typed.
func (s *Shop) SayOwner(ctx context.Context, by string, clock int64, c work.Consent, day string) error {
	return s.changeProposal(ctx, by, clock, func(*store.Tx, proposalLog) (proposal.Event, error) {
		at, faults := s.dayTyped(day)
		for i := range faults {
			faults[i].Field = "when"
		}
		c.When, c.Who = job.Instant(at), by
		if faults = append(faults, c.Check()...); len(faults) > 0 {
			return proposal.Event{}, badInput(faults)
		}
		return proposal.Event{Kind: proposal.Said, Consent: &c}, nil
	})
}

// PayDeposit writes down that a deposit came for a version; day is as typed.
func (s *Shop) PayDeposit(ctx context.Context, by string, clock int64, d proposal.Deposit, day string) error {
	return s.changeProposal(ctx, by, clock, func(*store.Tx, proposalLog) (proposal.Event, error) {
		at, faults := s.dayTyped(day)
		for i := range faults {
			faults[i].Field = "paid"
		}
		d.When = job.Instant(at)
		if faults = append(faults, d.Check()...); len(faults) > 0 {
			return proposal.Event{}, badInput(faults)
		}
		return proposal.Event{Kind: proposal.Paid, Deposit: &d}, nil
	})
}

// UndoEstimate takes an entry of the proposal back: a version nobody has
// answered to, a word of the owner or a deposit.
func (s *Shop) UndoEstimate(ctx context.Context, by string, clock int64, entry int) error {
	return s.changeProposal(ctx, by, clock, func(_ *store.Tx, l proposalLog) (proposal.Event, error) {
		return proposal.Event{Kind: proposal.Undone, Entry: entryThat(entry)}, nil
	})
}
