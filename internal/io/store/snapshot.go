package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"seatboard/internal/kit/progress"
)

// Snapshot writes a copy of the records that is whole in itself and opens
// from read-only media, and gives its SHA-256 in hexadecimal. It is written
// under another name, brought to the disk, checked, and only then given its
// own; a target that exists is refused. Saving goes on meanwhile. Nothing is
// left behind after an error. p counts its four steps and may be nil.
func (s *Store) Snapshot(ctx context.Context, target string, p *progress.Counter) (sum string, err error) {
	p.Expect(4)
	if _, err := os.Lstat(target); err == nil {
		return "", &CopyError{target, "a file of this name is there already"}
	}
	dir := filepath.Dir(target)
	temp, err := os.MkdirTemp(dir, tempPrefix)
	if err != nil {
		return "", unwritable(dir, err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(temp)) }()
	file := filepath.Join(temp, "copy.db")
	if err := s.vacuumInto(ctx, file); err != nil {
		return "", explained(fmt.Errorf("store: copy: %w", err))
	}
	p.Add(1)
	if err := settled(file); err != nil {
		return "", explained(fmt.Errorf("store: copy: %w", err))
	}
	p.Add(1)
	if err := checkCopy(ctx, file); err != nil {
		return "", err
	}
	p.Add(1)
	if sum, err = sumOf(file); err != nil {
		return "", fmt.Errorf("store: copy: %w", err)
	}
	if err := give(file, target); err != nil {
		return "", err
	}
	p.Add(1)
	return sum, syncDir(dir)
}

// vacuumInto copies the records by a connection of its own, so that saving
// need not wait.
func (s *Store) vacuumInto(ctx context.Context, file string) error {
	from := live
	if s.write == nil {
		from = frozen
	}
	db, err := connect(s.file(), from)
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, `VACUUM INTO $1`, file)
	return errors.Join(err, db.Close())
}

// settled makes a file private and waits until it is on the disk.
func settled(file string) error {
	f, err := os.OpenFile(file, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := f.Chmod(0o600); err != nil && !errors.Is(err, errors.ErrUnsupported) && !isNoChmod(err) {
		return errors.Join(err, f.Close())
	}
	return errors.Join(f.Sync(), f.Close())
}

// checkCopy runs SQLite's own check over a copy.
func checkCopy(ctx context.Context, file string) error {
	db, err := connect(file, frozen)
	if err != nil {
		return &CopyError{file, "SQLite cannot open it: " + err.Error()}
	}
	defer db.Close()
	problems, err := check(ctx, db, `PRAGMA integrity_check(1)`, `PRAGMA foreign_key_check`)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		return &CopyError{file, "it is damaged: " + err.Error()}
	case len(problems) > 0:
		return &CopyError{file, "it is damaged: " + problems[0]}
	}
	return nil
}

// sumOf is the SHA-256 of a file that SQLite does not have open.
func sumOf(file string) (string, error) {
	f, err := openCopy(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// give gives a finished file its name, which must be free: by a link, which
// fails where the name is taken, or where the drive has none by a rename.
func give(file, target string) error {
	err := os.Link(file, target)
	if err == nil {
		return nil
	}
	if _, there := os.Lstat(target); there == nil {
		return &CopyError{target, "a file of this name is there already"}
	}
	if err := os.Rename(file, target); err != nil {
		return explained(fmt.Errorf("store: copy: %w", err))
	}
	return nil
}
