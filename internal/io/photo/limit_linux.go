package photo

import (
	"runtime/debug"

	"golang.org/x/sys/unix"
)

// Limits of the child. A picture of 64 million pixels in four channels of 16
// bits is 512 MB, and half as much again is needed to make it small.
const (
	childMemory  = 1 << 30 // where Go's collector begins to work hard
	childData    = 1536 << 20
	childAddress = 6 << 30
	childCPU     = 120 // seconds
)

// limitProcess takes away for good what looking into a picture does not need.
// What the system does not take is left to the other limits.
func limitProcess() {
	debug.SetMemoryLimit(childMemory)
	for _, l := range []struct {
		what int
		most uint64
	}{{unix.RLIMIT_DATA, childData}, {unix.RLIMIT_AS, childAddress}, {unix.RLIMIT_CPU, childCPU},
		{unix.RLIMIT_FSIZE, 0}, {unix.RLIMIT_NOFILE, 16}, {unix.RLIMIT_CORE, 0}} {
		_ = unix.Setrlimit(l.what, &unix.Rlimit{Cur: l.most, Max: l.most}) // a stricter one stands
	}
}
