package mic

import (
	"context"
	"errors"
	"io"
	"testing"
	"time"

	"seatboard/internal/kit/unit"
)

// count makes samples from, from+1, … as fractions that float32 holds.
func count(from, n int) []float32 {
	out := make([]float32, n)
	for i := range out {
		out[i] = float32(from + i)
	}
	return out
}

func TestTapeKeepsOrderAndCount(t *testing.T) {
	p := newTape(100, 30)
	for i := range 5 {
		p.put(count(20*i, 20), unit.Duration(i))
	}
	got := make([]float32, 200)
	n, err := p.read(context.Background(), got)
	if err != nil || n != 70 || got[0] != 30 || got[69] != 99 {
		t.Errorf("%d samples from %g to %g, %v", n, got[0], got[max(n-1, 0)], err)
	}
	a := p.told()
	if len(a) != 4 || a[0].Frame != 10 || a[0].At != 1 || a[3].Frame != 70 {
		t.Errorf("arrivals %v", a)
	}
	if len(p.told()) != 0 {
		t.Error("arrivals were told twice")
	}
}

func TestTapeStandsZerosForWhatHadNoRoom(t *testing.T) {
	p := newTape(50, 0)
	for i := range 5 {
		p.put(count(1+20*i, 20), unit.Duration(i)) // the third and later have no room
	}
	got := make([]float32, 70)
	n, _ := p.read(context.Background(), got)
	if n != 70 || got[39] != 40 || got[40] != 0 || got[69] != 0 {
		t.Fatalf("%d samples, %v", n, got)
	}
	p.put(count(101, 20), 5)
	var all []float32
	for len(all) < 50 {
		n, err := p.read(context.Background(), got[:7])
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, got[:n]...)
	}
	if all[29] != 0 || all[30] != 101 || len(all) != 50 {
		t.Errorf("%v", all)
	}
	if g := p.broke(); len(g) != 1 || g[0] != (Gap{100, 60, Behind}) {
		t.Errorf("gaps %v", g)
	}
}

func TestTapeEnds(t *testing.T) {
	p := newTape(50, 0)
	p.put(count(0, 5), 0)
	p.end(ErrGone)
	p.end(io.EOF)
	got := make([]float32, 10)
	if n, err := p.read(context.Background(), got); n != 5 || err != nil {
		t.Errorf("%d %v", n, err)
	}
	for range 2 {
		if _, err := p.read(context.Background(), got); err != ErrGone {
			t.Errorf("%v", err)
		}
	}
}

func TestTapeReadStops(t *testing.T) {
	p := newTape(50, 0)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error)
	go func() { _, err := p.read(ctx, make([]float32, 10)); done <- err }()
	cancel()
	if err := <-done; !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestTapeWaitsForSound(t *testing.T) {
	p := newTape(50, 0)
	done := make(chan int)
	go func() { n, _ := p.read(context.Background(), make([]float32, 10)); done <- n }()
	time.Sleep(time.Millisecond)
	p.put(count(0, 3), 0)
	if n := <-done; n != 3 {
		t.Errorf("%d samples", n)
	}
}

func BenchmarkTape(b *testing.B) {
	p := newTape(48000, 0)
	in, out := count(0, 960), make([]float32, 960)
	for b.Loop() {
		p.put(in, 0)
		p.read(context.Background(), out)
	}
}
