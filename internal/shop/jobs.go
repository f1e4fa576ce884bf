package shop

import (
	"context"
	"errors"
	"io"
	"slices"
	"sync"
	"time"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/io/blob"
	"seatboard/internal/kit/progress"
)

// JobState is how far the listening to a recording is.
type JobState string

// The states, in their order; the last three are ends.
const (
	Waiting JobState = "waiting"
	Running JobState = "running"
	Done    JobState = "done"
	Failed  JobState = "failed"
	Stopped JobState = "stopped" // by the user; what was heard until then is answered
)

// Ended tells whether nothing more comes.
func (s JobState) Ended() bool { return s == Done || s == Failed || s == Stopped }

// ListenJob is the listening to one recording, as it is at one moment.
type ListenJob struct {
	ID          string
	Query       ListenQuery
	State       JobState
	Began       time.Time
	Ended       time.Time      // zero while it runs
	Done, Total int64          // samples; Total is 0 where it is not known
	Answer      *listen.Answer // nil until it is done or stopped
	Problem     *Problem       // why it failed
	Sound       bool           // the sound can be kept with it
	Kept        int64          // the listening in the clock's file; 0 while it is in none
}

// hearJob is one of them while it lives.
type hearJob struct {
	id      string
	asked   asked
	counter progress.Counter
	cancel  context.CancelFunc
	ended   chan struct{}
	keeping sync.Mutex // one keeps it at a time

	mu    sync.Mutex
	state ListenJob
	held  *blob.Held // the sound, where it may be kept
}

const (
	mostSound  = 2 << 30 // bytes of a recording that is taken in
	mostSounds = 4       // recordings heard and not kept whose sound is still there
)

// Receive takes an uploaded recording in, so that it can be listened to and
// kept afterwards: it is given to StartListening, or closed.
func (s *Shop) Receive(ctx context.Context, sound io.Reader) (io.ReadCloser, error) {
	held, err := s.ears.files.Hold(ctx, sound, mostSound)
	if errors.Is(err, blob.ErrTooLarge) {
		return nil, &Problem{Code: TooLarge, Message: "The recording is larger than 2 GB.", Hint: "Nothing was kept. Listen to it by its name: seatboard listen FILE.", cause: err}
	}
	if err != nil {
		return nil, explain(err)
	}
	return held, nil
}

