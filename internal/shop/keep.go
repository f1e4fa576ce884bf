package shop

import (
	"context"
	"encoding/json"
	"errors"
	"io"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/store"
)

// Keep says how something heard is kept.
type Keep struct {
	Clock int64 // in whose file; 0 is that of the query
	Note  string
	Sound bool // the sound too, where it is still there
}

// Listenings lists what was listened to of a clock, the last kept first,
// removed ones among them; without the answers and the beats.
func (s *Shop) Listenings(ctx context.Context, clock int64) ([]readings.Listening, error) {
	var out []readings.Listening
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if _, err = tx.Clock(clock); err != nil {
			return err
		}
		out, err = tx.Listenings(clock)
		return err
	})
	return out, explain(err)
}

// Listening is one of them with its answer and its beats.
func (s *Shop) Listening(ctx context.Context, id int64) (readings.Listening, error) {
	var l readings.Listening
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		l, err = tx.Listening(id)
		return err
	})
	return l, explain(err)
}

// Unfinished lists live runs that were cut off by an unclean end, or ended
// and were neither kept nor thrown away; those that run now are not in it.
func (s *Shop) Unfinished(ctx context.Context) ([]readings.Listening, error) {
	var all, out []readings.Listening
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		all, err = tx.Unfinished()
		return err
	})
	for _, l := range all {
		if live, err := s.Live(l.UID); err != nil || !live.State().Running {
			out = append(out, l)
		}
	}
	return out, explain(err)
}

// KeepListening keeps in a clock's file what was heard: by a job that has
// ended, by a live run, which ends with it, or of one that was cut off; id is
// theirs.
func (s *Shop) KeepListening(ctx context.Context, by, id string, k Keep) (readings.Listening, error) {
	if j, err := s.ears.job(id); err == nil {
		return s.keepJob(ctx, by, j, k)
	}
	if l, err := s.Live(id); err == nil {
		return s.keepLive(ctx, by, l, k)
	}
	var l readings.Listening
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		l, err = tx.ListeningByUID(id)
		return err
	})
	if err != nil {
		return l, explain(err)
	}
	l = s.reckon(k.on(l)) // outside of the change, which others wait for
	err = s.store.Update(ctx, by, func(tx *store.Tx) (err error) {
		l, err = tx.FinishListening(l)
		return err
	})
	return l, explain(err)
}

// on is a record as it is to be kept.
func (k Keep) on(l readings.Listening) readings.Listening {
	l.Finished = true
	if k.Clock != 0 {
		l.ClockID = k.Clock
	}
	if k.Note != "" {
		l.Note = k.Note
	}
	return l
}

// reckon works out anew what was cut off: its last answer may be older than
// its beats. Where that cannot be read the record stays as it is.
func (s *Shop) reckon(l readings.Listening) readings.Listening {
	var was struct {
		Query   listen.Query `json:"query"`
		Hearing beat.Hearing `json:"hearing"`
	}
	if json.Unmarshal([]byte(l.Answer), &was) != nil {
		return l
	}
	q := was.Query
	q.Hearing = was.Hearing
	q.Hearing.Beats = l.Beats
	a, err := s.ears.solve(q)
	if err != nil {
		return l
	}
	as := asked{ListenQuery: ListenQuery{Clock: l.ClockID}, listen: q}.record(q.Hearing, &a)
	l.Gist, l.Answer, l.Program = as.Gist, as.Answer, as.Program
	return l
}

func (s *Shop) keepJob(ctx context.Context, by string, j *hearJob, k Keep) (readings.Listening, error) {
	j.keeping.Lock()
	defer j.keeping.Unlock()
	st := j.now()
	switch {
	case !st.State.Ended():
		return readings.Listening{}, &Problem{Code: Conflict, Message: "The recording is still being listened to.", Hint: "Keep it when it is done, or stop it first."}
	case st.Kept != 0:
		return readings.Listening{}, errKept
	case st.Answer == nil:
		return readings.Listening{}, &Problem{Code: BadInput, Message: "Nothing was heard that could be kept."}
	}
	l := k.on(j.asked.record(st.Answer.Hearing, st.Answer))
	l.UID = j.id
	j.mu.Lock()
	held := j.held // it is not let go while keeping is had
	j.mu.Unlock()
	if k.Sound && held != nil {
		if err := held.Keep(); err != nil {
			return l, explain(err)
		}
		l.Audio = held.Sum()
	}
	err := s.store.Update(ctx, by, func(tx *store.Tx) (err error) {
		l, err = tx.AddListening(l)
		return err
	})
	if err != nil {
		return l, explain(err)
	}
	j.set(func(st *ListenJob) { st.Kept = l.ID })
	j.release()
	return l, nil
}

