package store

import "golang.org/x/sys/unix"

// networkName is the kind of a network file system, "" for a local one.
func networkName(dir string) string {
	var s unix.Statfs_t
	if err := unix.Statfs(dir, &s); err != nil {
		return ""
	}
	switch uint32(s.Type) {
	case unix.NFS_SUPER_MAGIC:
		return "NFS"
	case unix.SMB_SUPER_MAGIC, unix.SMB2_SUPER_MAGIC, unix.CIFS_SUPER_MAGIC:
		return "SMB"
	case unix.AFS_SUPER_MAGIC, unix.AFS_FS_MAGIC:
		return "AFS"
	case unix.CEPH_SUPER_MAGIC:
		return "Ceph"
	case unix.V9FS_MAGIC:
		return "9P"
	case unix.FUSE_SUPER_MAGIC:
		return "FUSE"
	}
	return ""
}
