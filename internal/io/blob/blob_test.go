package blob

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/iotest"
)

func open(t *testing.T, folder string) *Files {
	t.Helper()
	f, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func hold(t *testing.T, f *Files, content string) *Held {
	t.Helper()
	h, err := f.Hold(t.Context(), strings.NewReader(content), 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { h.Close() })
	return h
}

func names(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(folder, dirName))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func read(t *testing.T, r io.ReadCloser, err error) string {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestHoldKeepAndLetGo(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	if n := names(t, dir); n != nil {
		t.Errorf("made before anything came in: %v", n)
	}
	content := strings.Repeat("tick tock ", 1000)
	h := hold(t, f, content)
	want := sha256.Sum256([]byte(content))
	if h.Sum() != hex.EncodeToString(want[:]) || h.Size() != int64(len(content)) {
		t.Errorf("sum %s of %d bytes", h.Sum(), h.Size())
	}
	if _, err := f.Get(h.Sum()); !errors.Is(err, ErrNotFound) {
		t.Errorf("held is not kept: %v", err)
	}
	again, err := h.Again()
	if got := read(t, again, err); got != content {
		t.Error("read again it is another")
	}
	for range 2 {
		if err := h.Keep(); err != nil {
			t.Fatal(err)
		}
	}
	if b, err := io.ReadAll(h); err != nil || string(b) != content {
		t.Errorf("it cannot be read while it is kept: %v", err)
	}
	if err := h.Close(); err != nil {
		t.Fatal(err)
	}
	if err := h.Close(); err != nil {
		t.Errorf("closed twice: %v", err)
	}
	again, err = h.Again()
	if got := read(t, again, err); got != content {
		t.Error("what was kept is gone")
	}
	got, err := f.Get(h.Sum())
	if read(t, got, err) != content {
		t.Error("it was kept as another")
	}
	if n := names(t, dir); len(n) != 1 || n[0] != h.Sum() {
		t.Errorf("there are %v", n)
	}
	if info, err := os.Stat(f.path(h.Sum())); err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("others may read it: %v %v", info.Mode(), err)
	}
}

func TestSameContentIsKeptOnce(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			h, err := f.Hold(context.Background(), strings.NewReader("one"), 10)
			if err == nil {
				err = errors.Join(h.Keep(), h.Close())
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if n := names(t, dir); len(n) != 1 {
		t.Errorf("there are %v", n)
	}
	if c, err := f.Check(t.Context(), nil, names(t, dir)); err != nil || c.Problems != nil || c.Orphans != nil || c.Files != 1 || c.Bytes != 3 {
		t.Errorf("%+v %v", c, err)
	}
}

func TestWhatIsNotTakenLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	broken := errors.New("the line dropped")
	for name, try := range map[string]struct {
		ctx  context.Context
		r    io.Reader
		want error
	}{
		"too large": {t.Context(), bytes.NewReader(make([]byte, 101)), ErrTooLarge},
		"stopped":   {stopped, strings.NewReader("x"), context.Canceled},
		"broken":    {t.Context(), io.MultiReader(strings.NewReader("x"), iotest.ErrReader(broken)), broken},
	} {
		if _, err := f.Hold(try.ctx, try.r, 100); !errors.Is(err, try.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if h, err := f.Hold(t.Context(), bytes.NewReader(make([]byte, 100)), 100); err != nil || h.Close() != nil {
		t.Errorf("just so large: %v", err)
	}
	if n := names(t, dir); n != nil {
		t.Errorf("left: %v", n)
	}
}

func TestOnlySumsAreServed(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	h := hold(t, f, "x")
	if err := h.Keep(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "secret"), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	linked := strings.Repeat("a", 64)
	if err := os.Symlink(filepath.Join(dir, "secret"), f.path(linked)); err != nil {
		t.Skip(err)
	}
	for _, sum := range []string{"", "../secret", "..%2fsecret", strings.ToUpper(h.Sum()), h.Sum()[:63], h.Sum() + "\n", filepath.Base(h.path), strings.Repeat("0", 64), linked} {
		if _, err := f.Get(sum); !errors.Is(err, ErrNotFound) {
			t.Errorf("%q: %v", sum, err)
		}
	}
}

func TestCheckFindsDamage(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	for _, content := range []string{"one", "two"} {
		if err := hold(t, f, content).Keep(); err != nil {
			t.Fatal(err)
		}
	}
	hold(t, f, "held")
	bad, orphan, gone := hold(t, f, "two").Sum(), hold(t, f, "one").Sum(), strings.Repeat("0", 64)
	if err := os.WriteFile(f.path(bad), []byte("tw0"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(f.path("note.txt"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	c, err := f.Check(t.Context(), []string{bad, gone}, []string{strings.Repeat("1", 64)})
	found := strings.Join(c.Problems, "\n")
	if err != nil || len(c.Problems) != 3 || !strings.Contains(found, bad) || !strings.Contains(found, "note.txt") || !strings.Contains(found, gone) {
		t.Errorf("%v %q", err, c.Problems)
	}
	if len(c.Orphans) != 1 || c.Orphans[0] != orphan || c.Files != 1 {
		t.Errorf("%+v", c)
	}
}

func TestLayingHoldsAgainstTheSum(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	sum := hold(t, open(t, t.TempDir()), "tick").Sum()
	l := f.Lay()
	if err := l.Lay(t.Context(), sum, strings.NewReader("tock")); !errors.Is(err, ErrSum) || len(names(t, dir)) != 0 {
		t.Errorf("%v, there are %v", err, names(t, dir))
	}
	for range 2 { // what lies there already is as good
		if err := l.Lay(t.Context(), sum, strings.NewReader("tick")); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(f.path(sum), []byte("tack"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := f.Lay().Lay(t.Context(), sum, strings.NewReader("tick")); err != nil {
		t.Errorf("a damaged file that lies there: %v", err)
	}
	if whole, err := f.Whole(t.Context(), sum); err != nil || !whole {
		t.Errorf("it was not put right: %v", err)
	}
	if err := l.Undo(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(f.dir); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("left: %v", names(t, dir))
	}
}

func TestHeldIsTakenAwayAtTheNextStart(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	kept := hold(t, f, "kept")
	if err := kept.Keep(); err != nil {
		t.Fatal(err)
	}
	hold(t, f, "held")
	open(t, dir)
	if n := names(t, dir); len(n) != 1 || n[0] != kept.Sum() {
		t.Errorf("there are %v", n)
	}
}
