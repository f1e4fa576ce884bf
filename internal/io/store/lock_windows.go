package store

import (
	"errors"
	"os"
	"path/filepath"

	"golang.org/x/sys/windows"
)

const lockName = "lock"

// lock is the one owner of a folder: an exclusive lock of the system on a
// file of its own.
type lock struct{ f *os.File }

func takeLock(dir string) (*lock, error) {
	f, err := os.OpenFile(filepath.Join(dir, lockName), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, &FolderError{dir, "it cannot be written to"}
	}
	var o windows.Overlapped
	err = windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &o)
	if err != nil {
		f.Close()
		if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
			return nil, &InUseError{Dir: dir}
		}
		return nil, &FolderError{dir, "it cannot be locked"}
	}
	return &lock{f}, nil
}

func (l *lock) release() error { return l.f.Close() }

// isNoSync: a folder cannot be synced on Windows.
func isNoSync(error) bool { return true }
