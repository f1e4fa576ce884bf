package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Snapshot writes a copy of the records that is whole in itself and opens
// from read-only media, and gives its SHA-256 in hexadecimal. It is written
// under another name, checked, and only then given its own; a target that
// exists is refused. Nothing is left behind after an error.
func (s *Store) Snapshot(ctx context.Context, target string) (string, error) {
	if _, err := os.Lstat(target); err == nil {
		return "", &FolderError{target, "a file of this name is there already"}
	}
	dir := filepath.Dir(target)
	temp, err := os.MkdirTemp(dir, ".seatboard-copy-")
	if err != nil {
		return "", &FolderError{dir, "it cannot be written to"}
	}
	defer os.RemoveAll(temp)
	file := filepath.Join(temp, "copy.db")
	if _, err := s.write.ExecContext(ctx, `VACUUM INTO $1`, file); err != nil {
		return "", fmt.Errorf("store: copy: %w", err)
	}
	if err := checkCopy(ctx, file); err != nil {
		return "", err
	}
	sum, err := seal(file)
	if err != nil {
		return "", fmt.Errorf("store: copy: %w", err)
	}
	if err := os.Link(file, target); err != nil { // fails where the target exists, unlike a rename
		if err := os.Rename(file, target); err != nil {
			return "", fmt.Errorf("store: copy: %w", err)
		}
	}
	return sum, syncDir(dir)
}

// checkCopy runs SQLite's own check over a copy, opened read-only.
func checkCopy(ctx context.Context, file string) error {
	problems, err := checkFile(ctx, file)
	if err != nil {
		return err
	}
	if len(problems) > 0 {
		return fmt.Errorf("store: the copy is damaged: %s", problems[0])
	}
	return nil
}

// seal makes the copy private, waits for the disk and sums it.
func seal(file string) (string, error) {
	if err := os.Chmod(file, 0o600); err != nil {
		return "", err
	}
	f, err := os.OpenFile(file, os.O_RDWR, 0)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if err := f.Sync(); err != nil {
		return "", err
	}
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// Check looks the live records through and lists what is wrong with them.
func (s *Store) Check(ctx context.Context) ([]string, error) { return check(ctx, s.read) }
