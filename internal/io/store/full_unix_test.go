//go:build linux || darwin

package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

// childFull saves until no file may grow any more, which is how a full disk
// looks, and then after there is room again.
func childFull(dir, _ string) error {
	ctx := context.Background()
	signal.Ignore(unix.SIGXFSZ)
	s, err := store.Open(ctx, dir, store.Options{})
	if err != nil {
		return err
	}
	l := storetest.Listening(4, 1)
	l.Audio = strings.Repeat("0", 64)
	if err := os.WriteFile(filepath.Join(dir, "large"), make([]byte, 2_000_000), 0o600); err != nil {
		return err
	}
	err = s.Update(ctx, "child", func(tx *store.Tx) error { l.Finished = false; _, err := tx.AddListening(l); return err })
	if err != nil {
		return err
	}
	var was unix.Rlimit
	if err := unix.Getrlimit(unix.RLIMIT_FSIZE, &was); err != nil {
		return err
	}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: 900_000, Max: was.Max}); err != nil {
		return err
	}
	save := func(n int) error {
		c := clock(n)
		c.Object.Description = strings.Repeat("brass ", 500)
		return s.Update(ctx, "child", func(tx *store.Tx) error { _, err := tx.AddClock(c); return err })
	}
	n := 1
	for ; err == nil && n < 10_000; n++ {
		if err = save(n); err == nil {
			fmt.Println("kept", n)
		}
	}
	fmt.Println("disk", errors.Is(err, store.ErrDisk), errors.Is(err, syscall.ENOSPC))
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: 60_000, Max: was.Max}); err != nil { // a copy is larger
		return err
	}
	if _, err := s.Snapshot(ctx, filepath.Join(dir, "copy.db"), nil); err == nil {
		fmt.Println("error: a copy was made")
	} else {
		fmt.Println("copy", errors.Is(err, store.ErrDisk))
	}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: 1_500_000, Max: was.Max}); err != nil { // room for the records, not for the recording
		return err
	}
	if _, err := s.Backup(ctx, filepath.Join(dir, "copy.zip"), store.BackupOptions{Files: large{dir}}, nil); err == nil {
		fmt.Println("error: a backup was made")
	} else {
		fmt.Println("backup", errors.Is(err, store.ErrDisk), err)
	}
	var rows []job.Summary
	err = s.View(ctx, func(tx *store.Tx) (err error) { rows, _, _, err = tx.List(nil, "", 1); return err })
	fmt.Println("read", len(rows), err)
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &was); err != nil {
		return err
	}
	if err := save(n); err != nil {
		return err
	}
	fmt.Println("kept", n)
	return s.Close()
}

// large is one recording, larger than the disk.
type large struct{ dir string }

func (l large) Get(string) (*os.File, error) { return os.Open(filepath.Join(l.dir, "large")) }

func TestDiskFull(t *testing.T) {
	dir := t.TempDir()
	out, err := child("full", dir, "").Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, want := range []string{"disk true true\n", "copy true\n", "backup true", "read 1 <nil>\n"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%q is missing in %q", want, out)
		}
	}
	noLeftovers(t, dir)
	s := open(t, dir, store.Options{})
	kept := 0
	for line := range strings.Lines(string(out)) {
		var n int
		if _, err := fmt.Sscanf(line, "kept %d", &n); err != nil {
			continue
		}
		kept++
		view(t, s, func(tx *store.Tx) error {
			_, err := tx.ClockByUID(clock(n).UID)
			return err
		})
	}
	if kept < 5 {
		t.Errorf("only %d were kept", kept)
	}
	whole(t, s)
}
