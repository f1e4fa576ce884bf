// Package num has the numerical methods that more than one chapter needs:
// the arithmetic-geometric mean and the complete elliptic integral of the
// first kind ([AGM], [EllipticK]) for a pendulum at any arc, a bracketed
// root ([Root]) for the place of a bob, and least squares by orthogonal rows
// ([Triangle]) for what many readings say together.
//
// Numbers here are bare float64: a method does not know what they measure.
// Nothing panics on data; what has no value comes back as NaN, and a root
// that cannot be found as an error.
//
// No library is used: the mean converges in five steps to the last bit, and
// a root search in one variable is thirty lines.
//
// Sources: the mean and its tie to K, Abramowitz & Stegun, Handbook of
// Mathematical Functions, 1964, 17.6; the root, R. P. Brent, Algorithms for
// Minimization without Derivatives, 1973, ch. 4 (both from memory; the values
// are checked against GSL 2.7.1).
package num

import (
	"errors"
	"math"
)

// AGM is the arithmetic-geometric mean of two positive numbers; 0 where one
// of them is 0, NaN where one is negative.
func AGM(a, b float64) float64 {
	if a == 0 || b == 0 {
		return 0
	}
	if !(a > 0 && b > 0) || math.IsInf(a, 0) || math.IsInf(b, 0) {
		return math.NaN()
	}
	for range 60 { // five are enough near 1, forty at b/a = 1e-300
		if math.Abs(a-b) <= 4e-16*a {
			break
		}
		a, b = (a+b)/2, math.Sqrt(a)*math.Sqrt(b)
	}
	return (a + b) / 2
}

// EllipticK is the complete elliptic integral of the first kind,
//
//	K(k) = ∫ dφ / √(1 − k² sin² φ) from 0 to π/2 = π / 2 AGM(1, √(1 − k²)),
//
// of the modulus k (not of the parameter m = k²). It is even in k, +Inf at
// |k| = 1 and NaN beyond. Its relative error is below 4e-16 for |k| ≤ 0.99.
func EllipticK(k float64) float64 {
	k = math.Abs(k)
	if k == 1 {
		return math.Inf(1)
	}
	return math.Pi / 2 / AGM(1, math.Sqrt((1-k)*(1+k)))
}

// ErrNoBracket is returned by Root where f has the same sign at both ends, or
// no value at one of them.
var ErrNoBracket = errors.New("num: the two ends do not enclose a root")

// Root finds x between a and b with f(x) = 0 by Brent's method, to within tol
// of the crossing (never finer than the arithmetic allows). f must change
// sign between a and b.
func Root(f func(float64) float64, a, b, tol float64) (float64, error) {
	fa, fb := f(a), f(b)
	switch {
	case fa == 0:
		return a, nil
	case fb == 0:
		return b, nil
	case !(fa*fb < 0 || math.Signbit(fa) != math.Signbit(fb)) || math.IsNaN(fa) || math.IsNaN(fb):
		return math.NaN(), ErrNoBracket
	}
	return brent(f, point{a, fa}, point{b, fb}, tol)
}

// point is a place with the value there.
type point struct{ x, f float64 }

// brent keeps the root between b (the best) and c; a was the best before.
func brent(f func(float64) float64, a, b point, tol float64) (float64, error) {
	c := a
	d := b.x - a.x // the last step
	e := d         // the one before
	for range 200 {
		if math.Signbit(b.f) == math.Signbit(c.f) {
			c, d = a, b.x-a.x
			e = d
		}
		if math.Abs(c.f) < math.Abs(b.f) {
			a, b, c = b, c, b
		}
		fine := 2*epsilon*math.Abs(b.x) + tol/2
		m := (c.x - b.x) / 2
		if math.Abs(m) <= fine || b.f == 0 {
			return b.x, nil
		}
		d, e = step(a, b, c, d, e, m, fine)
		a = b
		if math.Abs(d) > fine {
			b.x += d
		} else {
			b.x += math.Copysign(fine, m)
		}
		if b.f = f(b.x); math.IsNaN(b.f) {
			return math.NaN(), ErrNoBracket
		}
	}
	return b.x, nil
}

const epsilon = 0x1p-52

// step proposes the next step by secant or inverse quadratic interpolation
// and falls back to halving where that would not help.
func step(a, b, c point, d, e, m, fine float64) (next, before float64) {
	if math.Abs(e) < fine || math.Abs(a.f) <= math.Abs(b.f) {
		return m, m
	}
	s := b.f / a.f
	var p, q float64
	if a.x == c.x {
		p, q = 2*m*s, 1-s
	} else {
		r, t := b.f/c.f, a.f/c.f
		p = s * (2*m*t*(t-r) - (b.x-a.x)*(r-1))
		q = (t - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	}
	p = math.Abs(p)
	if 2*p < math.Min(3*m*q-math.Abs(fine*q), math.Abs(e*q)) {
		return p / q, d
	}
	return m, m
}
