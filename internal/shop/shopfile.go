package shop

import (
	"context"
	"errors"
	"io"
	"slices"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// Export writes one clock's file as JSON, with its history, its logs and all
// that was listened to; of recordings only the SHA-256, of photographs only
// what is written of them.
func (s *Shop) Export(ctx context.Context, id int64, w io.Writer) error {
	var f job.File
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if f.Clock, err = tx.Clock(id); err != nil {
			return err
		}
		if f.Survey, err = tx.Survey(id); err != nil {
			return err
		}
		list, err := tx.Listenings(id)
		if err != nil {
			return err
		}
		for _, l := range slices.Backward(list) {
			if l, err = tx.Listening(l.ID); err != nil {
				return err
			}
			f.Listenings = append(f.Listenings, l)
		}
		if f.Logs, err = exportLogs(tx, f.Clock); err != nil {
			return err
		}
		if f.Photos, err = tx.ClockPhotos(id); err != nil {
			return err
		}
		main, err := tx.ChosenPhoto(id)
		if err != nil && !errors.Is(err, store.ErrNoPhoto) {
			return err
		}
		f.Main = main.UID
		f.History, err = tx.Changes(id)
		return err
	})
	if err != nil {
		return explain(err)
	}
	slices.Reverse(f.History) // oldest first
	var faults meas.Faults
	if err = job.Encode(w, f); errors.As(err, &faults) {
		return &Problem{Code: TooLarge, Message: "The clock's file cannot be written as one JSON file.", Hint: "Nothing was written.", Fields: faults, cause: err}
	}
	return err
}

// Brought is a clock that was taken in from a file.
type Brought struct {
	Clock  job.Clock
	Unread []string // paths of what this program does not know; it is kept in the history
	Ended  []string // in sentences, what was under way in the file and does not go on here
}

// Import takes in a clock from a file that Export wrote, all of it or nothing.
// Where its number is taken it gets the next one; where the very clock is here
// already nothing changes and the Problem says so. A bath or a stretch of work
// that was under way goes on where it was begun and not here.
func (s *Shop) Import(ctx context.Context, by string, r io.Reader) (Brought, error) {
	var out Brought
	f, err := job.Decode(r)
	if err == nil {
		err = passOverLogs(&f)
	}
	if err != nil {
		return out, fileProblem(err)
	}
	for _, u := range f.Unread {
		out.Unread = append(out.Unread, u.Path)
	}
	err = s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.ClockByUID(f.Clock.UID)
		if err == nil {
			return here(c)
		}
		if !errors.Is(err, store.ErrNotFound) {
			return err
		}
		if out.Clock, err = s.importNumbered(tx, f); err != nil {
			return err
		}
		if err = s.importLogs(tx, out.Clock, f.Logs); err != nil {
			return err
		}
		out.Ended, err = s.endImported(tx, by, out.Clock)
		return err
	})
	var faults meas.Faults
	if errors.As(err, &faults) {
		err = fileProblem(err)
	}
	return out, explain(err)
}

// importNumbered brings a clock in under its number, or under the next free
// one where that is taken.
func (s *Shop) importNumbered(tx *store.Tx, f job.File) (job.Clock, error) {
	kept, err := tx.ImportClock(f)
	var taken *store.NumberTakenError
	if !errors.As(err, &taken) {
		return kept, err
	}
	year := s.now().Local().Year()
	numbers, err := tx.Numbers(strconv.Itoa(year))
	if err != nil {
		return kept, err
	}
	f.Clock.Number = job.NextNumber(year, numbers)
	return tx.ImportClock(f)
}

// fileProblem explains a file that is not a clock's.
func fileProblem(err error) error {
	var faults meas.Faults
	if errors.As(err, &faults) {
		return &Problem{Code: BadInput, Message: "The file is not a clock that Seatboard can read.", Hint: "Nothing was brought in. The file may be cut short or changed by hand.", Fields: faults, cause: err}
	}
	return &Problem{Code: BadInput, Message: "The file could not be read: " + err.Error() + ".", Hint: "Nothing was brought in.", cause: err}
}
