package shop

import (
	"sync"

	"seatboard/internal/io/store"
)

// untilWritten keeps what was read from the book for every page to show; it
// holds as long as nothing was written. The zero untilWritten keeps nothing.
type untilWritten[T any] struct {
	mu      sync.Mutex
	known   bool
	changes uint64
	kept    T
}

// get gives what is kept, or reads it where something was written since. With
// an error comes what was read last.
func (u *untilWritten[T]) get(s *store.Store, read func() (T, error)) (T, error) {
	changes := s.Changes() // before the look, so that a change during it is not missed
	u.mu.Lock()
	kept, fresh := u.kept, u.known && u.changes == changes
	u.mu.Unlock()
	if fresh {
		return kept, nil
	}
	got, err := read()
	if err != nil {
		return kept, err
	}
	u.mu.Lock()
	u.known, u.changes, u.kept = true, changes, got
	u.mu.Unlock()
	return got, nil
}

// forget has the next look read again.
func (u *untilWritten[T]) forget() {
	u.mu.Lock()
	u.known = false
	u.mu.Unlock()
}
