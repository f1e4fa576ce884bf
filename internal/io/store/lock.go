package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

const lockName = "lock"

// lock is the one owner of a folder: a lock of the system on a file of its
// own, which the system takes back when the process ends, however it ends.
// The file stays; what counts is the lock, not the number in it.
type lock struct{ f *os.File }

// takeLock takes the folder, alone or, to read only, beside other readers.
func takeLock(dir string, readOnly bool) (*lock, error) {
	flags := os.O_RDWR | os.O_CREATE
	if readOnly {
		flags = os.O_RDONLY
	}
	f, err := os.OpenFile(filepath.Join(dir, lockName), flags, 0o600)
	switch {
	case err != nil && readOnly && errors.Is(err, fs.ErrNotExist):
		return &lock{}, nil // nobody has ever had it open
	case err != nil:
		return nil, unwritable(dir, err)
	}
	if held, err := systemLock(f, readOnly); held || err != nil {
		pid := readPID(f)
		f.Close()
		if held {
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
	_, err := f.WriteAt([]byte(strconv.Itoa(os.Getpid())+"\n"), 0)
	return err
}

func (l *lock) release() error {
	if l.f == nil {
		return nil
	}
	return l.f.Close()
}
