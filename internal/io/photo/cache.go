package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
)

// Cache keeps the small pictures, in small/ of the shop's folder, under the
// sum of the photograph and their side: "<64 digits>-320.jpg". They are made
// of the photographs and may be thrown away at any time; a backup has none.
type Cache struct{ dir string }

// ErrNone is returned where a small picture is not there.
var ErrNone = errors.New("photo: no such small picture")

// OpenCache gives the small pictures of a shop's folder.
func OpenCache(folder string) Cache { return Cache{filepath.Join(folder, "small")} }

var sumForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

func (c Cache) path(sum string, side int) string {
	return filepath.Join(c.dir, sum+"-"+strconv.Itoa(side)+".jpg")
}

// Put keeps both small pictures of a photograph.
func (c Cache) Put(sum string, s Seen) error {
	if !sumForm.MatchString(sum) {
		return fmt.Errorf("photo: %q is no sum", sum)
	}
	if err := os.MkdirAll(c.dir, 0o700); err != nil {
		return fmt.Errorf("photo: %w", err)
	}
	return errors.Join(c.put(c.path(sum, SmallSide), s.Small), c.put(c.path(sum, MiddleSide), s.Middle))
}

// put writes under another name first, so that no half picture is ever read.
func (c Cache) put(path string, picture []byte) error {
	f, err := os.CreateTemp(c.dir, ".making-")
	if err != nil {
		return fmt.Errorf("photo: %w", err)
	}
	_, err = f.Write(picture)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("photo: %w", err), os.Remove(f.Name()))
	}
	return nil
}

// Get opens a small picture; side is [SmallSide] or [MiddleSide]. The error
// is [ErrNone] where it is not there.
func (c Cache) Get(sum string, side int) (*os.File, error) {
	if !sumForm.MatchString(sum) {
		return nil, ErrNone
	}
	f, err := os.Open(c.path(sum, side))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNone
	}
	return f, err
}
