//go:build unix

package store

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/sys/unix"
)

const lockName = "lock"

// lock is the one owner of a folder: a lock of the system on a file of its
// own, which the system takes back when the process ends, however it ends.
type lock struct{ f *os.File }

func takeLock(dir string) (*lock, error) {
	f, err := os.OpenFile(filepath.Join(dir, lockName), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, &FolderError{dir, "it cannot be written to"}
	}
	if err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB); err != nil {
		pid := readPID(f)
		f.Close()
		if errors.Is(err, unix.EWOULDBLOCK) {
			return nil, &InUseError{Dir: dir, PID: pid}
		}
		return nil, &FolderError{dir, "it cannot be locked"}
	}
	if err := writePID(f); err != nil {
		f.Close()
		return nil, &FolderError{dir, "it cannot be written to"}
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

func (l *lock) release() error { return l.f.Close() }

func isNoSync(err error) bool { return errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTTY) }
