package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// tempPrefix begins the names of copies that are not finished.
const tempPrefix = ".seatboard-copy-"

// prepare makes the folder and refuses one that cannot keep records, before
// anything is made in it.
func prepare(dir string, readOnly bool) (string, error) {
	abs, err := filepath.Abs(dir)
	if err != nil || dir == "" || strings.IndexByte(dir, 0) >= 0 {
		return "", &FolderError{dir, "this is not the name of a folder"}
	}
	if err := refusePlace(abs, readOnly); err != nil {
		return "", err
	}
	if !readOnly {
		if err := makeDir(abs); err != nil {
			return "", err
		}
	}
	switch info, err := os.Stat(abs); {
	case err != nil:
		return "", &FolderError{abs, "there is no such folder"}
	case !info.IsDir():
		return "", &FolderError{abs, "it is not a folder"}
	}
	return abs, nil
}

// refusePlace refuses a place in a cloud's folder or on a network drive. A
// folder still to be made is judged by the one it will lie in.
func refusePlace(dir string, readOnly bool) error {
	real := dir
	for {
		there, err := filepath.EvalSymlinks(real)
		if err == nil {
			real = there
			break
		}
		up := filepath.Dir(real)
		if up == real {
			break
		}
		real = up
	}
	for _, path := range []string{dir, real} {
		if name := cloudName(path); name != "" && !readOnly {
			return &FolderError{dir, "it lies in a folder that " + name + " copies while it is written to, which damages the records"}
		}
	}
	if name := networkName(real); name != "" {
		return &FolderError{dir, "it lies on a network drive (" + name + "), which does not keep the locks the records need"}
	}
	return nil
}

// makeDir makes a folder for this user alone. One that is there is narrowed
// if nothing is in it or our records are; another's folder is left as it is.
func makeDir(dir string) error {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		switch {
		case errors.Is(err, fs.ErrPermission), isReadOnly(err):
			return &FolderError{dir, "the folder cannot be made there: the place is read-only"}
		case isFull(err):
			return &FolderError{dir, "the folder cannot be made: the disk is full"}
		}
		return &FolderError{dir, "it is not a folder"}
	}
	inside, err := os.ReadDir(dir)
	if err != nil {
		return &FolderError{dir, "it cannot be read"}
	}
	ours := len(inside) == 0
	for _, e := range inside {
		ours = ours || e.Name() == dbName
	}
	if ours {
		_ = os.Chmod(dir, 0o700) // a drive without modes refuses; the files are 0600 all the same
	}
	return nil
}

// makeFile makes an empty database file for this user alone, before SQLite
// opens it: the files beside it take its mode. A live file is not opened.
func (s *Store) makeFile() error {
	if _, err := os.Lstat(s.file()); err == nil {
		return nil
	}
	f, err := os.OpenFile(s.file(), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return unwritable(s.dir, err)
	}
	return f.Close()
}

// mark leaves the open mark and looks the records through in the background
// if an earlier one stands there.
func (s *Store) mark() error {
	mark := filepath.Join(s.dir, openMark)
	_, err := os.Lstat(mark)
	unclean := err == nil
	if err := os.WriteFile(mark, nil, 0o600); err != nil {
		return unwritable(s.dir, err)
	}
	if err := syncDir(s.dir); err != nil {
		return err
	}
	s.marked = true
	if unclean {
		s.health.start(s.read)
	}
	return nil
}

// clearLeftovers takes away copies that were being made when the last owner
// was stopped.
func (s *Store) clearLeftovers() error {
	for _, dir := range []string{s.dir, filepath.Join(s.dir, copiesDir)} {
		left, err := filepath.Glob(filepath.Join(escapeGlob(dir), tempPrefix+"*"))
		if err != nil {
			return fmt.Errorf("store: %w", err)
		}
		for _, path := range left {
			if err := os.RemoveAll(path); err != nil {
				return unwritable(s.dir, err)
			}
		}
	}
	return nil
}

// unwritable is the error of a folder that takes no file.
func unwritable(dir string, err error) error {
	switch {
	case isFull(err):
		return fmt.Errorf("%w: %w", ErrDisk, err)
	case isReadOnly(err), errors.Is(err, fs.ErrPermission):
		return &FolderError{dir, "the folder is read-only"}
	}
	return &FolderError{dir, "it cannot be written to"}
}

// cloudName tells which service keeps a folder in step with elsewhere, "" if
// none is recognised in its path.
func cloudName(path string) string {
	for _, part := range strings.Split(filepath.ToSlash(path), "/") {
		if name := cloudFolder(strings.ToLower(part)); name != "" {
			return name
		}
	}
	return ""
}

// cloudFolder tells which service names its folder so.
func cloudFolder(low string) string {
	begins := func(names ...string) bool {
		for _, n := range names {
			if rest, ok := strings.CutPrefix(low, n); ok && (rest == "" || strings.IndexByte(" -(_0123456789", rest[0]) >= 0) {
				return true
			}
		}
		return false
	}
	switch {
	case begins("dropbox"):
		return "Dropbox"
	case begins("onedrive"):
		return "OneDrive"
	case begins("google drive", "googledrive"), low == "my drive":
		return "Google Drive"
	case low == "mobile documents", low == "icloud drive", low == "iclouddrive":
		return "iCloud"
	case begins("nextcloud"):
		return "Nextcloud"
	case begins("owncloud"):
		return "ownCloud"
	case low == "cloudstorage":
		return "a cloud service"
	case begins("pclouddrive", "pcloud drive"):
		return "pCloud"
	case low == "megasync", low == "mega sync":
		return "MEGA"
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

// escapeGlob takes the meaning from the marks of a pattern.
func escapeGlob(path string) string {
	if filepath.Separator == '\\' {
		return path // there the backslash does not escape, and *, ? cannot stand in a name
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(path)
}

// Begun tells whether a folder has records in it.
func Begun(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, dbName))
	return err == nil
}