// StartListening begins to listen to a recording and returns at once. The
// sound is closed when it has been heard; one from Receive some time after,
// so that it can be kept. sound may be nil where q has the times of beats.
func (s *Shop) StartListening(q ListenQuery, sound io.ReadCloser) (id string, err error) {
	letGo := func(err error) (string, error) {
		if sound != nil {
			_ = sound.Close() // it was not read
		}
		return "", err
	}
	a, err := s.ask(q)
	if err != nil {
		return letGo(err)
	}
	if id, err = newUID(); err != nil {
		return letGo(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	j := &hearJob{id: id, asked: a, cancel: cancel, ended: make(chan struct{})}
	j.state = ListenJob{ID: id, Query: q, State: Waiting, Began: s.now()}
	if held, ok := sound.(*blob.Held); ok {
		j.held, j.state.Sound = held, true
	}
	if err := s.ears.take(j); err != nil {
		cancel()
		return letGo(err)
	}
	go func() {
		defer s.ears.all.Done()
		defer close(j.ended)
		defer cancel()
		if sound != nil && j.held == nil { // a stop must not wait for sound that does not come
			context.AfterFunc(ctx, func() { _ = sound.Close() }) // it was only read
		}
		answer, err := s.work(ctx, j, sound)
		j.finish(s.now(), answer, err, ctx.Err() != nil)
		s.ears.trim()
	}()
	return id, nil
}

// take takes a job into the list, and forgets the oldest that ended.
func (e *ears) take(j *hearJob) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.closed {
		return errClosing
	}
	running := 0
	for _, x := range e.jobs {
		if !x.now().State.Ended() {
			running++
		}
	}
	if running >= mostWaiting {
		return tooMany(running, "recordings being listened to", "Wait until one is done, or stop one.")
	}
	for len(e.jobs) >= mostJobs {
		i := slices.IndexFunc(e.jobs, func(x *hearJob) bool { return x.now().State.Ended() })
		e.jobs[i].letGo()
		e.jobs = slices.Delete(e.jobs, i, i+1)
	}
	e.jobs = append(e.jobs, j)
	e.all.Add(1)
	return nil
}

// trim lets go of the sound of recordings heard long ago.
func (e *ears) trim() {
	e.mu.Lock()
	defer e.mu.Unlock()
	holding := 0
	for _, j := range slices.Backward(e.jobs) {
		if st := j.now(); st.State.Ended() && st.Sound {
			if holding++; holding > mostSounds {
				j.letGo()
			}
		}
	}
}

// work listens and works out what was heard.
func (s *Shop) work(ctx context.Context, j *hearJob, sound io.Reader) (*listen.Answer, error) {
	q := j.asked.listen
	if t := j.asked.Times; t != nil {
		q.Hearing = *t
	} else {
		select {
		case s.ears.turn <- struct{}{}:
			defer func() { <-s.ears.turn }()
		case <-ctx.Done():
			return nil, nil
		}
		j.set(func(st *ListenJob) { st.State = Running })
		src, err := s.ears.decode(ctx, sound, j.asked.Channel)
		if err != nil {
			return nil, err
		}
		j.counter.Expect(framesOf(src))
		ear := s.ears.hear(src, beat.Options{Beat: j.asked.hint, Progress: &j.counter})
		err = ear.Run(ctx)
		if err = errors.Join(err, src.Close()); err != nil && ctx.Err() == nil {
			return nil, soundProblem(err)
		}
		q.Hearing, q.Notes = ear.Heard(), src.Notes()
	}
	a, err := s.ears.solve(q)
	if err != nil {
		return nil, err
	}
	return &a, nil
}

func (j *hearJob) set(f func(*ListenJob)) {
	j.mu.Lock()
	defer j.mu.Unlock()
	f(&j.state)
}

func (j *hearJob) finish(at time.Time, a *listen.Answer, err error, stopped bool) {
	j.set(func(st *ListenJob) {
		st.Answer, st.Ended = a, at
		switch {
		case stopped:
			st.State = Stopped
		case err != nil:
			st.State, st.Problem = Failed, AsProblem(err)
		default:
			st.State = Done
		}
	})
}

func (j *hearJob) stop() { j.cancel() }

// letGo forgets the sound, unless it is being kept.
func (j *hearJob) letGo() {
	if j.keeping.TryLock() {
		j.release()
		j.keeping.Unlock()
	}
}

// release forgets the sound; the caller has keeping.
func (j *hearJob) release() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.held != nil {
		_ = j.held.Close() // it is taken away at the next start at the latest
		j.held, j.state.Sound = nil, false
	}
}

// now is the job as it is.
func (j *hearJob) now() ListenJob {
	j.mu.Lock()
	defer j.mu.Unlock()
	st := j.state
	st.Done, st.Total = j.counter.Sample()
	return st
}

// Jobs lists the recordings that are listened to or were lately, the last
// begun first.
func (s *Shop) Jobs() []ListenJob {
	s.ears.mu.Lock()
	jobs := slices.Clone(s.ears.jobs)
	s.ears.mu.Unlock()
	out := make([]ListenJob, 0, len(jobs))
	for _, j := range slices.Backward(jobs) {
		out = append(out, j.now())
	}
	return out
}

// Job is one of them as it is now.
func (s *Shop) Job(id string) (ListenJob, error) {
	j, err := s.ears.job(id)
	if err != nil {
		return ListenJob{}, err
	}
	return j.now(), nil
}

func (e *ears) job(id string) (*hearJob, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, j := range e.jobs {
		if j.id == id {
			return j, nil
		}
	}
	return nil, errNoJob
}

// StopJob stops listening; what was heard until then is answered.
func (s *Shop) StopJob(id string) error {
	j, err := s.ears.job(id)
	if err != nil {
		return err
	}
	j.stop()
	return nil
}

// WaitJob waits until a job has ended, or ctx has, and gives it as it is.
func (s *Shop) WaitJob(ctx context.Context, id string) (ListenJob, error) {
	j, err := s.ears.job(id)
	if err != nil {
		return ListenJob{}, err
	}
	select {
	case <-j.ended:
	case <-ctx.Done():
	}
	return j.now(), nil
}
