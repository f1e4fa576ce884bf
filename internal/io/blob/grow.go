package blob

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sync"
	"sync/atomic"
)

// ErrPlace is returned where a piece does not begin where the file ends.
var ErrPlace = errors.New("blob: the piece begins elsewhere than the file ends")

// Growing is a file that comes in in pieces, over as many connections as it
// takes. It is not kept before its whole content was held against a sum, and
// it is gone when the program ends: who sends it begins anew.
type Growing struct {
	mu    sync.Mutex
	files *Files
	path  string
	limit int64
	size  atomic.Int64
	done  bool
}

// Grow begins a file of at most limit bytes.
func (f *Files) Grow(limit int64) (*Growing, error) {
	if err := f.make(); err != nil {
		return nil, err
	}
	file, err := os.CreateTemp(f.dir, tempPrefix)
	if err != nil {
		return nil, fmt.Errorf("blob: %w", err)
	}
	g := &Growing{files: f, path: file.Name(), limit: limit}
	if err := file.Close(); err != nil {
		return nil, errors.Join(fmt.Errorf("blob: %w", err), g.Drop())
	}
	return g, nil
}

// Size is how many bytes have come.
func (g *Growing) Size() int64 { return g.size.Load() }

// Append adds a piece that begins at a place, and gives how many bytes there
// are then, also after an error: what came of a piece that was cut short
// stays. The error is ErrPlace, ErrTooLarge, ctx's, the reader's or the disk's.
func (g *Growing) Append(ctx context.Context, at int64, r io.Reader) (size int64, err error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.done {
		return g.Size(), ErrNotFound
	}
	if at != g.Size() {
		return g.Size(), ErrPlace
	}
	file, err := os.OpenFile(g.path, os.O_WRONLY, 0)
	if err != nil {
		return at, fmt.Errorf("blob: %w", err)
	}
	if _, err = file.Seek(at, io.SeekStart); err == nil {
		var n int64
		n, err = io.Copy(file, io.LimitReader(stopping{ctx, r}, g.limit-at+1))
		if size = at + n; err == nil && size > g.limit {
			size, err = at, ErrTooLarge // the whole piece is wrong
		}
		g.size.Store(size)
	}
	if err = errors.Join(err, file.Close()); err != nil {
		return size, fmt.Errorf("blob: take in: %w", err)
	}
	return size, nil
}

// Hold ends the growing and gives the file to be kept: read once more, as it
// lies there, for its sum.
func (g *Growing) Hold(ctx context.Context) (*Held, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.done {
		return nil, ErrNotFound
	}
	file, err := os.OpenFile(g.path, os.O_RDWR, 0)
	if err != nil {
		return nil, fmt.Errorf("blob: %w", err)
	}
	sum := sha256.New()
	n, err := io.Copy(sum, stopping{ctx, io.LimitReader(file, g.Size())})
	if err == nil {
		err = file.Truncate(g.Size()) // a piece that was refused may lie behind it
	}
	if err == nil && n < g.Size() {
		err = fmt.Errorf("%d bytes came and %d are there", g.Size(), n)
	}
	if err == nil {
		_, err = file.Seek(0, io.SeekStart)
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("blob: take in: %w", err), file.Close())
	}
	g.done = true
	return &Held{File: file, files: g.files, path: g.path, sum: hex.EncodeToString(sum.Sum(nil)), size: g.Size()}, nil
}

// Drop takes the file away, unless it is held.
func (g *Growing) Drop() error {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.done {
		return nil
	}
	g.done = true
	if err := os.Remove(g.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("blob: let go: %w", err)
	}
	return nil
}
