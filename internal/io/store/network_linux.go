package store

import (
	"fmt"
	"os"
	"strings"

	"golang.org/x/sys/unix"
)

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
	case unix.CODA_SUPER_MAGIC:
		return "Coda"
	case unix.V9FS_MAGIC, unix.FUSE_SUPER_MAGIC:
		mounts, err := os.ReadFile("/proc/self/mountinfo")
		if err != nil {
			return ""
		}
		var st unix.Stat_t
		if err := unix.Stat(dir, &st); err != nil {
			return ""
		}
		return mountName(string(mounts), fmt.Sprintf("%d:%d", unix.Major(uint64(st.Dev)), unix.Minor(uint64(st.Dev))))
	}
	return ""
}

// mountName tells from the list of mounts (proc_pid_mountinfo(5)) whether a
// device served by a program (FUSE, 9P) is a network's: those that lie on a
// local disk or belong to a container are not.
func mountName(mounts, device string) string {
	for _, line := range strings.Split(mounts, "\n") {
		left, right, ok := strings.Cut(line, " - ")
		fields, kind := strings.Fields(left), strings.Fields(right)
		if !ok || len(fields) < 3 || len(kind) < 1 || fields[2] != device {
			continue
		}
		switch k := kind[0]; k {
		case "fuseblk", "virtiofs", "fuse.fuse-overlayfs", "fuse.gocryptfs", "fuse.encfs", "fuse.cryfs", "fuse.securefs", "fuse.bindfs", "fuse.ntfs-3g", "fuse.exfat", "fuse.lxcfs":
			return ""
		case "9p":
			if strings.Contains(right, "drvfs") || !strings.Contains(right, "trans=fd") {
				return "9P"
			}
			return ""
		default:
			return strings.TrimPrefix(k, "fuse.")
		}
	}
	return ""
}
