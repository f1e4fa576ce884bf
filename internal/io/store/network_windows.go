package store

import (
	"path/filepath"
	"strings"

	"golang.org/x/sys/windows"
)

// networkName tells a share of the network, "" for a local drive.
func networkName(dir string) string {
	volume := filepath.VolumeName(dir)
	if strings.HasPrefix(volume, `\\`) && !strings.HasPrefix(volume, `\\?\`) {
		return "a Windows share"
	}
	root, err := windows.UTF16PtrFromString(volume + `\`)
	if err == nil && windows.GetDriveType(root) == windows.DRIVE_REMOTE {
		return "a Windows share"
	}
	return ""
}
