package blob

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

func grow(t *testing.T, f *Files, limit int64) *Growing {
	t.Helper()
	g, err := f.Grow(limit)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestGrowInPieces(t *testing.T) {
	f := open(t, t.TempDir())
	g := grow(t, f, 11)
	if n, err := g.Append(t.Context(), 0, io.MultiReader(strings.NewReader("hello"), iotest.ErrReader(errors.New("gone")))); n != 5 || err == nil {
		t.Fatalf("a cut connection: %d %v", n, err)
	}
	for _, at := range []int64{0, 4, 6} {
		if n, err := g.Append(t.Context(), at, strings.NewReader("x")); n != 5 || !errors.Is(err, ErrPlace) {
			t.Errorf("at %d: %d %v", at, n, err)
		}
	}
	if n, err := g.Append(t.Context(), 5, strings.NewReader(" world and more")); n != 5 || !errors.Is(err, ErrTooLarge) {
		t.Errorf("too much: %d %v", n, err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if n, err := g.Append(stopped, 5, strings.NewReader(" world")); n != 5 || !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %d %v", n, err)
	}
	if n, err := g.Append(t.Context(), 5, strings.NewReader(" w")); n != 7 || err != nil {
		t.Fatal(n, err)
	}
	if n, err := g.Append(t.Context(), 7, strings.NewReader("orld")); n != 11 || err != nil || g.Size() != 11 {
		t.Fatal(n, err)
	}
	h, err := g.Hold(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer h.Close()
	const sum = "b94d27b9934d3e08a52e52d7da7dabfac484efe37a5380ee9088f7ace2efcde9" // of "hello world"
	if h.Sum() != sum || h.Size() != 11 {
		t.Errorf("%s, %d bytes", h.Sum(), h.Size())
	}
	if err := h.Keep(); err != nil {
		t.Fatal(err)
	}
	kept, err := f.Get(sum)
	if err != nil {
		t.Fatal(err)
	}
	defer kept.Close()
	if b, err := io.ReadAll(kept); string(b) != "hello world" || err != nil {
		t.Errorf("%q %v", b, err)
	}
	if _, err := g.Append(t.Context(), 11, strings.NewReader("x")); !errors.Is(err, ErrNotFound) {
		t.Errorf("behind its end: %v", err)
	}
}

func TestGrowLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	g := grow(t, f, 9)
	if err := g.Drop(); err != nil {
		t.Fatal(err)
	}
	abandoned := grow(t, f, 9)
	if _, err := abandoned.Append(t.Context(), 0, strings.NewReader("half")); err != nil {
		t.Fatal(err)
	}
	if c, err := f.Check(t.Context(), nil, nil); len(c.Problems)+len(c.Orphans)+c.Files > 0 || err != nil {
		t.Errorf("what grows is taken for kept: %+v %v", c, err)
	}
	open(t, dir)
	left, err := os.ReadDir(filepath.Join(dir, dirName))
	if err != nil || len(left) > 0 {
		t.Errorf("left: %v %v", left, err)
	}
}
