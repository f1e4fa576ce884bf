// Package store keeps the shop's records in one folder: workshop.db (SQLite,
// WAL, synchronous FULL), its lock, and copies made before a migration.
//
// A write that [Store.Update] has confirmed survives kill -9 and a power cut.
// One process owns a folder; a second one is refused with [*InUseError].
// Folders on a network or in a cloud's folder are refused, for neither keeps
// SQLite's promises. Nothing but this package opens the live database: on
// Linux any other open and close of the file would drop the locks, which is
// why OFD locks are used there as well.
//
// SQL stands by hand beside the code that scans it, in the subset that
// PostgreSQL shares ($1 parameters, RETURNING, ON CONFLICT). STRICT tables
// and pragmas are SQLite's and stay in the migrations and in dsn.go.
//
// Every change of a record keeps who, when, before and after; removal is a
// mark. Lists are in the order of touching, counted, not by the wall clock,
// so that a clock set back does not reorder the book.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"seatboard/internal/book/job"
)

// ErrNotFound is returned for a clock that is not in the book.
var ErrNotFound = errors.New("store: no such clock")

// NumberTakenError is returned when another clock has the number.
type NumberTakenError struct{ Number string }

func (e *NumberTakenError) Error() string {
	return fmt.Sprintf("store: the number %q is taken", e.Number)
}

// ConflictError is returned when a record was saved meanwhile.
type ConflictError struct{ Stored job.Clock }

func (e *ConflictError) Error() string { return "store: the record was saved meanwhile" }

// PartConflictError is ConflictError for a part of the survey.
type PartConflictError struct{ Stored job.Part }

func (e *PartConflictError) Error() string { return "store: the part was saved meanwhile" }

// Options of a store.
type Options struct {
	Now func() time.Time // the clock on the wall; time.Now if nil
}

// Store is an open folder. It may be used from several goroutines.
type Store struct {
	dir   string
	now   func() time.Time
	lock  *lock
	write *sql.DB // one connection
	read  *sql.DB
	// Unclean tells that the last owner did not close the store; the records
	// are whole all the same, but a look is worth while.
	Unclean bool
}

const (
	dbName    = "workshop.db"
	openMark  = "open" // stands while the store is open
	copiesDir = "before-migration"
)

// Open opens the store in a folder, which is made if it is not there.
// It fails with *FolderError, *InUseError or an error of the database.
func Open(ctx context.Context, dir string, o Options) (*Store, error) {
	if o.Now == nil {
		o.Now = time.Now
	}
	dir, err := prepare(dir)
	if err != nil {
		return nil, err
	}
	l, err := takeLock(dir)
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, now: o.Now, lock: l}
	if err := s.open(ctx); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

func (s *Store) open(ctx context.Context) error {
	mark := filepath.Join(s.dir, openMark)
	_, err := os.Stat(mark)
	s.Unclean = err == nil
	if err := os.WriteFile(mark, nil, 0o600); err != nil {
		return &FolderError{s.dir, "it cannot be written to"}
	}
	path := filepath.Join(s.dir, dbName)
	if s.write, err = connect(path, false); err != nil {
		return err
	}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(ctx); err != nil {
		return err
	}
	s.read, err = connect(path, true)
	return err
}

// Close ends the store; what runs is finished first.
func (s *Store) Close() error {
	var errs []error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	if s.write != nil {
		errs = append(errs, os.Remove(filepath.Join(s.dir, openMark)))
	}
	return errors.Join(append(errs, s.lock.release())...)
}

// Tx is one look at the records, or one change of them, at one instant.
type Tx struct {
	ctx context.Context
	tx  *sql.Tx
	now time.Time
	by  string
}

// Now is the one instant of the transaction, UTC.
func (tx *Tx) Now() time.Time { return tx.now }

// View looks at the records as they are at one moment.
func (s *Store) View(ctx context.Context, f func(*Tx) error) error {
	return s.run(ctx, s.read, &sql.TxOptions{ReadOnly: true}, "", f)
}

// Update changes the records: all of f or nothing. When it returns nil the
// change is on the disk. by is who makes it.
func (s *Store) Update(ctx context.Context, by string, f func(*Tx) error) error {
	return s.run(ctx, s.write, nil, by, f)
}

func (s *Store) run(ctx context.Context, db *sql.DB, o *sql.TxOptions, by string, f func(*Tx) error) error {
	tx, err := db.BeginTx(ctx, o)
	if err != nil {
		return fmt.Errorf("store: begin: %w", err)
	}
	defer tx.Rollback() // a no-op after Commit
	if err := f(&Tx{ctx: ctx, tx: tx, now: job.Instant(s.now()), by: by}); err != nil {
		return err
	}
	if o != nil && o.ReadOnly {
		return nil
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("store: commit: %w", err)
	}
	return nil
}

// exec runs a statement.
func (tx *Tx) exec(query string, args ...any) error {
	_, err := tx.tx.ExecContext(tx.ctx, query, args...)
	if err != nil {
		return fmt.Errorf("store: %w", err)
	}
	return nil
}

// each visits the rows of a query.
func (tx *Tx) each(query string, args []any, scan func(*sql.Rows) error) error {
	rows, err := tx.tx.QueryContext(tx.ctx, query, args...)
	if err != nil {
		return fmt.Errorf("store: %w", err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return fmt.Errorf("store: %w", err)
		}
	}
	return rows.Err()
}
