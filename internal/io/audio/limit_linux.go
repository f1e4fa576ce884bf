package audio

import (
	"runtime/debug"

	"golang.org/x/sys/unix"
)

// Limits of the child. Go takes about a gigabyte of addresses for itself,
// but only writes to what counts as data.
const (
	childMemory  = 192 << 20 // where Go's collector begins to work hard
	childData    = 512 << 20
	childAddress = 4 << 30
	childCPU     = 3600 // seconds
)

// limitProcess takes away for good what the decoding of a recording does not
// need. What the system does not take is left to the other limits.
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
