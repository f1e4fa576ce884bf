package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// FolderError says why the records cannot be kept where they were wanted.
type FolderError struct{ Dir, Why string }

func (e *FolderError) Error() string { return fmt.Sprintf("store: %s: %s", e.Dir, e.Why) }

// InUseError is returned when another process has the folder; PID is 0 where
// it could not be told.
type InUseError struct {
	Dir string
	PID int
}

func (e *InUseError) Error() string {
	return fmt.Sprintf("store: %s is in use by process %d", e.Dir, e.PID)
}

// prepare makes the folder and refuses one that cannot keep records.
func prepare(dir string) (string, error) {
	abs, err := filepath.Abs(dir)
	if err != nil || dir == "" {
		return "", &FolderError{dir, "this is not the name of a folder"}
	}
	if name := cloudName(abs); name != "" {
		return "", &FolderError{abs, name + " copies files while they are written, which damages the records"}
	}
	if err := os.MkdirAll(abs, 0o700); err != nil {
		if errors.Is(err, fs.ErrPermission) {
			return "", &FolderError{abs, "the folder cannot be made there"}
		}
		return "", &FolderError{abs, "it is not a folder"}
	}
	if name := networkName(abs); name != "" {
		return "", &FolderError{abs, "it lies on a network drive (" + name + "), which does not keep the locks the records need"}
	}
	return abs, nil
}

// cloudName tells which service keeps a folder in step with elsewhere, "" if
// none is recognised in its path.
func cloudName(path string) string {
	for _, part := range strings.Split(filepath.ToSlash(path), "/") {
		low := strings.ToLower(part)
		switch {
		case strings.HasPrefix(low, "dropbox"):
			return "Dropbox"
		case strings.HasPrefix(low, "onedrive"):
			return "OneDrive"
		case low == "google drive" || low == "googledrive" || low == "my drive" || strings.HasPrefix(low, "googledrive-"):
			return "Google Drive"
		case low == "mobile documents" || low == "icloud drive" || low == "iclouddrive":
			return "iCloud"
		case low == "nextcloud" || low == "owncloud":
			return part
		}
	}
	return ""
}

// syncDir waits until the names in a folder are on the disk.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("store: %w", err)
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !isNoSync(err) {
		return fmt.Errorf("store: %w", err)
	}
	return nil
}
