//go:build !linux

package hostclock

import "time"

// steady is a count that may stop while the computer sleeps.
func steady() (time.Duration, bool) { return time.Since(begun), false }

// begun is when the program was started.
var begun = time.Now()
