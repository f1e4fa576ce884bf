package store

import "golang.org/x/sys/unix"

// networkName is the kind of a network file system, "" for a local one.
func networkName(dir string) string {
	var s unix.Statfs_t
	if err := unix.Statfs(dir, &s); err != nil {
		return ""
	}
	switch name := unix.ByteSliceToString(s.Fstypename[:]); name {
	case "nfs", "smbfs", "afpfs", "webdav", "macfuse", "osxfuse":
		return name
	}
	return ""
}
