package audio

import (
	"bytes"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"testing"
)

// TestFLACComesBack writes noise, silence, a tone and what is too loud, in
// pieces of any length, and reads it back sample by sample.
func TestFLACComesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var x []float32
	for i := range 50_000 {
		switch {
		case i < 10_000:
			x = append(x, float32(r.IntN(65536)-32768)/32768)
		case i < 20_000:
			x = append(x, 0)
		case i < 40_000:
			x = append(x, float32(math.Round(3000*math.Sin(float64(i)/9)+20*r.NormFloat64()))/32768)
		default:
			x = append(x, float32(2*math.Sin(float64(i)/50)))
		}
	}
	var b bytes.Buffer
	w, err := NewFLACWriter(&b, 44_100)
	if err != nil {
		t.Fatal(err)
	}
	for rest := x; len(rest) > 0; {
		n := min(1+r.IntN(9000), len(rest))
		if err := w.Write(rest[:n]); err != nil {
			t.Fatal(err)
		}
		rest = rest[n:]
	}
	if err := w.Close(); err != nil || w.Size() != int64(b.Len()) {
		t.Fatal(err, w.Size(), b.Len())
	}
	if b.Len() > 2*len(x)*4/5 {
		t.Errorf("%d bytes for %d samples", b.Len(), len(x))
	}
	s, err := OpenReader(t.Context(), &b, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.Rate() != 44_100 {
		t.Error(s.Rate())
	}
	var got []float32
	part := make([]float32, 1000)
	for {
		n, err := s.ReadFloat(part)
		got = append(got, part[:n]...)
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(got) != len(x) {
		t.Fatalf("%d samples of %d", len(got), len(x))
	}
	for i := range x {
		if want := min(max(math.RoundToEven(float64(x[i])*32768), -32768), 32767) / 32768; math.Abs(float64(got[i])-want) > 1e-6 {
			t.Fatalf("sample %d is %v, want %v", i, got[i], want)
		}
	}
}

func TestFLACWriterRefuses(t *testing.T) {
	var f *FormatError
	if _, err := NewFLACWriter(io.Discard, 100); !errors.As(err, &f) {
		t.Error(err)
	}
	w, err := NewFLACWriter(&full{}, 48_000)
	if err == nil {
		err = w.Write(make([]float32, 5000))
	}
	if !errors.Is(err, errFull) {
		t.Error(err)
	}
}

var errFull = errors.New("full")

type full struct{ n int }

func (f *full) Write(p []byte) (int, error) {
	if f.n += len(p); f.n > 50 {
		return 0, errFull
	}
	return len(p), nil
}
