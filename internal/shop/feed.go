package shop

import (
	"io"
	"sync"
)

// feed is live sound on its way to an ear: a bounded store that is filled
// without waiting and read by one that waits.
type feed struct {
	rate float64
	mu   sync.Mutex
	more sync.Cond
	ring []float32
	from int // of the first sample held
	n    int // samples held
	done bool
}

func newFeed(rate float64, seconds float64) *feed {
	f := &feed{rate: rate, ring: make([]float32, int(rate*seconds))}
	f.more.L = &f.mu
	return f
}

// Rate is the samples a second, as the recorder states it.
func (f *feed) Rate() float64 { return f.rate }

// put takes samples in, all of them or, where there is no room, none.
func (f *feed) put(x []float32) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.done || len(x) > len(f.ring)-f.n {
		return false
	}
	at := (f.from + f.n) % len(f.ring)
	k := copy(f.ring[at:], x)
	copy(f.ring, x[k:])
	f.n += len(x)
	f.more.Signal()
	return true
}

// end says that nothing more comes.
func (f *feed) end() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.done = true
	f.more.Broadcast()
}

// ReadFloat waits for samples; it is io.EOF after the last.
func (f *feed) ReadFloat(dst []float32) (int, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for f.n == 0 {
		if f.done {
			return 0, io.EOF
		}
		f.more.Wait()
	}
	k := copy(dst, f.ring[f.from:min(f.from+f.n, len(f.ring))])
	f.from = (f.from + k) % len(f.ring)
	f.n -= k
	return k, nil
}

// release ends the feed and gives its room back.
func (f *feed) release() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.done, f.ring, f.from, f.n = true, nil, 0, 0
}
