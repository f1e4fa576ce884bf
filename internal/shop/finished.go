package shop

import (
	"sync"

	"seatboard/internal/book/estimate"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/unit"
)

// FinishedJob is a clock that has gone home: hours against estimate.
type FinishedJob struct {
	estimate.Finished
	ClockID int64
	Title   string
}

// finishedJobs keeps what was read of the clocks that have gone home, each as
// long as nothing is written on its logs.
type finishedJobs struct {
	mu   sync.Mutex
	kept map[string]keptJob // by the clock's UID
}

type keptJob struct {
	proposed, worked int // entries of the two logs
	job              FinishedJob
}

// forget reads a job anew when it is next wanted: its number may have changed.
func (f *finishedJobs) forget(uid string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	delete(f.kept, uid)
}

// mostFinished is how many jobs are learned from, the last ones.
const mostFinished = 500

// finished lists the jobs that are done, the last begun first; but is left
// out: a clock does not learn from itself.
func (s *Shop) finished(tx *store.Tx, but int64) ([]FinishedJob, error) {
	logs, err := tx.HomeLogs(proposalBook, mostFinished)
	if err != nil {
		return nil, err
	}
	s.home.mu.Lock()
	defer s.home.mu.Unlock()
	if s.home.kept == nil {
		s.home.kept = map[string]keptJob{}
	}
	var out []FinishedJob
	for _, l := range logs {
		if l.ClockID == but {
			continue
		}
		worked, err := tx.Log(workBook, l.Name)
		if err != nil {
			return nil, err
		}
		k, ok := s.home.kept[l.Name]
		if !ok || k.proposed != l.Entries || k.worked != worked.Entries {
			if k.job, err = s.finishedJob(tx, l.ClockID); err != nil {
				return nil, err
			}
			k.proposed, k.worked = l.Entries, worked.Entries
			s.home.kept[l.Name] = k
		}
		out = append(out, k.job)
	}
	return out, nil
}

// finishedJob holds the hours of a clock against the version that was agreed
// to.
func (s *Shop) finishedJob(tx *store.Tx, clock int64) (FinishedJob, error) {
	l, err := readProposal(tx, clock)
	if err != nil {
		return FinishedJob{}, err
	}
	h, err := readHours(tx, clock)
	if err != nil {
		return FinishedJob{}, err
	}
	sums := s.hoursOf(h).Sums
	j := FinishedJob{ClockID: clock, Title: l.clock.Title}
	j.Job, j.Actual = l.clock.Number, unit.Duration(sums.Total.Seconds())
	v, _, agreed := l.p.Agreed()
	j.Estimated = v.Answer.Mean
	switch {
	case !agreed:
		j.LeftOut = "no version was agreed to"
	case len(sums.Asked) > 0:
		j.LeftOut = "the end of some work is asked for"
	case len(sums.Runs) > 0:
		j.LeftOut = "work is running"
	case sums.Total == 0:
		j.LeftOut = "no hours are written down"
	}
	return j, nil
}
