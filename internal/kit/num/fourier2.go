package num

import "math"

// powerOfTwo is a transform whose length is a power of two: the n numbers are
// taken as half as many complex ones, transformed four by four (Stockham's
// order, which needs no sorting), and taken apart again.
type powerOfTwo struct {
	n    int
	turn []complex128 // e^(−2πik/n) for k below n/2+1
	a, b []complex128 // n/2 each, worked in by turns
}

func newPowerOfTwo(n int) *powerOfTwo {
	p := &powerOfTwo{n: n, turn: make([]complex128, n/2+1), a: make([]complex128, n/2), b: make([]complex128, n/2)}
	// An eighth of a turn is calculated, the rest is seen in its mirrors.
	for k := 0; k <= n/8; k++ {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		p.turn[k] = complex(c, -s)
		p.turn[n/4-k] = complex(s, -c)
		p.turn[n/4+k] = complex(-s, -c)
		p.turn[n/2-k] = complex(-c, -s)
	}
	return p
}

func (p *powerOfTwo) spectrum(dst []complex128, x []float64) {
	half := p.n / 2
	x, dst = x[:p.n], dst[:half+1]
	for i := range p.a {
		p.a[i] = complex(x[2*i], x[2*i+1])
	}
	z := p.transform()
	dst[0] = complex(real(z[0])+imag(z[0]), 0)
	dst[half] = complex(real(z[0])-imag(z[0]), 0)
	for k := 1; k <= half/2; k++ {
		u, v, w := z[k], z[half-k], p.turn[k]
		er, ei := (real(u)+real(v))/2, (imag(u)-imag(v))/2 // of the even numbers
		or, oi := (imag(u)+imag(v))/2, (real(v)-real(u))/2 // of the odd ones
		tr, ti := or*real(w)-oi*imag(w), or*imag(w)+oi*real(w)
		dst[k] = complex(er+tr, ei+ti)
		dst[half-k] = complex(er-tr, ti-ei)
	}
}

func (p *powerOfTwo) sequence(dst []float64, c []complex128) {
	half := p.n / 2
	dst, c = dst[:p.n], c[:half+1]
	scale := 1 / float64(p.n)
	// The conjugate goes in and comes out: that makes the inverse of it.
	p.a[0] = complex((real(c[0])+real(c[half]))*scale, (real(c[half])-real(c[0]))*scale)
	for k := 1; k <= half/2; k++ {
		u, v, w := c[k], c[half-k], p.turn[k]
		er, ei := (real(u)+real(v))*scale, (imag(u)-imag(v))*scale
		tr, ti := (real(u)-real(v))*scale, (imag(u)+imag(v))*scale
		or, oi := tr*real(w)+ti*imag(w), ti*real(w)-tr*imag(w)
		p.a[k] = complex(er-oi, -(ei + or))
		p.a[half-k] = complex(er+oi, -(or - ei))
	}
	for i, v := range p.transform() {
		dst[2*i], dst[2*i+1] = real(v), -imag(v)
	}
}

// transform transforms a, and returns the one of a and b that holds what came
// of it.
func (p *powerOfTwo) transform() []complex128 {
	x, y := p.a, p.b
	size, stride := len(x), 1
	if size >= 4 {
		p.firstFour(y, x)
		x, y, size, stride = y, x, size/4, 4
	}
	for ; size >= 4; size, stride = size/4, stride*4 {
		p.byFour(y, x, size/4, stride)
		x, y = y, x
	}
	if size == 2 {
		for q, u := range x[:stride] {
			v := x[q+stride]
			y[q], y[q+stride] = u+v, u-v
		}
		x = y
	}
	return x
}

// firstFour is byFour of stride 1.
func (p *powerOfTwo) firstFour(y, x []complex128) {
	n := len(x) / 4
	a, b, c, d := x[:n], x[n:][:n], x[2*n:][:n], x[3*n:][:n]
	for j, u := range a {
		w1, w2 := p.turn[2*j], p.turn[4*j]
		v, s, t := b[j], c[j], d[j]
		plus, minus, sum, diff := u+s, u-s, v+t, v-t
		turned := complex(-imag(diff), real(diff))
		to := y[4*j:][:4]
		to[0] = plus + sum
		to[1] = w1 * (minus - turned)
		to[2] = w2 * (plus - sum)
		to[3] = w1 * w2 * (minus + turned)
	}
}

// byFour is one step of a transform: quarter times stride groups of four.
func (p *powerOfTwo) byFour(y, x []complex128, quarter, stride int) {
	step := quarter * stride
	for j := range quarter {
		w1, w2 := p.turn[2*j*stride], p.turn[4*j*stride]
		w3 := w1 * w2
		from, to := j*stride, 4*j*stride
		a, b, c, d := x[from:][:stride], x[from+step:][:stride], x[from+2*step:][:stride], x[from+3*step:][:stride]
		e, f, g, h := y[to:][:stride], y[to+stride:][:stride], y[to+2*stride:][:stride], y[to+3*stride:][:stride]
		for q, u := range a {
			v, s, t := b[q], c[q], d[q]
			plus, minus, sum, diff := u+s, u-s, v+t, v-t
			turned := complex(-imag(diff), real(diff))
			e[q] = plus + sum
			f[q] = w1 * (minus - turned)
			g[q] = w2 * (plus - sum)
			h[q] = w3 * (minus + turned)
		}
	}
}
