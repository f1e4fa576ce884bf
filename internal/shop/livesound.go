package shop

import (
	"context"
	"errors"
	"io"
	"math"
	"slices"
	"sync"

	"seatboard/internal/io/audio"
	"seatboard/internal/io/blob"
)

// KeptSound is how the keeping of a live run's sound stands.
type KeptSound struct {
	Asked bool
	Bytes int64  // written so far
	Ready bool   // it can be kept with the listening
	Why   string // why it is kept no longer or not at all; "" where all is well
}

const (
	soundRoom  = 1 << 20 // bytes below the limit at which no more is kept
	soundQueue = 1000    // pieces that may wait for the disk: more than a page sends at once after a lost connection
	soundPad   = 60.0    // s: a longer gap is so long in the file
)

// soundKeeper writes the sound of a run as FLAC while it comes, to a file
// that is held: it is in nobody's way, and gone after an unclean end. What
// is lacking is written as exact zeros, so that the times stay right.
type soundKeeper struct {
	pieces chan soundPiece
	done   chan struct{}
	most   int64

	mu    sync.Mutex
	state KeptSound
	held  *blob.Held
}

type soundPiece struct {
	from    int64 // its first sample, counted from the first of the run
	samples []float32
}

// keepSound begins to keep sound; the error may be shown.
func keepSound(files *blob.Files, rate float64) (*soundKeeper, error) {
	if rate != math.Trunc(rate) {
		return nil, &Problem{Code: BadInput, Message: "The sound cannot be kept: the recorder makes no whole number of samples a second.", Hint: "Listen without keeping the sound, or choose another rate."}
	}
	k := &soundKeeper{pieces: make(chan soundPiece, soundQueue), done: make(chan struct{}), most: mostSound, state: KeptSound{Asked: true}}
	r, w := io.Pipe()
	var held *blob.Held
	var holdErr error
	stored := make(chan struct{})
	go func() {
		defer close(stored)
		held, holdErr = files.Hold(context.Background(), r, mostSound)
		_ = r.CloseWithError(errors.Join(holdErr, io.ErrClosedPipe)) // it never fails; whoever writes is not left waiting
	}()
	go func() {
		defer close(k.done)
		err := k.write(w, rate)
		_ = w.CloseWithError(err) // it never fails
		<-stored
		k.mu.Lock()
		defer k.mu.Unlock()
		switch {
		case held != nil && err == nil:
			k.held, k.state.Ready, k.state.Bytes = held, true, held.Size()
		default:
			k.state.Why = "The disk did not take the sound, so that it is not kept. The beats are."
			if held != nil {
				_ = held.Close() // it is taken away at the next start at the latest
			}
		}
	}()
	return k, nil
}

// write writes pieces until there are no more.
func (k *soundKeeper) write(to io.Writer, rate float64) error {
	defer func() { // what still comes is passed over
		for range k.pieces {
		}
	}()
	f, err := audio.NewFLACWriter(to, int(rate))
	if err != nil {
		return err
	}
	quiet := make([]float32, int(rate))
	next := int64(0)
	for p := range k.pieces {
		lacking := min(p.from-next, int64(soundPad*rate))
		next = p.from + int64(len(p.samples))
		for ; lacking > 0; lacking -= int64(len(quiet)) {
			if err := f.Write(quiet[:min(int64(len(quiet)), lacking)]); err != nil {
				return err
			}
		}
		if err := f.Write(p.samples); err != nil {
			return err
		}
		full := f.Size() > k.most-soundRoom
		k.mu.Lock()
		k.state.Bytes = f.Size()
		if full {
			k.state.Why = "The sound that is kept has reached 2 GB: what comes now is heard, and its beats are kept, but not its sound."
		}
		k.mu.Unlock()
		if full {
			break
		}
	}
	return f.Close()
}

// put takes samples without waiting; where the disk is too slow they lack.
func (k *soundKeeper) put(from int64, samples []float32) {
	if k == nil {
		return
	}
	select {
	case k.pieces <- soundPiece{from, slices.Clone(samples)}:
	default:
	}
}

// end says that no more comes. It is called once.
func (k *soundKeeper) end() {
	if k != nil {
		close(k.pieces)
	}
}

// wait waits until all is written.
func (k *soundKeeper) wait() {
	if k != nil {
		<-k.done
	}
}

func (k *soundKeeper) now() KeptSound {
	if k == nil {
		return KeptSound{}
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.state
}

// keep keeps the sound for good and gives its sum, "" where there is none.
func (k *soundKeeper) keep() (string, error) {
	if k == nil {
		return "", nil
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.held == nil {
		return "", nil
	}
	if err := k.held.Keep(); err != nil {
		return "", explain(err)
	}
	return k.held.Sum(), nil
}

// letGo forgets the sound; what was kept for good stays.
func (k *soundKeeper) letGo() {
	if k == nil {
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.held != nil {
		_ = k.held.Close() // it is taken away at the next start at the latest
		k.held, k.state.Ready = nil, false
	}
}

// ListenAgain listens once more to the sound that was kept with a listening,
// reckoning with the same error of the recorder's clock. q says what is known
// of the clock now.
func (s *Shop) ListenAgain(ctx context.Context, by string, id int64, q ListenQuery) (job string, err error) {
	l, err := s.Listening(ctx, id)
	if err != nil {
		return "", err
	}
	sound, err := s.Sound(ctx, id)
	if err != nil {
		return "", err
	}
	q.By, q.SampleClock, q.Source, q.Path, q.Settings, q.Started, q.How = by, l.Clock, l.Source, l.Path, l.Settings, l.Started, l.How
	return s.StartListening(q, sound)
}
