// Package store keeps the shop's records in one folder: workshop.db (SQLite,
// WAL, synchronous FULL), its lock, a mark that stands while it is open, and
// copies made before a migration. docs/data-format.md describes them.
//
// A write that [Store.Update] has confirmed survives kill -9 and a power cut.
// One process owns a folder; a second one is refused with [*InUseError].
// Folders on a network or in a cloud's folder are refused, for neither keeps
// SQLite's promises. Nothing but this package opens the live database: on
// Linux any other open and close of the file would drop the locks, which is
// why OFD locks are used there as well.
//
// [Store.Snapshot] writes a copy that is whole in itself, [Verify] checks
// one, [Restore] makes a new folder of it. A folder that was not closed in
// order is looked through in the background ([Store.Health]).
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
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"seatboard/internal/book/job"
)

// Options of a store.
type Options struct {
	Now func() time.Time // the clock on the wall; time.Now if nil

	// ReadOnly opens a folder that need not be writable, such as one on a
	// read-only medium, and writes nothing there. It must have been closed in
	// order by its last owner.
	ReadOnly bool
}

// Store is an open folder. It may be used from several goroutines.
type Store struct {
	dir    string
	now    func() time.Time
	fsys   fs.FS // the migrations
	lock   *lock
	write  *sql.DB // one connection; nil if read only
	read   *sql.DB
	marked bool // the open mark is ours
	health health

	changes atomic.Uint64 // committed since it was opened
	found   searched

	backups sync.Mutex
	working map[string]bool // folders of backups that are being written
}

const (
	dbName    = "workshop.db"
	openMark  = "open" // stands while the store is open
	copiesDir = "before-migration"

	mostReaders = 8
)

// Open opens the store in a folder, which is made if it is not there.
// It fails with *FolderError, *InUseError or an error of the database.
func Open(ctx context.Context, dir string, o Options) (*Store, error) {
	fsys, err := fs.Sub(migrations, "migrations/sqlite")
	if err != nil {
		return nil, fmt.Errorf("store: migrations: %w", err)
	}
	return openWith(ctx, dir, o, fsys)
}

// openWith is Open with other migrations, for tests.
func openWith(ctx context.Context, dir string, o Options, fsys fs.FS) (*Store, error) {
	if o.Now == nil {
		o.Now = time.Now
	}
	dir, err := prepare(dir, o.ReadOnly)
	if err != nil {
		return nil, err
	}
	l, err := takeLock(dir, o.ReadOnly)
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, now: o.Now, fsys: fsys, lock: l}
	open := s.open
	if o.ReadOnly {
		open = s.openReadOnly
	}
	if err := open(ctx); err != nil {
		return nil, errors.Join(explained(err), s.Close())
	}
	return s, nil
}

func (s *Store) open(ctx context.Context) error {
	if err := s.clearLeftovers(); err != nil {
		return err
	}
	if err := s.makeFile(); err != nil {
		return err
	}
	var err error
	if s.write, err = connect(s.file(), live); err != nil {
		return err
	}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(ctx); err != nil {
		return err
	}
	if s.read, err = connect(s.file(), reading); err != nil {
		return err
	}
	s.read.SetMaxOpenConns(mostReaders)
	s.read.SetMaxIdleConns(2)
	return s.mark()
}

func (s *Store) openReadOnly(ctx context.Context) error {
	if info, err := os.Stat(s.file() + "-wal"); err == nil && info.Size() > 0 {
		return &FolderError{s.dir, "its last owner did not close it; open it once where it can be written to"}
	}
	if _, err := os.Stat(s.file()); err != nil {
		return &FolderError{s.dir, "there are no records in it"}
	}
	var err error
	if s.read, err = connect(s.file(), frozen); err != nil {
		return err
	}
	at, want, err := s.versions(ctx, s.read)
	switch {
	case err != nil:
		return err
	case at != want:
		return &FolderError{s.dir, fmt.Sprintf("its records are of version %d and this Seatboard reads version %d; open it where it can be written to", at, want)}
	}
	return nil
}

// file is the live database.
func (s *Store) file() string { return filepath.Join(s.dir, dbName) }

// Close ends the store; what runs is finished first. The open mark stays if
// a look-through was cut short or found something, so that the next owner
// looks again.
func (s *Store) Close() error {
	s.health.stop()
	var errs []error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	if err := errors.Join(errs...); err == nil && s.marked && s.Health().settled() {
		errs = append(errs, os.Remove(filepath.Join(s.dir, openMark)))
	}
	return errors.Join(append(errs, s.lock.release())...)
}

// Tx is one look at the records, or one change of them, at one instant.
type Tx struct {
	ctx   context.Context
	tx    *sql.Tx
	now   time.Time
	by    string
	found *searched
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
	if s.write == nil {
		return ErrReadOnly
	}
	return s.run(ctx, s.write, nil, by, f)
}

func (s *Store) run(ctx context.Context, db *sql.DB, o *sql.TxOptions, by string, f func(*Tx) error) error {
	tx, err := db.BeginTx(ctx, o)
	if err != nil {
		return explained(fmt.Errorf("store: begin: %w", err))
	}
	defer tx.Rollback() // a no-op after Commit
	if err := f(&Tx{ctx: ctx, tx: tx, now: job.Instant(s.now()), by: by, found: &s.found}); err != nil {
		return explained(err)
	}
	if o != nil && o.ReadOnly {
		return nil
	}
	if err := tx.Commit(); err != nil {
		return explained(fmt.Errorf("store: commit: %w", err))
	}
	s.changes.Add(1)
	return nil
}

// Changes counts the changes made since the store was opened. What was read
// after a count was taken holds as long as the count is the same.
func (s *Store) Changes() uint64 { return s.changes.Load() }

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
	if err := rows.Err(); err != nil {
		return fmt.Errorf("store: %w", err)
	}
	return nil
}
