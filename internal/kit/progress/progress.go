// Package progress counts what long work has done, for a front end to sample
// when it likes. The work adds; it never prints, formats or waits.
package progress

import "sync/atomic"

// Counter is how far a piece of work is. The zero Counter is ready; a nil
// Counter takes everything and keeps nothing, so that work need not care
// whether anyone watches.
type Counter struct {
	done, total, found atomic.Int64
}

// Expect sets the amount of work, in steps of any one kind.
func (c *Counter) Expect(total int64) {
	if c != nil {
		c.total.Store(total)
	}
}

// Add counts n steps done.
func (c *Counter) Add(n int64) {
	if c != nil {
		c.done.Add(n)
	}
}

// Find counts n more of what is looked for.
func (c *Counter) Find(n int64) {
	if c != nil {
		c.found.Add(n)
	}
}

// Found is how many were found until now.
func (c *Counter) Found() int64 {
	if c == nil {
		return 0
	}
	return c.found.Load()
}

// Share is how much is done, 0 to 1; 0 where the size is not known.
func (c *Counter) Share() float64 {
	done, total := c.Sample()
	if total <= 0 {
		return 0
	}
	return min(float64(done)/float64(total), 1)
}

// Sample is the state now; total is 0 where it is not known.
func (c *Counter) Sample() (done, total int64) {
	if c == nil {
		return 0, 0
	}
	return c.done.Load(), c.total.Load()
}
