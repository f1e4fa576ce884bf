package blob

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
)

// Laying lays files from a backup into a folder that is being restored.
type Laying struct {
	files *Files
	laid  []string
	held  bool // the folder was there before
}

// ErrSum is returned for a file that is not what its sum says.
var ErrSum = errors.New("blob: the file is not what its SHA-256 says")

// Lay begins to lay files.
func (f *Files) Lay() *Laying {
	_, err := os.Lstat(f.dir)
	return &Laying{files: f, held: err == nil}
}

// Lay keeps one file for good, and reads it once more as it lies there. The
// error wraps ErrSum where the content is another. One that lies there already
// and is damaged is put right.
func (l *Laying) Lay(ctx context.Context, sum string, r io.Reader) error {
	h, err := l.files.Hold(ctx, r, math.MaxInt64-1)
	if err != nil {
		return err
	}
	if h.Sum() != sum {
		return errors.Join(fmt.Errorf("%w: %s", ErrSum, sum), h.Close())
	}
	_, err = os.Lstat(l.files.path(sum))
	there := err == nil
	if err := h.Keep(); err != nil {
		return errors.Join(err, h.Close())
	}
	if !there {
		l.laid = append(l.laid, sum)
	}
	if err := h.Close(); err != nil {
		return err
	}
	switch got, err := l.files.sumOf(ctx, sum); {
	case err != nil:
		return fmt.Errorf("blob: %w", err)
	case got != sum:
		return fmt.Errorf("%w: %s", ErrSum, sum)
	}
	return nil
}

// Undo takes away what was laid, and the folder if nothing else is in it.
func (l *Laying) Undo() error {
	var errs []error
	for _, sum := range l.laid {
		errs = append(errs, os.Remove(l.files.path(sum)))
	}
	l.laid = nil
	if !l.held {
		_ = os.Remove(l.files.dir) // it stays if something is in it
	}
	return errors.Join(errs...)
}
