package num

import (
	"math"
	"testing"
)

func TestLeast(t *testing.T) {
	for _, c := range []struct{ a, b, at float64 }{{0, 3, 1.25}, {3, 0, 1.25}, {-2, 1.25, 1.25}, {1.25, 9, 1.25}} {
		x := Least(func(x float64) float64 { return math.Abs(x - 1.25) }, c.a, c.b, 1e-12)
		if math.Abs(x-c.at) > 1e-12 {
			t.Errorf("between %g and %g: %.15f", c.a, c.b, x)
		}
	}
	// A smooth dip is flat: no better than the square root of the arithmetic.
	if x := Least(func(x float64) float64 { return math.Cos(x) }, 2, 4, 0); math.Abs(x-math.Pi) > 1e-7 {
		t.Errorf("%.12f", x)
	}
}
