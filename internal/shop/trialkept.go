package shop

import (
	"context"
	"errors"
	"sync"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// keptTrials keeps the trials last read with what was reckoned of them, so
// that a page need not do it again; and by how much the computer's clock had
// been set when each was written last.
type keptTrials struct {
	mu    sync.Mutex
	kept  map[string]keptTrial // by the clock's UID
	watch *hostclock.Watch
	setAt map[string]unit.Duration
}

type keptTrial struct {
	entries   int
	touched   time.Time
	survey    surveyVersions
	made      time.Time
	book      *trial.Book
	answer    *regulate.Answer
	unsolved  meas.Faults
	questions []regulate.Question
	damaged   meas.Faults
	goes      meas.Result[unit.Duration] // from winding to winding, by the drive
}

// How long what was reckoned of a trial stands: for its own page as for now;
// for a list of many clocks as long as nothing is written of it, a day at the
// most.
const (
	freshTrial = 10 * time.Minute
	restsTrial = 24 * time.Hour
)

// mostTrials is how many trials are kept.
const mostTrials = 64

// surveyVersions tells one state of a survey from another.
type surveyVersions [3]int

func versionsOf(s job.Survey) (v surveyVersions) {
	for i, key := range []string{job.TrainPart, job.PendulumPart, job.DrivePart} {
		if p := s[key]; p.Removed.IsZero() {
			v[i] = p.Version
		}
	}
	return v
}

// find is what is kept of a trial; false where its log or the survey is another
// than it was, or it was reckoned longer ago than oldest.
func (k *keptTrials) find(l store.Log, survey surveyVersions, now time.Time, oldest time.Duration) (keptTrial, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	have, ok := k.kept[l.Name]
	old := now.Sub(have.made)
	return have, ok && have.entries == l.Entries && have.touched.Equal(l.Touched) && have.survey == survey && old >= 0 && old < oldest
}

// known is the log of a trial as it was read last, nil where nothing is kept of
// it or some of it could not be.
func (k *keptTrials) known(l store.Log) []trial.Event {
	k.mu.Lock()
	defer k.mu.Unlock()
	if have := k.kept[l.Name]; have.book != nil && len(have.damaged) == 0 {
		return have.book.Log()
	}
	return nil
}

// keep keeps what was reckoned of a trial.
func (k *keptTrials) keep(l store.Log, survey surveyVersions, got keptTrial) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil || len(k.kept) >= mostTrials {
		k.kept = map[string]keptTrial{}
	}
	got.entries, got.touched, got.survey = l.Entries, l.Touched, survey
	k.kept[l.Name] = got
}

// reckonTrial works out what a log says of its clock.
func (s *Shop) reckonTrial(ctx context.Context, log []trial.Event, survey job.Survey) (keptTrial, error) {
	k := keptTrial{made: s.now()}
	b, err := trial.Fold(log)
	if err != nil && !errors.As(err, &k.damaged) {
		return keptTrial{}, err
	}
	q := b.Query(s.Zone())
	q.Now = k.made
	worked := s.worked(ctx, survey)
	if p := worked.Pendulum; p != nil {
		q.Known = KnownOf(*p)
	}
	if d := worked.Drive; d != nil {
		k.goes = goesOf(*d)
	}
	a, err := solveForHome(ctx, b, q, worked.Pendulum)
	if err != nil && !errors.As(err, &k.unsolved) {
		return keptTrial{}, err
	}
	k.book, k.answer, k.questions = &b, &a, b.Questions()
	for _, q := range a.Questions {
		if !b.Settled(q) {
			k.questions = append(k.questions, q)
		}
	}
	return k, nil
}

// ReadSurveys says how a survey is read from what was typed in its parts; a
// part that cannot be read is nil. It is said once, before the shop is used;
// until then nothing is known of a clock on trial beforehand.
func (s *Shop) ReadSurveys(read func(typed map[string]map[string][]string) Survey) {
	s.surveyed = read
}

// worked is the answers of a survey as it is kept; nothing where nobody said
// how it is read.
func (s *Shop) worked(ctx context.Context, survey job.Survey) Surveyed {
	if s.surveyed == nil {
		return Surveyed{}
	}
	typed := map[string]map[string][]string{}
	for key, p := range survey {
		if p.Removed.IsZero() {
			typed[key] = p.Values
		}
	}
	return WorkSurvey(ctx, s.surveyed(typed))
}

// goesOf is how long a clock goes wound up: by its spring and fusee, or by its weight
// until that is down or stands on the floor.
func goesOf(d drive.Answer) meas.Result[unit.Duration] {
	if !d.Fall.RunningTime.Set {
		return d.Fusee.Running
	}
	if l := d.Fall.LandsAfter; l.Set && l.Value < d.Fall.RunningTime.Value {
		return l
	}
	return d.Fall.RunningTime
}

// KnownOf is what a pendulum's sums tell of a clock on trial: what a turn of
// the nut, a gram on the tray and a degree do. A tray that was not stated does
// nothing.
func KnownOf(a pendulum.Answer) regulate.Known {
	return regulate.Known{PerTurn: a.Nut.PerTurn, PerGram: a.Tray.PerGram, PerKelvin: a.Warmth.PerKelvin, Divisions: a.Query.NutDivisions}
}

// set is by how much the computer's clock was set since this trial was written
// last, as far as this run of the program saw; 0 where the time of day is not
// the computer's.
func (k *keptTrials) set(uid string, now time.Time) unit.Duration {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.watch == nil || now == now.Round(0) {
		return 0
	}
	return k.watch.Set(now) - k.setAt[uid]
}

// wrote notes that a trial was written.
func (k *keptTrials) wrote(uid string, now time.Time) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.watch == nil || now == now.Round(0) {
		return
	}
	if k.setAt == nil {
		k.setAt = map[string]unit.Duration{}
	}
	k.setAt[uid] = k.watch.Set(now)
}

// leastSet is the least setting of the computer's clock that is written down;
// below it are only the moments between two looks.
const leastSet unit.Duration = 0.05

// hostNow is where an instant is from, with what this computer says of its
// clock and by how much that was set.
func hostNow(ctx context.Context, out trial.Host, set unit.Duration) *trial.Host {
	if max(set, -set) >= leastSet {
		out.Stepped = set
	}
	if out.Kept != "" {
		return &out
	}
	switch st := hostclock.Disciplined(ctx); {
	case !st.Known:
		out.Kept = trial.NotKnown
	case !st.Disciplined:
		out.Kept = trial.NotKeptRight
	default:
		out.Kept = trial.KeptRight
		if out.U == 0 {
			out.U = max(st.Host().Wander, st.EstError)
		}
	}
	return &out
}
