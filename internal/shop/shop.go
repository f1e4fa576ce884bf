// Package shop is the list of things the program can do: each a function from
// what was asked to an answer, over the store and the craft. The page and the
// command line call the same functions.
//
// What goes wrong comes back as a [Problem], which may be shown; anything
// else is a fault of the program and goes to the log.
package shop

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"strconv"
	"sync"
	"syscall"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/io/photo"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// Shop is an open shop: its records and its clock on the wall.
type Shop struct {
	store *store.Store
	now   func() time.Time
	ears  *ears
	alarm *alarm

	inBaths untilWritten[[]Bath] // the batches under way

	folded foldedLedgers
	atWork untilWritten[[]Work] // the running clocks and what is asked about
	home   finishedJobs
	drafts reckonedDrafts
	low    lowStores
	trials keptTrials
	stops  keptStops
	tables tables

	tried   triedClocks
	lacking wantedClocks

	surveyed func(typed map[string]map[string][]string) Survey // how a survey is read

	small   photo.Cache
	looking chan struct{} // one photograph is looked into at a time
	wanted  chan struct{} // a look that has not begun
	uploads uploads

	open   context.Context // ends with the shop
	shut   context.CancelFunc
	behind sync.WaitGroup // what goes on behind answers
}

// Open opens the shop kept in a folder, and makes the folder where there is
// none.
func Open(ctx context.Context, dir string, now func() time.Time) (*Shop, error) {
	s, err := store.Open(ctx, dir, store.Options{Now: now})
	if err != nil {
		return nil, explain(err)
	}
	files, err := blob.Open(dir)
	if err != nil {
		return nil, errors.Join(explain(err), s.Close())
	}
	shop := &Shop{store: s, now: now, ears: newEars(files), alarm: newAlarm(), small: photo.OpenCache(dir), looking: make(chan struct{}, 1), wanted: make(chan struct{}, 1)}
	shop.trials.watch = hostclock.NewWatch(time.Now())
	shop.open, shop.shut = context.WithCancel(context.WithoutCancel(ctx))
	if err := shop.readUnfoundParts(ctx); err != nil {
		return nil, errors.Join(explain(err), shop.Close())
	}
	return shop, nil
}

// Close stops what goes on behind answers and closes the shop.
func (s *Shop) Close() error {
	s.shut()
	s.behind.Wait()
	s.ears.close()
	return s.store.Close()
}

// File is one clock's file.
type File struct {
	Clock  job.Clock
	Survey job.Survey
}

// File loads a clock's file.
func (s *Shop) File(ctx context.Context, id int64) (File, error) {
	var f File
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if f.Clock, err = tx.Clock(id); err != nil {
			return err
		}
		f.Survey, err = tx.Survey(id)
		return err
	})
	return f, explain(err)
}

// List is clocks as lines.
type List struct {
	Find   string    // the words asked for, "" for all
	Stage  job.Stage // asked for, "" for all
	Clocks []job.Summary
	Total  int    // of all that were found
	After  string // where the next page begins, "" at the end

	Parts     []FoundPart // on the first page of a search
	MoreParts bool        // there are others
}

// pageLength is how many clocks stand on a page of the list.
const pageLength = 50

// Find lists the clocks whose file has all the words, the one touched last
// first; without words it lists all. With the first page come the parts that
// are found.
func (s *Shop) Find(ctx context.Context, text, after string) (List, error) {
	l := List{Find: text}
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		words := job.Words(text)
		if l.Clocks, l.After, l.Total, err = tx.List(words, after, pageLength); err != nil || after != "" {
			return err
		}
		l.Parts, l.MoreParts, err = findParts(tx, words, partsLength)
		return err
	})
	return l, explain(err)
}

// FindStage lists the clocks at a stage, the one touched last first.
func (s *Shop) FindStage(ctx context.Context, stage job.Stage, after string) (List, error) {
	l := List{Stage: stage}
	err := s.store.View(ctx, func(tx *store.Tx) error {
		counts, err := tx.StageCounts()
		if err != nil {
			return err
		}
		l.Total = counts[stage]
		l.Clocks, l.After, err = tx.ListStage(stage, after, pageLength)
		return err
	})
	return l, explain(err)
}

// NextNumber proposes the number of the next clock.
func (s *Shop) NextNumber(ctx context.Context) (string, error) {
	year := s.now().Local().Year()
	var taken []string
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		taken, err = tx.Numbers(strconv.Itoa(year))
		return err
	})
	return job.NextNumber(year, taken), explain(err)
}

// AddClock takes a clock into the book.
func (s *Shop) AddClock(ctx context.Context, by string, c job.Clock) (job.Clock, error) {
	uid, err := newUID()
	if err != nil {
		return c, err
	}
	c.UID = uid
	if c.Stage == "" {
		c.Stage = job.TakingIn
	}
	err = s.update(ctx, by, c.Check, func(tx *store.Tx) (err error) {
		c, err = tx.AddClock(c)
		return err
	})
	return c, err
}

