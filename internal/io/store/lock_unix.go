//go:build unix

package store

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// systemLock takes the lock at once or not at all; held tells that another
// process has it.
func systemLock(f *os.File, shared bool) (held bool, err error) {
	how := unix.LOCK_EX | unix.LOCK_NB
	if shared {
		how = unix.LOCK_SH | unix.LOCK_NB
	}
	for {
		err := unix.Flock(int(f.Fd()), how)
		switch {
		case errors.Is(err, unix.EINTR):
		case errors.Is(err, unix.EWOULDBLOCK):
			return true, nil
		default:
			return false, err
		}
	}
}

// Errors of the system that have a meaning here.
func isNoSync(err error) bool   { return errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTTY) }
func isNoChmod(err error) bool  { return errors.Is(err, unix.EPERM) || errors.Is(err, unix.ENOSYS) }
func isReadOnly(err error) bool { return errors.Is(err, unix.EROFS) }
func isFull(err error) bool {
	return errors.Is(err, unix.ENOSPC) || errors.Is(err, unix.EDQUOT) || errors.Is(err, unix.EFBIG)
}
