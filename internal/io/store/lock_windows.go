package store

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lockAt is where the lock lies in its file: behind the number of the
// process, which others must be able to read.
const lockAt = 1 << 20

// systemLock takes the lock at once or not at all; held tells that another
// process has it.
func systemLock(f *os.File, shared bool) (held bool, err error) {
	how := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if !shared {
		how |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	err = windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{Offset: lockAt})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return true, nil
	}
	return false, err
}

// isNoSync: a folder cannot be synced on Windows.
func isNoSync(error) bool       { return true }
func isNoChmod(error) bool      { return true }
func isReadOnly(err error) bool { return errors.Is(err, windows.ERROR_WRITE_PROTECT) }
func isFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}
