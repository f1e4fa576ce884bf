package num

import "math"

// Least finds where f is least between a and b, to within tol, by golden
// section. Where f has several dips it finds one of them.
func Least(f func(float64) float64, a, b, tol float64) float64 {
	const part = 0.6180339887498949 // (√5 − 1)/2
	x, y := b-part*(b-a), a+part*(b-a)
	fx, fy := f(x), f(y)
	for math.Abs(b-a) > tol+4*epsilon*(math.Abs(a)+math.Abs(b)) {
		if fx <= fy {
			b, y, fy = y, x, fx
			x = b - part*(b-a)
			fx = f(x)
		} else {
			a, x, fx = x, y, fy
			y = a + part*(b-a)
			fy = f(y)
		}
		if x == y || a == b {
			break
		}
	}
	return (a + b) / 2
}
