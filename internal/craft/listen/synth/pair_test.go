package synth

import (
	"errors"
	"io"
	"math"
	"testing"
)

// TestPairIsTheSumOfTwo holds a pair to its two recordings read alone, and
// its level to what was asked.
func TestPairIsTheSumOfTwo(t *testing.T) {
	const level = -6
	one, other := Recipe{Seed: 1, Shape: 2, Length: 5}, Recipe{Seed: 3, Shape: 4, Clock: Clock{Beat: 0.4}}
	p, err := NewPair(one, other, level)
	if err != nil {
		t.Fatal(err)
	}
	a, err := New(p.One.Truth().Recipe)
	if err != nil {
		t.Fatal(err)
	}
	b, err := New(p.Other.Truth().Recipe)
	if err != nil {
		t.Fatal(err)
	}
	power := func(r *Recording) float64 { return r.peak * r.peak * r.voices[0].power }
	if got := 10 * math.Log10(power(b)/power(a)); math.Abs(got-level) > 1e-9 {
		t.Errorf("the other is at %v dB, want %v", got, level)
	}
	both := make([]float32, p.Frames()+100)
	n, err := p.ReadFloat(both)
	if int64(n) != p.Frames() || !errors.Is(err, io.EOF) {
		t.Fatalf("%d samples of %d, %v", n, p.Frames(), err)
	}
	x, y := make([]float32, n), make([]float32, n)
	for _, r := range []struct {
		rec *Recording
		to  []float32
	}{{a, x}, {b, y}} {
		if m, err := r.rec.ReadFloat(r.to); m != n || !errors.Is(err, io.EOF) {
			t.Fatalf("%d samples, %v", m, err)
		}
	}
	for i, v := range both[:n] {
		if v != x[i]+y[i] {
			t.Fatalf("sample %d is %v, want %v", i, v, x[i]+y[i])
		}
		if v > 1 || v < -1 {
			t.Fatalf("sample %d is %v, past full scale", i, v)
		}
	}
}

func TestPairRefusesWhatDoesNotFit(t *testing.T) {
	if _, err := NewPair(Recipe{}, Recipe{}, math.NaN()); err == nil {
		t.Error("a level that is no number was taken")
	}
	if _, err := NewPair(Recipe{}, Recipe{Recorder: Recorder{ClockError: 1e-5}}, 0); err == nil {
		t.Error("two recorder clocks were taken")
	}
	if _, err := NewPair(Recipe{Length: -1}, Recipe{}, 0); err == nil {
		t.Error("a length below 0 was taken")
	}
}
