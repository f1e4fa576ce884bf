package store

import (
	"context"
	"database/sql"
	"sync"
	"time"
)

// Health is what is known of the records since the store was opened.
type Health struct {
	Unclean  bool          // the last owner did not close the store
	Running  bool          // the look-through for that reason is not finished
	Problems []string      // what it found, none if all is well
	Err      error         // why it could not be finished
	Took     time.Duration // how long it took
}

// settled tells that there is no reason to look through again.
func (h Health) settled() bool {
	return !h.Unclean || !h.Running && h.Err == nil && len(h.Problems) == 0
}

// health is a look-through in the background.
type health struct {
	mu     sync.Mutex
	now    Health
	cancel context.CancelFunc
	done   chan struct{}
}

// start begins a quick_check; the store stays in use meanwhile.
func (h *health) start(db *sql.DB) {
	ctx, cancel := context.WithCancel(context.Background())
	h.now, h.cancel, h.done = Health{Unclean: true, Running: true}, cancel, make(chan struct{})
	go func() {
		defer close(h.done)
		began := time.Now()
		problems, err := check(ctx, db, `PRAGMA quick_check(20)`)
		h.mu.Lock()
		defer h.mu.Unlock()
		h.now.Running, h.now.Problems, h.now.Err, h.now.Took = false, problems, err, time.Since(began)
	}()
}

// stop ends it.
func (h *health) stop() {
	if h.cancel != nil {
		h.cancel()
		<-h.done
	}
}

// Health tells whether the last owner closed the store in order, and if not,
// what the look-through in the background has found. The records are whole
// after kill -9 and after a power cut; a finding here points to the disk.
func (s *Store) Health() Health {
	s.health.mu.Lock()
	defer s.health.mu.Unlock()
	return s.health.now
}
