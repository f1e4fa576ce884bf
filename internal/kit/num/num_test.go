package num

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Values of GSL 2.7.1, specfunc/test_sf.c, and of Abramowitz & Stegun, Table
// 17.1 (m = k²).
func TestEllipticK(t *testing.T) {
	for _, c := range []struct {
		k, want float64
		src     string
	}{
		{0.5, 1.6857503548125960429, "GSL"},
		{0.01, 1.5708355989121522360, "GSL"},
		{0.99, 3.3566005233611923760, "GSL"},
		{-0.5, 1.6857503548125960429, "GSL"},
		{math.Sqrt(0.1), 1.612441348720219, "A&S 17.1"},
		{math.Sqrt(0.5), 1.854074677301372, "A&S 17.1"},
		{0, math.Pi / 2, "definition"},
	} {
		if got := EllipticK(c.k); math.Abs(got-c.want) > 4.5e-16*c.want {
			t.Errorf("K(%v): got %.17g, want %.17g (%s)", c.k, got, c.want, c.src)
		}
	}
	if !math.IsInf(EllipticK(1), 1) || !math.IsNaN(EllipticK(1.1)) || !math.IsNaN(EllipticK(math.NaN())) {
		t.Error("K at and beyond 1")
	}
}

// K against its integral by the midpoint rule, which converges geometrically
// for a periodic integrand.
func TestEllipticKAgainstIntegral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0, 0.95).Draw(t, "k")
		const n = 200
		sum := 0.0
		for i := range n {
			s := k * math.Sin((float64(i)+0.5)/n*math.Pi/2)
			sum += 1 / math.Sqrt(1-s*s)
		}
		want := sum * math.Pi / 2 / n
		if got := EllipticK(k); math.Abs(got-want) > 1e-13*want {
			t.Fatalf("K(%v): got %v, want %v", k, got, want)
		}
	})
}

func TestAGM(t *testing.T) {
	// Gauss's constant is 1/AGM(1, √2).
	if got := 1 / AGM(1, math.Sqrt2); math.Abs(got-0.8346268416740731863) > 2e-16 {
		t.Errorf("Gauss's constant: got %.17g", got)
	}
	if AGM(0, 1) != 0 || !math.IsNaN(AGM(-1, 1)) || !math.IsNaN(AGM(math.NaN(), 1)) || !math.IsNaN(AGM(math.Inf(1), 1)) {
		t.Error("ends of the range")
	}
	if got := AGM(1e-300, 1e300); got <= 0 || math.IsInf(got, 0) {
		t.Errorf("far apart: %v", got)
	}
}

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name       string
		f          func(float64) float64
		a, b, want float64
	}{
		{"line", func(x float64) float64 { return 2*x - 1 }, 0, 1, 0.5},
		{"cosine", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151606},
		{"cube root of 2", func(x float64) float64 { return x*x*x - 2 }, -5, 5, math.Cbrt(2)},
		{"ninth power", func(x float64) float64 { return math.Pow(x, 9) }, -1, 4, 0},
		{"step", func(x float64) float64 { return math.Copysign(1, x-1.0/3) }, 0, 1, 1.0 / 3},
		{"end", func(x float64) float64 { return x }, 0, 1, 0},
		{"backwards", func(x float64) float64 { return x - 0.25 }, 1, 0, 0.25},
	} {
		got, err := Root(c.f, c.a, c.b, 1e-14)
		if err != nil || math.Abs(got-c.want) > 1e-13 && !(c.name == "ninth power" && math.Abs(got) < 1e-3) {
			t.Errorf("%s: got %v, %v; want %v", c.name, got, err, c.want)
		}
	}
}

func TestRootRefuses(t *testing.T) {
	for name, f := range map[string]func(float64) float64{
		"same sign":      func(x float64) float64 { return x*x + 1 },
		"no number":      func(float64) float64 { return math.NaN() },
		"hole in middle": func(x float64) float64 { return math.Sqrt(x*x-0.5) * math.Copysign(1, x) },
	} {
		if x, err := Root(f, -1, 1, 1e-12); !errors.Is(err, ErrNoBracket) || !math.IsNaN(x) {
			t.Errorf("%s: got %v, %v", name, x, err)
		}
	}
}

// Any cubic with one crossing is solved, and in few steps.
func TestRootCubics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(-9, 9).Draw(t, "root")
		c := rapid.Float64Range(0.1, 10).Draw(t, "c")
		n := 0
		got, err := Root(func(x float64) float64 { n++; return (x - r) * ((x-r)*(x-r) + c) }, -10, 10, 1e-12)
		if err != nil || math.Abs(got-r) > 1e-11 || n > 60 {
			t.Fatalf("got %v after %d calls, %v; want %v", got, n, err, r)
		}
	})
}

func BenchmarkEllipticK(b *testing.B) {
	for b.Loop() {
		EllipticK(0.0349)
	}
}

func BenchmarkRoot(b *testing.B) {
	for b.Loop() {
		if _, err := Root(func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 1e-12); err != nil {
			b.Fatal(err)
		}
	}
}
