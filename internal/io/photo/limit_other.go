//go:build !linux

package photo

import "runtime/debug"

// limitProcess sets Go's own limit of memory; the program that waits limits
// the time.
func limitProcess() { debug.SetMemoryLimit(1 << 30) }
