package store

import "golang.org/x/sys/unix"

// networkName is the kind of a network file system, "" for a local one.
func networkName(dir string) string {
	var s unix.Statfs_t
	if err := unix.Statfs(dir, &s); err != nil || s.Flags&unix.MNT_LOCAL != 0 {
		return ""
	}
	return unix.ByteSliceToString(s.Fstypename[:])
}
