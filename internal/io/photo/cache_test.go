package photo

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestCache(t *testing.T) {
	dir := t.TempDir()
	c := OpenCache(dir)
	sum := strings.Repeat("0a", 32)
	if _, err := c.Get(sum, SmallSide); !errors.Is(err, ErrNone) {
		t.Errorf("nothing is there: %v", err)
	}
	for _, bad := range []string{"", "../elsewhere", strings.Repeat("Z", 64)} {
		if err := c.Put(bad, Seen{}); err == nil {
			t.Errorf("%q is taken for a sum", bad)
		}
		if _, err := c.Get(bad, SmallSide); !errors.Is(err, ErrNone) {
			t.Errorf("%q: %v", bad, err)
		}
	}
	for _, want := range []string{"one", "another"} {
		if err := c.Put(sum, Seen{Small: []byte(want), Middle: []byte("larger")}); err != nil {
			t.Fatal(err)
		}
		f, err := c.Get(sum, SmallSide)
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(f)
		if string(got) != want || err != nil || f.Close() != nil {
			t.Errorf("%q %v", got, err)
		}
	}
	left, err := os.ReadDir(filepath.Join(dir, "small"))
	if err != nil || len(left) != 2 {
		t.Errorf("%v %v", left, err)
	}
}
