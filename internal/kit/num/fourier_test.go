package num

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// TestFourierIsTheSum holds transforms of all kinds of length to their
// definition, and back.
func TestFourierIsTheSum(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 2, 3, 4, 8, 12, 16, 32, 64, 100, 128, 512} {
		f := NewFourier(n)
		x := make([]float64, n)
		for i := range x {
			x[i] = r.NormFloat64()
		}
		c := f.Spectrum(nil, x)
		if len(c) != n/2+1 || f.Len() != n {
			t.Fatalf("%d numbers: %d of a transform of %d", n, len(c), f.Len())
		}
		for k, got := range c {
			var want complex128
			for i, v := range x {
				want += complex(v, 0) * cmplx.Rect(1, -2*math.Pi*float64(k*i%n)/float64(n))
			}
			if cmplx.Abs(got-want) > 1e-13*float64(n) {
				t.Errorf("%d numbers, line %d: %v, want %v", n, k, got, want)
			}
		}
		for i, v := range f.Sequence(nil, c) {
			if math.Abs(v-x[i]) > 1e-14*float64(n) {
				t.Errorf("%d numbers, back at %d: %v, want %v", n, i, v, x[i])
			}
		}
	}
}

func BenchmarkFourier(b *testing.B) {
	for _, n := range []int{64, 512, 4096, 32768} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			f := NewFourier(n)
			x, c := make([]float64, n), make([]complex128, n/2+1)
			for i := range x {
				x[i] = float64(i % 7)
			}
			for b.Loop() {
				f.Spectrum(c, x)
				f.Sequence(x, c)
			}
		})
	}
}
