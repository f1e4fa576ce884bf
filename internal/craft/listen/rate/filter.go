package rate

import "math"

// stretch is one run prepared for the filter. Places are seconds from the
// line first + N about, so that the sums keep their digits.
type stretch struct {
	run   int       // of the beats
	at    []int     // index of the beat in Query.Beats
	odd   []bool    // given no weight
	n     []float64 // number, from 0
	y     []float64 // place
	side  []float64 // −½ for a tick, +½ for a tock
	v     []float64 // variance of the scatter, the mean is 1; huge for an odd beat
	sided bool      // both sides are there
	since float64   // beats from the start of the first stretch to that of this
}

// span is the number of beats from the first to the last.
func (s *stretch) span() float64 { return s.n[len(s.n)-1] }

// sums is what one pass of the filter leaves: products of the whitened
// columns (y place, n number, s side) and the ends of the level.
type sums struct {
	yy, yn, ys, nn, ns, ss float64
	logF                   float64    // logarithm of the product of the variances
	d                      [3]float64 // last level less first, of the three columns
	dVar                   float64    // its variance
}

// pass runs the filter of a random walk in white noise over a stretch, for
// walk variance lambda per beat and scatter variance v, both in units of the
// scatter. The three columns go through the same filter, so that period and
// side offset can be solved for afterwards (the augmented filter). A second
// state holds the level at the first beat, so that the walk from end to end
// is known with its variance.
func (s *stretch) pass(lambda float64) sums {
	var out sums
	p := s.v[0]
	ay, an, as := s.y[0], 0.0, s.side[0]
	ey, en, es := ay, an, as // of the first level
	c, p1 := p, p
	prod, before := 1.0, 0.0
	for i := 1; i < len(s.y); i++ {
		n, v := s.n[i], s.v[i]
		p += lambda * (n - before)
		before = n
		f := p + v
		g := 1 / f
		vy, vn, vs := s.y[i]-ay, n-an, s.side[i]-as
		out.yy += vy * vy * g
		out.yn += vy * vn * g
		out.ys += vy * vs * g
		out.nn += vn * vn * g
		out.ns += vn * vs * g
		out.ss += vs * vs * g
		k := p * g
		ay += k * vy
		an += k * vn
		as += k * vs
		if c > 1e-12 {
			kc := c * g
			ey += kc * vy
			en += kc * vn
			es += kc * vs
			p1 -= c * kc
			c *= v * g
		}
		p = k * v
		if prod *= f; prod > 1e250 || prod < 1e-250 {
			out.logF += math.Log(prod)
			prod = 1
		}
	}
	out.logF += math.Log(prod)
	out.d = [3]float64{ay - ey, an - en, as - es}
	out.dVar = p + p1 - 2*c
	return out
}

// fit is what the beats say if the ratio of walk to scatter were lambda.
// Variances are in units of the scatter's, which is rss/freedom.
type fit struct {
	lambda  float64
	log     float64 // logarithm of the likelihood, scatter, levels, period and offsets integrated out
	rss     float64
	freedom float64

	period, periodVar float64 // of a beat, from the line
	mean, meanVar     float64 // of the stretch as it was, walk included
	offset, offsetVar float64 // tock after the middle between two ticks, over all runs
	offsets           []float64
	spans             float64 // beats
}

// record is all stretches of a recording.
type record struct {
	stretches []stretch
	about     float64 // s, of a beat: the slope of the line
	used      int     // beats that count
	exact     float64 // s, the arithmetic is no better than this
}

// fit solves for one ratio.
func (r *record) fit(lambda float64) fit {
	f := fit{lambda: lambda, freedom: float64(r.used - 1)}
	var a, b, yy, logs float64
	all := make([]sums, len(r.stretches))
	for i := range r.stretches {
		s := r.stretches[i].pass(lambda)
		all[i] = s
		f.spans += r.stretches[i].span()
		logs += s.logF
		f.freedom--
		a, b, yy = a+s.nn, b+s.yn, yy+s.yy
		if r.stretches[i].sided {
			a -= s.ns * s.ns / s.ss
			b -= s.ns * s.ys / s.ss
			yy -= s.ys * s.ys / s.ss
			logs += math.Log(s.ss)
			f.freedom--
		}
	}
	f.period, f.periodVar = b/a, 1/a
	f.rss = max(yy-b*b/a, f.freedom*r.exact*r.exact)
	f.log = -(logs + math.Log(a) + f.freedom*math.Log(f.rss)) / 2
	r.ends(&f, all)
	r.sides(&f, all)
	return f
}

// ends is the mean interval from the first to the last beat of each stretch.
func (r *record) ends(f *fit, all []sums) {
	slope := f.spans
	for i, s := range all {
		d := s.d
		f.meanVar += s.dVar
		if r.stretches[i].sided {
			h := s.d[2] / s.ss
			d[0] -= h * s.ys
			d[1] -= h * s.ns
			f.meanVar += h * s.d[2]
		}
		f.mean += d[0] - d[1]*f.period
		slope -= d[1]
	}
	f.mean = (f.mean + f.period*f.spans) / f.spans
	f.meanVar = (f.meanVar + slope*slope*f.periodVar) / (f.spans * f.spans)
}

// sides brings the offsets of the runs together. A run may begin with the
// other side: its sign is that which agrees with the best known.
func (r *record) sides(f *fit, all []sums) {
	best, weight, cross := -1, 0.0, 0.0
	f.offsets = make([]float64, len(all))
	for i, s := range all {
		if !r.stretches[i].sided {
			continue
		}
		f.offsets[i] = (s.ys - s.ns*f.period) / s.ss
		if best < 0 || s.ss > all[best].ss {
			best = i
		}
	}
	if best < 0 {
		return
	}
	for i, s := range all {
		if !r.stretches[i].sided {
			continue
		}
		sign := 1.0
		if f.offsets[i]*f.offsets[best] < 0 && i != best {
			sign = -1
		}
		f.offset += sign * f.offsets[i] * s.ss
		cross += sign * s.ns
		weight += s.ss
	}
	f.offset /= weight
	f.offsetVar = (1 + cross*cross/weight*f.periodVar) / weight
}
