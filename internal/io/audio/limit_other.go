//go:build !linux

package audio

import "runtime/debug"

// limitProcess sets Go's own limit of memory; the program that waits limits
// the time.
func limitProcess() { debug.SetMemoryLimit(192 << 20) }
