package store

import (
	"errors"
	"fmt"
	"syscall"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"seatboard/internal/book/job"
)

// ErrNotFound is returned for a clock that is not in the book.
var ErrNotFound = errors.New("store: no such clock")

// ErrReadOnly is returned by Update on a store opened to be read only.
var ErrReadOnly = errors.New("store: the folder is open to be read only")

// ErrUIDTaken is returned when the very clock is in the book already.
var ErrUIDTaken = errors.New("store: a clock with this identifier is in the book")

// ErrDisk is wrapped by the error of a write that the disk did not take: it
// is full or failing. Nothing of the change is kept; what was confirmed
// before stands. It is also syscall.ENOSPC to errors.Is.
var ErrDisk = fmt.Errorf("store: the disk did not take it: %w", syscall.ENOSPC)

// NumberTakenError is returned when another clock has the number.
type NumberTakenError struct{ Number string }

func (e *NumberTakenError) Error() string {
	return fmt.Sprintf("store: the number %q is taken", e.Number)
}

// ConflictError is returned when a record was saved meanwhile: the record
// that stands and the one that was to be saved, which was not.
type ConflictError struct{ Stored, Yours job.Clock }

func (e *ConflictError) Error() string { return "store: the record was saved meanwhile" }

// Differences lists the fields in which the two differ: Before is what
// stands, After what was to be saved.
func (e *ConflictError) Differences() []job.Change { return job.Diff(e.Stored, e.Yours) }

// PartConflictError is ConflictError for a part of the survey.
type PartConflictError struct {
	Key           string
	Stored, Yours job.Part
}

func (e *PartConflictError) Error() string { return "store: the part was saved meanwhile" }

// Differences lists the values in which the two differ: Before is what
// stands, After what was to be saved.
func (e *PartConflictError) Differences() []job.Change {
	return job.DiffPart(e.Key, e.Stored, e.Yours)
}

// FolderError says why the records cannot be kept where they were wanted.
// Why is the end of a sentence.
type FolderError struct{ Dir, Why string }

func (e *FolderError) Error() string { return fmt.Sprintf("store: %s: %s", e.Dir, e.Why) }

// InUseError is returned when another process has the folder; PID is 0 where
// it could not be told.
type InUseError struct {
	Dir string
	PID int
}

func (e *InUseError) Error() string {
	if e.PID == 0 {
		return fmt.Sprintf("store: %s is in use by another process", e.Dir)
	}
	return fmt.Sprintf("store: %s is in use by process %d", e.Dir, e.PID)
}

// CopyError says why a copy of the records is refused.
// Why is the end of a sentence.
type CopyError struct{ File, Why string }

func (e *CopyError) Error() string { return fmt.Sprintf("store: copy %s: %s", e.File, e.Why) }

// SoundError says why a recording that the records name cannot be copied.
// Why is a clause: "it is missing".
type SoundError struct{ SHA256, Why string }

func (e *SoundError) Error() string {
	return fmt.Sprintf("store: recording %s: %s", e.SHA256, e.Why)
}

// explained marks what SQLite or the system says of a full disk as [ErrDisk].
func explained(err error) error {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		if err != nil && isFull(err) && !errors.Is(err, ErrDisk) {
			return fmt.Errorf("%w: %w", ErrDisk, err)
		}
		return err
	}
	switch code := e.Code(); {
	case code&0xff == lib.SQLITE_FULL, code == lib.SQLITE_IOERR_WRITE, code == lib.SQLITE_IOERR_FSYNC,
		code == lib.SQLITE_IOERR_TRUNCATE, code == lib.SQLITE_IOERR_SHMSIZE, code == lib.SQLITE_IOERR_DIR_FSYNC:
		return fmt.Errorf("%w: %w", ErrDisk, err)
	}
	return err
}
