package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/sys/windows"
)

const lockName = "lock"

// lockAt is where the lock lies in its file: behind the number of the
// process, which others must be able to read.
const lockAt = 1 << 20

// lock is the one owner of a folder: a lock of the system on a file of its
// own, which the system takes back when the process ends, however it ends.
type lock struct{ f *os.File }

// takeLock takes the folder, alone or, to read only, beside other readers.
func takeLock(dir string, readOnly bool) (*lock, error) {
	open, how := os.O_RDWR|os.O_CREATE, uint32(windows.LOCKFILE_FAIL_IMMEDIATELY|windows.LOCKFILE_EXCLUSIVE_LOCK)
	if readOnly {
		open, how = os.O_RDONLY, windows.LOCKFILE_FAIL_IMMEDIATELY
	}
	f, err := os.OpenFile(filepath.Join(dir, lockName), open, 0o600)
	switch {
	case err != nil && readOnly && errors.Is(err, fs.ErrNotExist):
		return &lock{}, nil
	case err != nil:
		return nil, unwritable(dir, err)
	}
	if err := windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{Offset: lockAt}); err != nil {
		pid := readPID(f)
		f.Close()
		if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
			return nil, &InUseError{Dir: dir, PID: pid}
		}
		return nil, &FolderError{dir, "its drive cannot lock files"}
	}
	if readOnly {
		return &lock{f}, nil
	}
	if err := writePID(f); err != nil {
		f.Close()
		return nil, unwritable(dir, err)
	}
	return &lock{f}, nil
}

func readPID(f *os.File) int {
	b, err := io.ReadAll(io.LimitReader(f, 20))
	if err != nil {
		return 0
	}
	pid, _ := strconv.Atoi(strings.TrimSpace(string(b))) // 0 where it cannot be told
	return pid
}

func writePID(f *os.File) error {
	if err := f.Truncate(0); err != nil {
		return err
	}
	_, err := f.WriteAt([]byte(strconv.Itoa(os.Getpid())+"\r\n"), 0)
	return err
}

func (l *lock) release() error {
	if l.f == nil {
		return nil
	}
	return l.f.Close()
}

// isNoSync: a folder cannot be synced on Windows.
func isNoSync(error) bool       { return true }
func isNoChmod(error) bool      { return true }
func isReadOnly(err error) bool { return errors.Is(err, windows.ERROR_WRITE_PROTECT) }
func isFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}
