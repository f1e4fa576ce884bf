//go:build !unix

package authority

import "io/fs"

// private relies on the user's own folder where files have no modes.
func private(string, fs.FileInfo) error { return nil }
