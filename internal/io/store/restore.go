package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"seatboard/internal/kit/progress"
)

// Verify checks a copy that [Store.Snapshot] wrote: its SHA-256, unless sum
// is "", then that it is whole, that it is Seatboard's and of a version this
// program knows, and that its tables are exactly those of that version: no
// trigger or view that another has put there. The error is a *CopyError or
// one of reading. The copy must not be open elsewhere.
func Verify(ctx context.Context, file, sum string) error {
	if sum != "" { // before SQLite sees a byte of it
		got, err := sumOf(file)
		if err != nil {
			return fmt.Errorf("store: copy: %w", err)
		}
		if !strings.EqualFold(got, sum) {
			return &CopyError{file, "its SHA-256 is not the one that was noted: it was changed or is damaged"}
		}
	} else if info, err := os.Stat(file); err != nil {
		return fmt.Errorf("store: copy: %w", err)
	} else if !info.Mode().IsRegular() {
		return &CopyError{file, "it is not a file"}
	}
	if err := checkCopy(ctx, file); err != nil {
		return err
	}
	db, err := connect(file, frozen)
	if err != nil {
		return &CopyError{file, "SQLite cannot open it"}
	}
	defer db.Close()
	return verifySchema(ctx, file, db)
}

// verifySchema compares the tables with those that our migrations make.
func verifySchema(ctx context.Context, file string, db *sql.DB) error {
	var id int64
	if err := db.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&id); err != nil || id != applicationID {
		return &CopyError{file, "it is not a copy of Seatboard's records"}
	}
	at, err := version(ctx, db)
	if err != nil {
		return &CopyError{file, "its version cannot be read"}
	}
	fsys, err := fs.Sub(migrations, "migrations/sqlite")
	if err != nil {
		return fmt.Errorf("store: migrations: %w", err)
	}
	ours, newest, err := schemaOf(ctx, fsys, at)
	switch {
	case err != nil:
		return err
	case at < 1 || at > newest:
		return &CopyError{file, fmt.Sprintf("its version, %d, is not known to this Seatboard; use a newer one", at)}
	}
	theirs, err := schema(ctx, db)
	if err != nil {
		return &CopyError{file, "its tables cannot be read"}
	}
	for name, text := range theirs {
		switch want, known := ours[name]; {
		case !known:
			return &CopyError{file, fmt.Sprintf("there is something in it that is not Seatboard's (%s)", name)}
		case want != text:
			return &CopyError{file, fmt.Sprintf("its table is not as Seatboard makes it (%s)", name)}
		}
	}
	if len(theirs) != len(ours) {
		return &CopyError{file, "a table is missing in it"}
	}
	return nil
}

// schemaOf is the schema that the migrations make up to a version, and the
// newest version.
func schemaOf(ctx context.Context, fsys fs.FS, at int64) (objects map[string]string, newest int64, err error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, 0, fmt.Errorf("store: schema: %w", err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	p, err := provider(db, fsys)
	if err != nil {
		return nil, 0, err
	}
	for _, source := range p.ListSources() {
		newest = max(newest, source.Version)
	}
	if at < 1 || at > newest {
		return nil, newest, nil
	}
	if _, err := p.UpTo(ctx, at); err != nil {
		return nil, 0, fmt.Errorf("store: schema: %w", err)
	}
	objects, err = schema(ctx, db)
	return objects, newest, err
}

// schema is every object of a database ("table clock") with its SQL.
func schema(ctx context.Context, db *sql.DB) (map[string]string, error) {
	rows, err := db.QueryContext(ctx, `SELECT type, name, coalesce(sql, '') FROM sqlite_schema`)
	if err != nil {
		return nil, fmt.Errorf("store: schema: %w", err)
	}
	defer rows.Close()
	out := map[string]string{}
	for rows.Next() {
		var kind, name, text string
		if err := rows.Scan(&kind, &name, &text); err != nil {
			return nil, fmt.Errorf("store: schema: %w", err)
		}
		out[kind+" "+name] = text
	}
	return out, rows.Err()
}

// Restore makes a folder of a copy that [Verify] accepts. A folder that has
// records is refused: what is there is never written over. Nothing is left
// behind after an error. p counts its three steps and may be nil.
func Restore(ctx context.Context, file, sum, dir string, p *progress.Counter) error {
	p.Expect(3)
	return restore(ctx, origin{
		file: file, sum: sum, step: func() { p.Add(1) },
		records: func(to string) error { return copyFile(file, to) },
	}, dir)
}

// origin is what a folder is made of.
type origin struct {
	file    string                          // for messages
	sum     string                          // of the records, "" where not noted
	records func(to string) error           // writes the records to a new file
	beside  func(dir, records string) error // lays what belongs to the records, before they get their name; may be nil
	undo    func() error                    // takes away what beside laid; may be nil
	step    func()                          // after each step
}

// restore makes a folder; the records get their name last, so that a folder
// is without records or whole, whenever it is stopped.
func restore(ctx context.Context, from origin, dir string) (err error) {
	dir, err = prepare(dir, false)
	if err != nil {
		return err
	}
	l, err := takeLock(dir, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, l.release()) }()
	target := filepath.Join(dir, dbName)
	if _, err := os.Lstat(target); err == nil {
		return &FolderError{dir, "there are records in it already; choose an empty folder"}
	}
	temp, err := os.MkdirTemp(dir, tempPrefix)
	if err != nil {
		return unwritable(dir, err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(temp)) }()
	ours := filepath.Join(temp, "copy.db")
	if err := from.records(ours); err != nil {
		return explained(fmt.Errorf("store: restore: %w", err))
	}
	from.step()
	if err := Verify(ctx, ours, from.sum); err != nil {
		var c *CopyError
		if errors.As(err, &c) {
			return &CopyError{from.file, c.Why}
		}
		return err
	}
	from.step()
	if from.beside != nil {
		if err := from.beside(dir, ours); err != nil {
			return errors.Join(err, from.undo())
		}
	}
	if err := give(ours, target); err != nil {
		if from.undo != nil {
			err = errors.Join(err, from.undo())
		}
		return err
	}
	from.step()
	return syncDir(dir)
}

// copyFile copies a regular file and waits for the disk.
func copyFile(from, to string) error {
	if info, err := os.Stat(from); err != nil || !info.Mode().IsRegular() {
		return errors.Join(err, &CopyError{from, "it is not a file"})
	}
	in, err := openCopy(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := newFile(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// newFile makes a file that must not be there.
func newFile(name string) (*os.File, error) {
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
}

// openCopy opens a copy or a backup, never live records.
func openCopy(name string) (*os.File, error) { return os.Open(name) }
