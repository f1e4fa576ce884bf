package rate

import "math"

// place is what all other beats say of one.
type place struct {
	err   float64 // s, how far the beat is from where the others put it
	sd    float64 // that a beat of usual scatter would have, s
	clock float64 // s, of the clock itself by all beats, in the stretch's y
	var2  float64 // of clock, in units of the scatter's
}

// columns are the whitened columns of one step of the filter.
type columns struct{ y, n, s, g, k float64 }

// places runs the filter of one stretch forth and back and gives every
// beat's deletion residual and the smoothed level, exact for the model with
// period and offset estimated (de Jong's smoother).
func (s *stretch) places(f *fit, offset, a float64) []place {
	steps, ss, ns := s.forth(f.lambda)
	out := make([]place, len(s.y))
	sigma := math.Sqrt(f.rss / f.freedom)
	var r columns
	spread := 0.0
	for i := len(s.y) - 1; i >= 0; i-- {
		c := steps[i]
		u := columns{y: c.y*c.g - c.k*r.y, n: c.n*c.g - c.k*r.n, s: c.s*c.g - c.k*r.s}
		d := c.g + c.k*c.k*spread
		r = columns{y: c.y*c.g + (1-c.k)*r.y, n: c.n*c.g + (1-c.k)*r.n, s: c.s*c.g + (1-c.k)*r.s}
		spread = c.g + (1-c.k)*(1-c.k)*spread
		un := u.n
		if s.sided {
			d -= u.s * u.s / ss
			un -= u.s * ns / ss
		}
		d = max(d-un*un/a, 1e-15)
		e := u.y - f.period*u.n - offset*u.s
		v := s.v[i]
		out[i] = place{err: e / d, clock: s.y[i] - v*e, var2: max(v-v*v*d, 0)}
		out[i].sd = sigma * math.Sqrt(max(1/d, 1e-12))
		if s.odd[i] {
			out[i].sd = sigma * math.Sqrt(max(1/d-v, 0)+1)
		}
	}
	return out
}

// forth is the filter with every step kept, and the sums of the side column.
func (s *stretch) forth(lambda float64) (steps []columns, ss, ns float64) {
	steps = make([]columns, len(s.y))
	steps[0].k = 1
	p := s.v[0]
	ay, an, as := s.y[0], 0.0, s.side[0]
	for i := 1; i < len(s.y); i++ {
		p += lambda * (s.n[i] - s.n[i-1])
		g := 1 / (p + s.v[i])
		k := p * g
		c := columns{y: s.y[i] - ay, n: s.n[i] - an, s: s.side[i] - as, g: g, k: k}
		steps[i] = c
		ss += c.s * c.s * g
		ns += c.n * c.s * g
		ay += k * c.y
		an += k * c.n
		as += k * c.s
		p = k * s.v[i]
	}
	return steps, ss, ns
}
