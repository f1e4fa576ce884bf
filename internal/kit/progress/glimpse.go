package progress

import "sync/atomic"

// Glimpse is what long work has so far, for a front end to look at. The front
// end asks; the work hands over when it comes to a good place. So nothing is
// made that nobody looks at, and the work never waits. The zero Glimpse is
// ready; a nil Glimpse is never asked.
type Glimpse[T any] struct {
	asked  atomic.Bool
	latest atomic.Pointer[T]
}

// Asked tells the work that somebody wants to see how it stands.
func (g *Glimpse[T]) Asked() bool { return g != nil && g.asked.Load() }

// Give hands over how the work stands; v must not change afterwards.
func (g *Glimpse[T]) Give(v T) {
	if g != nil {
		g.latest.Store(&v)
		g.asked.Store(false)
	}
}

// Look is what was handed over last, nil where nothing was yet; it asks for
// the next.
func (g *Glimpse[T]) Look() *T {
	g.asked.Store(true)
	return g.latest.Load()
}
