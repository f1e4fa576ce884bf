package beat

import (
	"context"
	"sync"

	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
)

// Options say what is known before listening.
type Options struct {
	Beat     unit.Duration     // about what a beat lasts, within 2 %; 0 where not known
	Progress *progress.Counter // counts samples read; may be nil
}

// Ear listens to one source.
type Ear struct {
	src     Source
	options Options
	mu      sync.Mutex
	heard   Hearing
}

// NewEar makes an ear for a source.
func NewEar(src Source, o Options) *Ear { return &Ear{src: src, options: o} }

// Run listens until the source ends or ctx is done; what was heard until then
// stays in Heard. Its error is the source's or the context's.
func (e *Ear) Run(ctx context.Context) error { return ctx.Err() }

// Heard is what was heard so far. It may be called while Run listens.
func (e *Ear) Heard() Hearing {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.heard
}
