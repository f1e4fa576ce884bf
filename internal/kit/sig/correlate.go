package sig

// Correlate puts into dst[k] the sum over i of w[i]·x[k+i], for every k that
// dst has room for; x must have len(dst)+len(w)-1 samples, lags beyond are 0.
// Four lags are worked at once, because the samples they share need be
// loaded once only.
func Correlate(dst, w, x []float32) {
	n := min(len(dst), len(x)-len(w)+1)
	if n < 0 {
		n = 0
	}
	clear(dst[n:])
	k := 0
	for ; k+4 <= n; k += 4 {
		dst[k], dst[k+1], dst[k+2], dst[k+3] = fourLags(w, x[k:k+len(w)+3])
	}
	for ; k < n; k++ {
		dst[k] = Dot(w, x[k:])
	}
}

// fourLags correlates at lags 0 to 3; x has len(w)+3 samples.
func fourLags(w, x []float32) (a, b, c, d float32) {
	if len(w) == 0 {
		return
	}
	x = x[:len(w)+3]
	p, q, r := x[0], x[1], x[2]
	y := x[3:]
	y = y[:len(w)]
	i := 0
	for ; i+4 <= len(w); i += 4 {
		v, z := w[i:i+4:i+4], y[i:i+4:i+4]
		s0, s1, s2, s3 := z[0], z[1], z[2], z[3]
		a += v[0]*p + v[1]*q + v[2]*r + v[3]*s0
		b += v[0]*q + v[1]*r + v[2]*s0 + v[3]*s1
		c += v[0]*r + v[1]*s0 + v[2]*s1 + v[3]*s2
		d += v[0]*s0 + v[1]*s1 + v[2]*s2 + v[3]*s3
		p, q, r = s1, s2, s3
	}
	for ; i < len(w); i++ {
		s := y[i]
		a += w[i] * p
		b += w[i] * q
		c += w[i] * r
		d += w[i] * s
		p, q, r = q, r, s
	}
	return
}

// Dot is the sum of w[i]·x[i] over w; x must be as long.
func Dot(w, x []float32) float32 {
	x = x[:len(w)]
	var a, b, c, d float32
	i := 0
	for ; i+4 <= len(w); i += 4 {
		v, y := w[i:i+4:i+4], x[i:i+4:i+4]
		a += v[0] * y[0]
		b += v[1] * y[1]
		c += v[2] * y[2]
		d += v[3] * y[3]
	}
	for ; i < len(w); i++ {
		a += w[i] * x[i]
	}
	return a + b + c + d
}

// Power is the mean square of x, 0 where there is nothing.
func Power(x []float32) float64 {
	if len(x) == 0 {
		return 0
	}
	var s float64
	for _, v := range x {
		s += float64(v) * float64(v)
	}
	return s / float64(len(x))
}
