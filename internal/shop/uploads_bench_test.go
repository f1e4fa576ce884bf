package shop

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"image/color"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// largeShots are photographs of so many bytes that differ in their last ones;
// the rest is shared, so that what is measured is not theirs.
type largeShots struct{ body []byte }

func newLargeShots(t testing.TB, size int) largeShots {
	t.Helper()
	body := make([]byte, size)
	copy(body, shot(t, color.Gray{50}))
	return largeShots{body}
}

func (l largeShots) ask(n int) (UploadAsk, []byte) {
	tail := binary.BigEndian.AppendUint64(nil, uint64(n))
	h := sha256.New()
	h.Write(l.body)
	h.Write(tail)
	return UploadAsk{ID: fmt.Sprintf("%032x", n), Name: "x.jpg", Size: int64(len(l.body) + len(tail)), SHA256: hex.EncodeToString(h.Sum(nil))}, tail
}

// send sends the nth in pieces of half a megabyte.
func (l largeShots) send(t testing.TB, s *Shop, n int) error {
	ask, tail := l.ask(n)
	st, err := s.BeginUpload(t.Context(), "A", ask)
	for err == nil && !st.Safe && st.At < ask.Size {
		piece := tail
		if at := int(st.At); at < len(l.body) {
			piece = l.body[at:min(at+1<<19, len(l.body))]
		}
		st, err = s.AppendUpload(t.Context(), ask.ID, st.At, bytes.NewReader(piece))
	}
	if err == nil {
		_, err = s.FinishUpload(t.Context(), "A", ask.ID)
	}
	return err
}

// TestMemoryWhileFiftyArrive has fifty photographs of 5 MB arrive at once;
// what the program holds of them must stay far below their 250 MB.
func TestMemoryWhileFiftyArrive(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	l := newLargeShots(t, 5e6)
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	before := m.HeapAlloc
	var most atomic.Uint64
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-stop:
				return
			case <-time.After(5 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most.Store(max(most.Load(), m.HeapAlloc))
			}
		}
	}()
	var all sync.WaitGroup
	for n := range 50 {
		all.Go(func() {
			if err := l.send(t, s, n); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	close(stop)
	<-stopped
	const bound = 40e6
	held := float64(most.Load()) - float64(before)
	t.Logf("at most %.1f MB held while 250 MB arrived", held/1e6)
	if held > bound {
		t.Errorf("%.1f MB are held, more than %.0f MB", held/1e6, bound/1e6)
	}
}

// BenchmarkUpload sends photographs of 4 MB, one after the other, until each
// is safe on the disk.
func BenchmarkUpload(b *testing.B) {
	s := deaf(b, b.TempDir(), time.Now)
	l := newLargeShots(b, 4e6)
	b.SetBytes(4e6)
	n := 0
	for b.Loop() {
		if err := l.send(b, s, n); err != nil {
			b.Fatal(err)
		}
		n++
	}
}
