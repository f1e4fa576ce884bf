package hostclock

import (
	"time"

	"seatboard/internal/kit/unit"
)

// Watch tells by how much the time of day of this computer was set since it
// began: by hand, by a time service that jumps, by a change of its battery
// clock. A clock that is only steered faster or slower is not set. It can be
// used from many goroutines.
type Watch struct {
	wall   time.Time
	steady time.Duration
	asleep bool // the steady count goes on while the computer sleeps
	count  func() (time.Duration, bool)
}

// NewWatch begins to watch the time of day, of which now is the instant.
func NewWatch(now time.Time) *Watch { return newWatch(now, steady) }

func newWatch(now time.Time, count func() (time.Duration, bool)) *Watch {
	w := &Watch{wall: now.Round(0), count: count}
	w.steady, w.asleep = count()
	return w
}

// Set is by how much the time of day was put forward until now, negative
// where it was put back. Where the steady count stops while the computer
// sleeps a sleep looks like a setting forward: then only settings back are
// told, and 0 otherwise.
func (w *Watch) Set(now time.Time) unit.Duration {
	count, _ := w.count()
	by := now.Round(0).Sub(w.wall) - (count - w.steady)
	if by > 0 && !w.asleep {
		return 0
	}
	return unit.Duration(by.Seconds())
}
