package store_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"golang.org/x/sys/unix"

	"seatboard/internal/io/store"
)

// The bytes of a database file on which SQLite's readers hold their lock
// (SQLite, "File Format": the lock-byte page; os.h, SHARED_FIRST).
const (
	sharedFirst = 0x40000000 + 2
	sharedSize  = 510
)

// childTake asks for the lock that an SQLite takes which closes a database as
// its last user and then removes the write-ahead log.
func childTake(dir, _ string) error {
	f, err := os.OpenFile(filepath.Join(dir, store.DBName), os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	err = unix.FcntlFlock(f.Fd(), unix.F_SETLK, &unix.Flock_t{Type: unix.F_WRLCK, Start: sharedFirst, Len: sharedSize})
	switch {
	case err == nil:
		fmt.Println("taken")
	case errors.Is(err, unix.EAGAIN), errors.Is(err, unix.EACCES):
		fmt.Println("refused")
	default:
		return err
	}
	return nil
}

// TestOpeningTheFileDropsNoLock opens and closes the live file in this
// process. With POSIX locks that would drop SQLite's, and an older SQLite in
// another process (seen with 3.40) would take itself for the last user, and
// remove the write-ahead log under us with all that is confirmed after that.
func TestOpeningTheFileDropsNoLock(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	add(t, s, clock(1))
	openAndClose(t, filepath.Join(dir, store.DBName))
	out, err := child("take", dir, "").Output()
	if err != nil || string(out) != "refused\n" {
		t.Errorf("the lock on the live database: %q %v", out, err)
	}
	shut(t, s)
	if out, err := child("take", dir, "").Output(); err != nil || string(out) != "taken\n" {
		t.Errorf("after it is closed: %q %v", out, err)
	}
}
