package hostclock

import (
	"time"

	"golang.org/x/sys/unix"
)

// steady is the kernel's count since it was started, and whether it goes on
// while the computer sleeps.
func steady() (time.Duration, bool) {
	var t unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_BOOTTIME, &t); err != nil {
		return time.Since(begun), false
	}
	return time.Duration(t.Nano()), true
}

// begun is when the program was started.
var begun = time.Now()
