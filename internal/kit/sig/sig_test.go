package sig

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestCorrelateIsTheSum(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 3, 4, 5, 127, 1000} {
		w, x := noise(r, n), noise(r, n+53)
		got := make([]float32, 54)
		Correlate(got, w, x)
		for k := range got {
			var want float64
			for i, v := range w {
				want += float64(v) * float64(x[k+i])
			}
			if math.Abs(float64(got[k])-want) > 1e-4*math.Sqrt(float64(n)+1) {
				t.Fatalf("%d taps, lag %d: %v, want %v", n, k, got[k], want)
			}
		}
	}
}

func TestTapsCorrelateAlike(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 95, 96, 97, 127, 191, 193, 385, 1000, 1201} {
		w := noise(r, n)
		taps := NewTaps(w)
		for _, lags := range []int{0, 1, 7, 8, 9, 16, 31, 64, 103, 900, 57} {
			x := noise(r, n+lags+2) // more than is needed
			for _, x := range [][]float32{x, x[:max(0, n+lags-1)], x[:n/2]} {
				got, want := make([]float32, lags), make([]float32, lags)
				taps.Correlate(got, x)
				Correlate(want, w, x)
				for k := range got {
					if math.Abs(float64(got[k]-want[k])) > 3e-6*math.Sqrt(float64(n)+1) {
						t.Fatalf("%d taps, %d lags, lag %d: %v, want %v", n, lags, k, got[k], want[k])
					}
				}
			}
		}
	}
}

func TestCorrelateBeyondTheEnd(t *testing.T) {
	got := []float32{9, 9, 9}
	Correlate(got, []float32{1, 1}, []float32{1, 2})
	if got[0] != 3 || got[1] != 0 || got[2] != 0 {
		t.Errorf("got %v", got)
	}
	Correlate(got, []float32{1, 1, 1}, []float32{1})
	if got[0] != 0 {
		t.Errorf("too short gives %v", got)
	}
}

func noise(r *rand.Rand, n int) []float32 {
	x := make([]float32, n)
	for i := range x {
		x[i] = float32(r.NormFloat64())
	}
	return x
}

func tone(n int, f, phase float64) []float32 {
	x := make([]float32, n)
	for i := range x {
		x[i] = float32(math.Sin(2*math.Pi*f*float64(i) + phase))
	}
	return x
}

func TestBetweenIsTheSine(t *testing.T) {
	b := NewBetween()
	for _, c := range []struct{ f, tol float64 }{{0.01, 5e-5}, {0.1, 5e-5}, {0.3, 2e-4}, {0.4, 8e-2}} {
		x := tone(100, c.f, 0.3)
		for place := 20.0; place < 80; place += 0.137 {
			want := math.Sin(2*math.Pi*c.f*place + 0.3)
			if got := b.At(x, place); math.Abs(got-want) > c.tol {
				t.Fatalf("f %v at %v: %v, want %v", c.f, place, got, want)
			}
		}
	}
}

func TestPeakOfAPulse(t *testing.T) {
	b := NewBetween()
	for _, frac := range []float64{-0.49, -0.2, 0, 0.31, 0.5} {
		x := make([]float32, 80)
		for i := range x {
			d := float64(i) - 40 - frac
			x[i] = float32(math.Exp(-d*d/18) * math.Cos(0.9*d))
		}
		place, value, curve := b.Peak(x, 40)
		if math.Abs(place-40-frac) > 2e-4 || math.Abs(value-1) > 1e-4 || curve >= 0 {
			t.Errorf("at %v: %v, %v, %v", frac, place-40, value, curve)
		}
	}
}

func TestBandPassPassesAndStops(t *testing.T) {
	h := BandPass(500, 17000, 48000, 127)
	for _, c := range []struct{ f, low, high float64 }{{50, 0, 0.12}, {2000, 0.97, 1.03}, {15000, 0.97, 1.03}, {22000, 0, 0.02}} {
		x := tone(2000, c.f/48000, 0)
		y := make([]float32, len(x))
		Convolve(y, NewTaps(h), x)
		gain := math.Sqrt(Power(y[500:1500]) / Power(x[500:1500]))
		if gain < c.low || gain > c.high {
			t.Errorf("%v Hz: gain %v", c.f, gain)
		}
	}
}

func TestHighPass(t *testing.T) {
	f := NewHighPass(900, 48000)
	x := tone(48000, 900.0/48000, 0)
	f.Energy(x[:24000])
	if g := f.Energy(x[24000:]) / 24000 / 0.5; math.Abs(g-0.5) > 0.01 {
		t.Errorf("at the edge the power is %v, want half", g)
	}
}

func BenchmarkCorrelate(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	w, x, d := noise(r, 1536), noise(r, 1536+31), make([]float32, 32)
	for b.Loop() {
		Correlate(d, w, x)
	}
}

func BenchmarkTaps(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	w, x, d := NewTaps(noise(r, 1536)), noise(r, 1536+31), make([]float32, 32)
	for b.Loop() {
		w.Correlate(d, x)
	}
}

func BenchmarkConvolve(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	h, x, d := NewTaps(BandPass(500, 17000, 48000, 127)), noise(r, 2200), make([]float32, 2200)
	for b.Loop() {
		Convolve(d, h, x)
	}
}