var errKept = &Problem{Code: Conflict, Message: "This was kept already.", Hint: "It stands in the clock's file."}

// ThrowAway forgets what was heard by a job, by a live run, which ends with
// it, or what was cut off. What is in a clock's file is not thrown away.
func (s *Shop) ThrowAway(ctx context.Context, by, id string) error {
	if j, err := s.ears.job(id); err == nil {
		j.stop()
		<-j.ended
		s.ears.forget(j)
		return nil
	}
	if l, err := s.Live(id); err == nil {
		return s.throwLive(ctx, by, l)
	}
	return explain(s.store.Update(ctx, by, func(tx *store.Tx) error {
		l, err := tx.ListeningByUID(id)
		if err != nil {
			return err
		}
		return tx.DropListening(l.ID)
	}))
}

// forget takes a job from the list.
func (e *ears) forget(j *hearJob) {
	j.keeping.Lock() // whoever keeps it is let do so
	defer j.keeping.Unlock()
	e.mu.Lock()
	defer e.mu.Unlock()
	for i, x := range e.jobs {
		if x == j {
			e.jobs = append(e.jobs[:i:i], e.jobs[i+1:]...)
			break
		}
	}
	j.release()
}

// RemoveListening marks a listening of a clock's file removed, or puts it
// back.
func (s *Shop) RemoveListening(ctx context.Context, by string, id int64, removed bool) error {
	return explain(s.store.Update(ctx, by, func(tx *store.Tx) error { return tx.RemoveListening(id, removed) }))
}

// NoteListening changes the note of a listening of a clock's file.
func (s *Shop) NoteListening(ctx context.Context, by string, id int64, note string) error {
	return explain(s.store.Update(ctx, by, func(tx *store.Tx) error { return tx.NoteListening(id, note) }))
}

// Sound opens the recording that was kept with a listening.
func (s *Shop) Sound(ctx context.Context, id int64) (io.ReadSeekCloser, error) {
	l, err := s.Listening(ctx, id)
	if err != nil {
		return nil, err
	}
	f, err := s.ears.files.Get(l.Audio)
	if errors.Is(err, blob.ErrNotFound) {
		return nil, &Problem{Code: NotFound, Message: "The sound of this listening is not here.", Hint: "It was not kept, or the records came from a copy without the recordings.", cause: err}
	}
	return f, err
}

// Calibrations lists the last calibration of each recorder, by its name.
func (s *Shop) Calibrations(ctx context.Context) ([]readings.Calibration, error) {
	var out []readings.Calibration
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		out, err = tx.Calibrations()
		return err
	})
	return out, explain(err)
}

// Calibrate keeps what was found of a recorder's clock.
func (s *Shop) Calibrate(ctx context.Context, by string, c readings.Calibration) (readings.Calibration, error) {
	c.By = by
	err := s.store.Update(ctx, by, func(tx *store.Tx) (err error) {
		c, err = tx.SetCalibration(c)
		return err
	})
	return c, explain(err)
}

// sampleClock is what is known of a recorder's clock.
func (s *Shop) sampleClock(device string) sampleclock.Clock {
	c := sampleclock.Unknown()
	c.Device = device
	if device == "" {
		return c
	}
	err := s.store.View(context.Background(), func(tx *store.Tx) error {
		kept, err := tx.Calibration(device)
		if err == nil {
			c = kept.Clock.Later()
		}
		return err
	})
	if err != nil {
		return c // not calibrated, or it cannot be read: nothing is known
	}
	return c
}
