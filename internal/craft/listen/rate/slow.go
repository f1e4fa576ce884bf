package rate

import "math"

// slowly runs the filter where the rate itself walks too: besides the level
// a second state, how far the beat has moved from that at the start, takes a
// step of variance slow at each beat. All variances are in units of the
// scatter's; before is the variance that the beat's length has gathered when
// the stretch begins. The columns are those of pass; d is the second state
// at the end, dVar its variance.
func (s *stretch) slowly(lambda, slow, before float64) sums {
	var out sums
	ay, an, as := s.y[0], 0.0, s.side[0]
	var by, bn, bs float64
	p, c, q := s.v[0], 0.0, before // of level, both, second state
	prod, last := 1.0, 0.0
	for i := 1; i < len(s.y); i++ {
		n, v := s.n[i], s.v[i]
		if d := n - last; d == 1 {
			p += 2*c + q + lambda
			c += q
			q += slow
			ay, an, as = ay+by, an+bn, as+bs
		} else {
			p += d*(2*c+d*q) + lambda*d + slow*(d-1)*d*(2*d-1)/6
			c += d*q + slow*d*(d-1)/2
			q += slow * d
			ay, an, as = ay+d*by, an+d*bn, as+d*bs
		}
		last = n
		f := p + v
		g := 1 / f
		vy, vn, vs := s.y[i]-ay, n-an, s.side[i]-as
		gy, gn, gs := vy*g, vn*g, vs*g
		out.yy += vy * gy
		out.yn += vy * gn
		out.ys += vy * gs
		out.nn += vn * gn
		out.ns += vn * gs
		out.ss += vs * gs
		ay, an, as = ay+p*gy, an+p*gn, as+p*gs
		by, bn, bs = by+c*gy, bn+c*gn, bs+c*gs
		q -= c * c * g
		k := v * g
		c, p = c*k, p*k
		if prod *= f; prod > 1e250 || prod < 1e-250 {
			out.logF += math.Log(prod)
			prod = 1
		}
	}
	out.logF += math.Log(prod)
	out.d, out.dVar = [3]float64{by, bn, bs}, q
	return out
}

// ahead is what the beats say of the next stretch as long, if the ratio of
// walk to scatter were lambda and that of the rate's own walk slow.
func (r *record) ahead(lambda, slow float64) fit {
	f := fit{lambda: lambda, freedom: float64(r.used - 1)}
	var a, b, yy, logs float64
	var last sums
	sided := false
	for i := range r.stretches {
		st := &r.stretches[i]
		s := st.slowly(lambda, slow, slow*st.since)
		f.spans += st.span()
		logs += s.logF
		f.freedom--
		a, b, yy = a+s.nn, b+s.yn, yy+s.yy
		if st.sided {
			a -= s.ns * s.ns / s.ss
			b -= s.ns * s.ys / s.ss
			yy -= s.ys * s.ys / s.ss
			logs += math.Log(s.ss)
			f.freedom--
		}
		last, sided = s, st.sided
	}
	f.period, f.periodVar = b/a, 1/a
	f.rss = max(yy-b*b/a, f.freedom*r.exact*r.exact)
	f.log = -(logs + math.Log(a) + f.freedom*math.Log(f.rss)) / 2
	// the beat's length at the end of the last stretch
	d := last.d
	extra := last.dVar
	if sided {
		h := d[2] / last.ss
		d[0] -= h * last.ys
		d[1] -= h * last.ns
		extra += h * d[2]
	}
	f.period += d[0] - d[1]*f.period
	f.periodVar = extra + (1-d[1])*(1-d[1])*f.periodVar
	f.periodVar += lambda/f.spans + slow*(f.spans+1)*(2*f.spans+1)/6/f.spans
	return f
}

// slowest is the walk of the rate, in units of the scatter's variance, that
// makes about as much doubt of the next stretch as scatter and wander do.
func (r *record) slowest(lambda float64) float64 {
	n := r.beatsLong()
	return (24 + 4*lambda*n*n) / (n * n * n * n)
}

// beatsLong is the beats from the first to the last of all stretches.
func (r *record) beatsLong() float64 {
	n := 0.0
	for i := range r.stretches {
		n += r.stretches[i].span()
	}
	return n
}

// drowned is how many times the other noise the rate's own walk may be; more
// would not be told from it.
const drowned = 100
