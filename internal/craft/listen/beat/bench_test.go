package beat

import (
	"context"
	"io"
	"math"
	"math/rand/v2"
	"testing"
)

// over gives the same minute of a clock again and again, so that the
// benchmark measures the ear and reading from memory only.
type over struct {
	minute []int16
	left   int
	at     int
}

func (l *over) Rate() float64                        { return 48000 }
func (l *over) ReadFloat(dst []float32) (int, error) { return 0, io.EOF }
func (l *over) ReadInt16(dst []int16) (int, error) {
	if l.left == 0 {
		return 0, io.EOF
	}
	n := copy(dst[:min(len(dst), l.left)], l.minute[l.at:])
	l.at = (l.at + n) % len(l.minute)
	l.left -= n
	return n, nil
}

func minute() []int16 {
	r := rand.New(rand.NewPCG(3, 4))
	x := make([]int16, 60*48000)
	for i := range x {
		x[i] = int16(30 * r.NormFloat64())
	}
	for k := range 60 {
		at := (0.3 + float64(k) + 20e-6*r.NormFloat64()) * 48000
		for i := int(at) - 300; i < int(at)+2400; i++ {
			x[i] += int16(6000 * pulse(float64(i)/48000-at/48000, k&1))
		}
	}
	return x
}

func pulse(t float64, side int) float64 {
	var v float64
	for _, hit := range [...]struct{ at, amp float64 }{{-0.005, 0.2}, {0, 1}, {0.004, 0.4}} {
		u := t - hit.at
		if u < 0 {
			continue
		}
		for m := range 4 {
			f := 900*float64(m+1) + 777*float64(m*m)*(1+0.13*float64(side)) + 100*float64(side)
			v += hit.amp * (1 - math.Exp(-u/30e-6)) * math.Exp(-u/(4e-3/float64(m+1))) * math.Sin(2*math.Pi*f*u+float64(m))
		}
	}
	return v
}

func benchmarkEar(b *testing.B, seconds int) {
	m := minute()
	var beats int
	for b.Loop() {
		e := NewEar(&over{minute: m, left: seconds * 48000}, Options{})
		if err := e.Run(context.Background()); err != nil {
			b.Fatal(err)
		}
		beats = len(e.Heard().Beats)
	}
	if beats < seconds*99/100 {
		b.Fatalf("%d beats of %d", beats, seconds)
	}
	b.ReportMetric(float64(seconds)*float64(b.N)/b.Elapsed().Seconds(), "×real")
}

// An hour and ten minutes of a seconds pendulum at 48 kHz; 10 s is the first
// lock alone.
func BenchmarkEarHour(b *testing.B)       { benchmarkEar(b, 3600) }
func BenchmarkEarTenMinutes(b *testing.B) { benchmarkEar(b, 600) }

func BenchmarkLock(b *testing.B) {
	m := minute()
	for b.Loop() {
		h := &hearer{ear: NewEar(&over{minute: m, left: 20 * 48000}, Options{}), tools: newTools(48000)}
		h.tape = newTape(h.ear.src, nil)
		h.tape.reach(context.Background(), 0, 8*48000)
		if _, ok := h.acquire(0, 8*48000); !ok {
			b.Fatal("no lock")
		}
	}
}
