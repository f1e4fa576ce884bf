package blob

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

const (
	dirName    = "files"
	tempPrefix = ".held-"
)

// ErrNotFound is returned for a sum of which there is no file.
var ErrNotFound = errors.New("blob: there is no such file")

// ErrTooLarge is returned by Hold for more than its limit.
var ErrTooLarge = errors.New("blob: the file is too large")

// Files is the files of one shop. It may be used from several goroutines.
type Files struct {
	dir string
}

// Open opens the files in a shop's folder, which must be there and be this
// process's own, and takes away what was held at an unclean end. Nothing is
// made before something is held.
func Open(folder string) (*Files, error) {
	f := &Files{dir: filepath.Join(folder, dirName)}
	left, err := os.ReadDir(f.dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("blob: %w", err)
	}
	for _, e := range left {
		if strings.HasPrefix(e.Name(), tempPrefix) {
			if err := os.Remove(filepath.Join(f.dir, e.Name())); err != nil {
				return nil, fmt.Errorf("blob: %w", err)
			}
		}
	}
	return f, nil
}

// Held is a file that came in and is not kept yet. It is read like any file
// and may be kept while it is read; Close lets it go.
type Held struct {
	*os.File
	files *Files
	path  string
	sum   string
	size  int64
}

// Hold takes a file in, of at most limit bytes. The error is ErrTooLarge,
// ctx's, the reader's or the disk's; nothing is left after one.
func (f *Files) Hold(ctx context.Context, r io.Reader, limit int64) (*Held, error) {
	if err := f.make(); err != nil {
		return nil, err
	}
	file, err := os.CreateTemp(f.dir, tempPrefix)
	if err != nil {
		return nil, fmt.Errorf("blob: %w", err)
	}
	h := &Held{File: file, files: f, path: file.Name()}
	sum := sha256.New()
	h.size, err = io.Copy(io.MultiWriter(file, sum), io.LimitReader(stopping{ctx, r}, limit+1))
	if err == nil && h.size > limit {
		err = ErrTooLarge
	}
	if err == nil {
		_, err = file.Seek(0, io.SeekStart)
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("blob: take in: %w", err), h.Close())
	}
	h.sum = hex.EncodeToString(sum.Sum(nil))
	return h, nil
}

// make makes the folder for this user alone, and brings its name to the disk.
func (f *Files) make() error {
	if _, err := os.Lstat(f.dir); err == nil {
		return nil
	}
	if err := os.MkdirAll(f.dir, 0o700); err != nil {
		return fmt.Errorf("blob: %w", err)
	}
	return syncDir(filepath.Dir(f.dir))
}

// stopping is a reader that ends with its context.
type stopping struct {
	ctx context.Context
	r   io.Reader
}

func (s stopping) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(p)
}

// Sum is the SHA-256 of the content, in hexadecimal.
func (h *Held) Sum() string { return h.sum }

// Size is how many bytes there are.
func (h *Held) Size() int64 { return h.size }

// Again opens the same content once more, from its beginning.
func (h *Held) Again() (*os.File, error) {
	for _, path := range []string{h.path, h.files.path(h.sum)} {
		if file, err := os.Open(path); err == nil {
			return file, nil
		}
	}
	return nil, ErrNotFound
}

// Keep keeps the file for good under its sum. It may be called again.
func (h *Held) Keep() error {
	target := h.files.path(h.sum)
	if err := h.File.Sync(); err != nil {
		return fmt.Errorf("blob: keep: %w", err)
	}
	there, err := h.files.Whole(context.Background(), h.sum) // once begun it is ended
	if err != nil || !there {
		if err := give(h.path, target); err != nil {
			return fmt.Errorf("blob: keep: %w", err)
		}
	}
	return syncDir(h.files.dir)
}

// give gives a file a second name, or where the drive has no links copies it
// under one: the first stays for those who read it.
func give(path, target string) error {
	if err := os.Link(path, target); err == nil {
		return nil
	}
	in, err := os.Open(path)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.CreateTemp(filepath.Dir(target), tempPrefix)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err = errors.Join(err, out.Sync(), out.Close()); err == nil {
		err = os.Rename(out.Name(), target)
	}
	if err != nil {
		return errors.Join(err, os.Remove(out.Name()))
	}
	return nil
}

