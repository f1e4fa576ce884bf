package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/sys/unix"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
)

// TestReadOnlyFolder tries a folder whose modes forbid writing: the sentence
// is ours, and the records can still be read.
func TestReadOnlyFolder(t *testing.T) {
	root, err := os.MkdirTemp("", "seatboard")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(root)
	dir := filepath.Join(root, "shop")
	s := open(t, dir, store.Options{})
	c := add(t, s, clock(1))
	shut(t, s)
	for _, name := range inside(t, dir) {
		if err := os.Chmod(filepath.Join(dir, name), 0o444); err != nil {
			t.Fatal(err)
		}
	}
	for _, path := range []string{dir, root} {
		if err := os.Chmod(path, 0o555); err != nil {
			t.Fatal(err)
		}
	}
	defer func() {
		for _, path := range []string{root, dir} {
			_ = os.Chmod(path, 0o700) // so that it can be taken away
		}
	}()
	if os.Geteuid() == 0 { // modes do not bind root: be nobody on this thread
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		if _, err := unix.SetfsuidRetUid(65534); err != nil {
			t.Skip(err)
		}
		defer func() { _, _ = unix.SetfsuidRetUid(0) }()
	}
	for _, path := range []string{dir, filepath.Join(root, "new", "shop")} {
		var folder *store.FolderError
		if _, err := store.Open(ctx, path, store.Options{}); !errors.As(err, &folder) || !strings.Contains(folder.Why, "read-only") {
			t.Errorf("%s: %v", path, err)
		}
	}
	s, err = store.Open(ctx, dir, store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	same(t, s, c, job.Survey{})
	shut(t, s)
}