// SaveClock keeps a changed record; the version it was read at must be the
// one that is kept.
func (s *Shop) SaveClock(ctx context.Context, by string, c job.Clock) (job.Clock, error) {
	if c.Stage == job.GoingHome || c.Stage == job.GoneHome {
		if err := s.readyToGo(ctx, c); err != nil {
			return c, err
		}
	}
	err := s.update(ctx, by, c.Check, func(tx *store.Tx) (err error) {
		if c.Stage == job.Trial {
			was, err := tx.Clock(c.ID)
			if err != nil {
				return err
			}
			if was.Stage != job.Trial {
				if err := readyForTrial(tx, was); err != nil {
					return err
				}
			}
		}
		c, err = tx.SaveClock(c)
		return err
	})
	s.home.forget(c.UID)
	return c, err
}

// SavePart keeps a part of the survey as typed.
func (s *Shop) SavePart(ctx context.Context, by string, clock int64, key string, p job.Part) (job.Part, error) {
	check := func() []meas.Fault { return p.Check(key) }
	err := s.update(ctx, by, check, func(tx *store.Tx) (err error) {
		p, err = tx.SavePart(clock, key, p)
		return err
	})
	return p, err
}

func (s *Shop) update(ctx context.Context, by string, check func() []meas.Fault, do func(*store.Tx) error) error {
	if faults := check(); len(faults) > 0 {
		return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: faults}
	}
	return explain(s.store.Update(ctx, by, do))
}

// History is every change of a clock's file, newest first.
func (s *Shop) History(ctx context.Context, id int64) ([]job.Change, error) {
	var out []job.Change
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		out, err = tx.Changes(id)
		return err
	})
	return out, explain(err)
}

func newUID() (string, error) {
	var b [8]byte
	if _, err := rand.Read(b[:]); err != nil {
		return "", err
	}
	return hex.EncodeToString(b[:]), nil
}

// explain turns the store's errors into problems.
func explain(err error) error {
	var taken *store.NumberTakenError
	var conflict *store.ConflictError
	var part *store.PartConflictError
	var inUse *store.InUseError
	var folder *store.FolderError
	var copied *store.CopyError
	var sound *store.SoundError
	var grown *store.LogConflictError
	switch {
	case err == nil:
		return nil
	case errors.Is(err, store.ErrNotFound):
		return &Problem{Code: NotFound, Message: "There is no such clock in the book.", Hint: "Find it by its number.", cause: err}
	case errors.Is(err, store.ErrNoListening):
		return &Problem{Code: NotFound, Message: errNoJob.Message, Hint: errNoJob.Hint, cause: err}
	case errors.Is(err, store.ErrFinished):
		return &Problem{Code: Conflict, Message: errKept.Message, Hint: errKept.Hint, cause: err}
	case errors.As(err, &taken):
		return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", cause: err,
			Fields: meas.Faults{{Field: "number", Text: "Another clock has this number; choose one that is free"}}}
	case errors.As(err, &conflict):
		return meanwhile(err, conflict.Differences())
	case errors.As(err, &part):
		return meanwhile(err, part.Differences())
	case errors.As(err, &grown):
		return &Problem{Code: Conflict, Message: "Someone else wrote here meanwhile.", Hint: "Nothing of yours was kept and nothing was overwritten. Look at what stands there now, and save once more.", cause: err}
	case errors.As(err, &inUse):
		return &Problem{Code: InUse, Message: fmt.Sprintf("This shop is open in another Seatboard (process %d).", inUse.PID), Hint: "Use that one, or close it first.", cause: err}
	case errors.Is(err, store.ErrUIDTaken):
		return &Problem{Code: Conflict, Message: "This clock is in the book already.", Hint: "Nothing was changed. Find it by its number.", cause: err}
	case errors.As(err, &sound):
		return &Problem{Code: Storage, Message: "The file " + sound.SHA256 + " of a recording or a photograph cannot be copied: " + sound.Why + ".", Hint: "Nothing was written. Put it back into the folder files from an earlier backup, or write the backup without it: --leave-out-damaged.", cause: err}
	case errors.Is(err, blob.ErrSum):
		return &Problem{Code: Storage, Message: "A recording or a photograph is damaged, in the backup or in the folder it is restored to.", Hint: "No shop was made. Choose an empty folder; if that does not help, another backup.", cause: err}
	case errors.Is(err, context.Canceled):
		return &Problem{Code: Conflict, Message: "It was stopped.", Hint: "Nothing was half written.", cause: err}
	case errors.As(err, &copied):
		return &Problem{Code: Storage, Message: "The copy " + copied.File + " cannot be used: " + copied.Why + ".", Hint: "Nothing was changed. Choose another file.", cause: err}
	case errors.As(err, &folder):
		return &Problem{Code: Storage, Message: "The shop cannot be kept in " + folder.Dir + ": " + folder.Why + ".", Hint: "Choose another folder with --data.", cause: err}
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, os.ErrPermission):
		return &Problem{Code: Storage, Message: "The disk did not take it.", Hint: "Make room on the disk and save once more; nothing was half written.", cause: err}
	}
	return err
}

// meanwhile is the problem of a record that was saved in another window.
func meanwhile(cause error, differ []job.Change) *Problem {
	return &Problem{Code: Conflict, Message: "This was saved meanwhile in another window.", Hint: "Look at the other version before you save yours.", Differ: differ, cause: cause}
}