// Close lets the file go; what was kept stays.
func (h *Held) Close() error {
	err := h.File.Close()
	if gone := os.Remove(h.path); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
		err = errors.Join(err, gone)
	}
	if err != nil && !errors.Is(err, os.ErrClosed) {
		return fmt.Errorf("blob: let go: %w", err)
	}
	return nil
}

var sumForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

// path is where the file of a sum lies.
func (f *Files) path(sum string) string { return filepath.Join(f.dir, sum) }

// Get opens a kept file to be read. The error is ErrNotFound for anything
// that is not the sum of one.
func (f *Files) Get(sum string) (*os.File, error) {
	if !sumForm.MatchString(sum) {
		return nil, ErrNotFound
	}
	if info, err := os.Lstat(f.path(sum)); err != nil || !info.Mode().IsRegular() {
		return nil, ErrNotFound
	}
	file, err := os.Open(f.path(sum))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNotFound
	}
	if err != nil {
		return nil, fmt.Errorf("blob: %w", err)
	}
	return file, nil
}

// Size is how many bytes a kept file has. The error is ErrNotFound where
// there is none.
func (f *Files) Size(sum string) (int64, error) {
	file, err := f.Get(sum)
	if err != nil {
		return 0, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return 0, fmt.Errorf("blob: %w", err)
	}
	return info.Size(), nil
}

// Whole reads a kept file and tells whether it is there and still is what its
// name says.
func (f *Files) Whole(ctx context.Context, sum string) (bool, error) {
	if _, err := f.Size(sum); err != nil {
		return false, ignore(err, ErrNotFound)
	}
	got, err := f.sumOf(ctx, sum)
	if err != nil {
		return false, fmt.Errorf("blob: %w", err)
	}
	return got == sum, nil
}

// ignore is no error where it is that one.
func ignore(err, that error) error {
	if errors.Is(err, that) {
		return nil
	}
	return err
}

// Checked is what a look through the files found.
type Checked struct {
	Files    int // kept and whole
	Bytes    int64
	Problems []string // sentences without a stop
	Orphans  []string // sums of whole files that no record names
}

// Check reads every kept file and lists those that are not what their name
// says, those that records name and are not there, what does not belong
// there, and what no record names. Those of elsewhere are named as well and
// need not be there.
func (f *Files) Check(ctx context.Context, named, elsewhere []string) (c Checked, err error) {
	entries, err := os.ReadDir(f.dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return c, fmt.Errorf("blob: %w", err)
	}
	wanted, known := map[string]bool{}, map[string]bool{}
	for _, sum := range named {
		wanted[sum], known[sum] = true, true
	}
	for _, sum := range elsewhere {
		known[sum] = true
	}
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, tempPrefix) {
			continue
		}
		if !sumForm.MatchString(name) || !e.Type().IsRegular() {
			c.Problems = append(c.Problems, fmt.Sprintf("%s in %s is not Seatboard's", name, dirName))
			continue
		}
		if err := f.checkOne(ctx, name, known[name], &c); err != nil {
			return c, err
		}
		delete(wanted, name)
	}
	for _, sum := range slices.Sorted(maps.Keys(wanted)) {
		c.Problems = append(c.Problems, fmt.Sprintf("%s, which a record names, is missing in %s", sum, dirName))
	}
	return c, nil
}

// checkOne reads one file; the error is ctx's.
func (f *Files) checkOne(ctx context.Context, name string, known bool, c *Checked) error {
	sum, err := f.sumOf(ctx, name)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		c.Problems = append(c.Problems, fmt.Sprintf("%s in %s cannot be read: %v", name, dirName, err))
		return nil
	case sum != name:
		c.Problems = append(c.Problems, fmt.Sprintf("%s in %s was changed or is damaged", name, dirName))
		return nil
	case !known:
		c.Orphans = append(c.Orphans, name)
	}
	if info, err := os.Lstat(f.path(name)); err == nil {
		c.Files, c.Bytes = c.Files+1, c.Bytes+info.Size()
	}
	return nil
}

func (f *Files) sumOf(ctx context.Context, name string) (string, error) {
	file, err := os.Open(f.path(name))
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, stopping{ctx, file}); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
