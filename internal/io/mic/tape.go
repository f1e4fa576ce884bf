package mic

import (
	"context"
	"sync"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// Gap is a break in the sound that is known of.
type Gap struct {
	Frame  int64 `json:"frame"`  // number of the first sample after it, as ReadFloat counts
	Frames int64 `json:"frames"` // samples that zeros stand for; 0 where what was lost is not known
	Why    Why   `json:"why"`
}

// Why says what broke the sound.
type Why string

// The reasons.
const (
	Behind    Why = "the program fell behind"     // zeros stand for what was lost: the count stays right
	Suspended Why = "the microphone was put away" // by the system; the count stood still
	Moved     Why = "another microphone took over"
)

const (
	arrivalsKept = 1 << 13 // some three minutes of blocks of 20 ms
	gapsKept     = 1000
)

// tape holds the sound between the sound server and the reader.
type tape struct {
	mu       sync.Mutex
	more     chan struct{} // one place: something changed
	ring     []float32
	head, n  int   // the oldest sample, and how many there are
	owed     int64 // zeros that come after the ring's content
	skip     int64 // samples still to be thrown away at the start
	count    int64 // samples taken in after those
	arrivals []sampleclock.Arrival
	gaps     []Gap
	err      error
}

func newTape(size int, skip int64) *tape {
	return &tape{more: make(chan struct{}, 1), ring: make([]float32, max(size, 1)), skip: skip}
}

func (t *tape) wake() {
	select {
	case t.more <- struct{}{}:
	default:
	}
}

// put takes samples that came at a time. It never waits.
func (t *tape) put(s []float32, at unit.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	defer t.wake()
	if t.skip > 0 {
		k := min(t.skip, int64(len(s)))
		t.skip -= k
		s = s[k:]
	}
	if len(s) == 0 {
		return
	}
	from := t.count
	t.count += int64(len(s))
	if len(t.arrivals) == arrivalsKept {
		t.arrivals = append(t.arrivals[:0], t.arrivals[arrivalsKept/2:]...)
	}
	t.arrivals = append(t.arrivals, sampleclock.Arrival{Frame: t.count, At: at})
	for t.owed > 0 && t.n < len(t.ring) {
		t.push(0)
		t.owed--
	}
	if t.owed > 0 || t.n+len(s) > len(t.ring) {
		t.owe(from, int64(len(s)))
		return
	}
	for _, v := range s {
		t.push(v)
	}
}

func (t *tape) push(v float32) {
	t.ring[(t.head+t.n)%len(t.ring)] = v
	t.n++
}

// owe notes samples that had no room. One gap grows as long as it lasts.
func (t *tape) owe(from, k int64) {
	t.owed += k
	if g := len(t.gaps); g > 0 && t.gaps[g-1].Why == Behind && t.gaps[g-1].Frame == from {
		t.gaps[g-1].Frame += k
		t.gaps[g-1].Frames += k
		return
	}
	t.gap(Gap{from + k, k, Behind})
}

func (t *tape) gap(g Gap) {
	if len(t.gaps) < gapsKept {
		t.gaps = append(t.gaps, g)
	}
}

// broken notes a break of unknown size at the present place.
func (t *tape) broken(w Why) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.gap(Gap{Frame: t.count, Why: w})
}

// end makes reads fail with err once everything taken in has been read. The
// first error stays.
func (t *tape) end(err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.err == nil {
		t.err = err
	}
	t.wake()
}

// read waits for samples and takes up to len(dst) of them.
func (t *tape) read(ctx context.Context, dst []float32) (int, error) {
	if len(dst) == 0 {
		return 0, nil
	}
	for {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if n, err := t.take(dst); n > 0 || err != nil {
			return n, err
		}
		select {
		case <-t.more:
		case <-ctx.Done():
		}
	}
}

func (t *tape) take(dst []float32) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	k := min(len(dst), t.n)
	for i := range k {
		dst[i] = t.ring[(t.head+i)%len(t.ring)]
	}
	t.head, t.n = (t.head+k)%len(t.ring), t.n-k
	for ; k < len(dst) && t.owed > 0; k++ {
		dst[k] = 0
		t.owed--
	}
	if k > 0 || t.err == nil {
		return k, nil
	}
	t.wake() // others who read
	return 0, t.err
}

// told hands over the arrivals since the last time.
func (t *tape) told() []sampleclock.Arrival {
	t.mu.Lock()
	defer t.mu.Unlock()
	out := t.arrivals
	t.arrivals = nil
	return out
}

func (t *tape) broke() []Gap {
	t.mu.Lock()
	defer t.mu.Unlock()
	return append([]Gap(nil), t.gaps...)
}
