//go:build !linux && !darwin

package store

import "strings"

// networkName recognises a share of the Windows network by its name; on other
// systems nothing is recognised.
func networkName(dir string) string {
	if strings.HasPrefix(dir, `\\`) {
		return "a Windows share"
	}
	return ""
}
