//go:build unix

package authority

import (
	"fmt"
	"io/fs"
	"os"
	"syscall"
)

// private refuses what others may read or what belongs to somebody else.
func private(path string, info fs.FileInfo) error {
	if m := info.Mode().Perm(); m&0o077 != 0 {
		want := "600"
		if info.IsDir() {
			want = "700"
		}
		return &FileError{path, fmt.Sprintf("others can reach it (mode %#o)", m),
			"If nobody else uses this computer, close it with chmod " + want + "; otherwise make a new certificate with --new-certificate"}
	}
	if s, ok := info.Sys().(*syscall.Stat_t); ok && int(s.Uid) != os.Geteuid() {
		return &FileError{path, "it belongs to another user", "Choose another place with --keys"}
	}
	return nil
}
