package trend

import (
	"errors"
	"math"
)

// Sees is what a row observes.
type Sees uint8

// What can be observed.
const (
	Nothing Sees = iota
	Level        // the level
	Slope        // the mean slope since the row that was marked last
)

// Row is an instant at which something happens.
type Row struct {
	T          float64
	ShakeLevel float64 // variances added to level and slope here, before anything else
	ShakeSlope float64
	Sees       Sees
	Span       float64 // of a Slope: the time since the mark
	V          float64 // variance of what is observed
	Fixed      bool    // V is not multiplied by Noise.Scale
	Mark       bool    // the level is remembered here, after all else
}

// Series is rows in order of time, with what was observed and the columns
// beside it.
type Series struct {
	Rows    []Row
	Columns int       // how many columns
	Z       []float64 // for each row 1 + Columns numbers: y, then the columns as y has them
	Push    []float64 // for each row 2·Columns numbers: what each column has in the level there, then in the slope
	Prior   []Belief  // of each column's coefficient
}

// Belief is what is held of a coefficient beforehand. U is one standard
// uncertainty; 0 stands for nothing known.
type Belief struct{ Value, U float64 }

// Noise is the variances, see the package comment.
type Noise struct{ Scale, Level, Slope float64 }

// Run is one pass of the filter. The zero Run is ready; it keeps its memory
// for the next pass. It is not safe for use by several goroutines at once.
type Run struct {
	s    *Series
	wide int // 1 + columns
	p    cov
	a    []float64 // level, slope, mark for each of wide

	logF  float64
	seen  int
	cross []float64 // products of the whitened rows, wide by wide, lower half
	v     []float64
	keeps bool
	keep  []step
	vs    []float64 // wide for each row kept
	as    []float64 // 3·wide for each row kept

	B      []float64 // coefficients
	Cov    []float64 // their covariance, Columns by Columns
	LogLik float64   // with the columns of which nothing is known integrated out
	RSS    float64   // sum of squares of the whitened residuals, priors included
}

// cov is the covariance of level, slope and mark.
type cov struct{ ll, ls, lm, ss, sm, mm float64 }

// step is what Smooth needs of a row.
type step struct {
	dt, g      float64 // g is 1/F; 0 where nothing was observed
	hl, hm     float64 // level and mark in what was observed
	kl, ks, km float64
	p          cov // before the observation
}

// ErrUnknown is returned where the rows do not tell the coefficients apart.
var ErrUnknown = errors.New("trend: the observations do not tell all coefficients apart")

// Filter passes over a series. With keep it remembers what Smooth needs.
func (r *Run) Filter(s *Series, n Noise, keep bool) error {
	r.reset(s, keep)
	prod, before := 1.0, 0.0
	if len(s.Rows) > 0 {
		before = s.Rows[0].T
	}
	for i := range s.Rows {
		row := &s.Rows[i]
		dt := row.T - before
		before = row.T
		r.predict(dt, n)
		r.p.ll += row.ShakeLevel
		r.p.ss += row.ShakeSlope
		st := step{dt: dt, p: r.p}
		if keep {
			r.as = append(r.as, r.a...)
		}
		z := s.Z[i*r.wide : (i+1)*r.wide]
		if row.Sees != Nothing {
			f := r.observe(row, n.Scale, z, &st)
			r.seen++
			if prod *= f; prod > 1e200 || prod < 1e-200 {
				r.logF += math.Log(prod)
				prod = 1
			}
		}
		if row.Mark {
			r.mark()
		}
		if keep {
			r.keep = append(r.keep, st)
			if row.Sees == Nothing {
				r.vs = append(r.vs, make([]float64, r.wide)...)
			}
		}
	}
	r.logF += math.Log(prod)
	return r.solve()
}

func (r *Run) reset(s *Series, keep bool) {
	r.s, r.wide, r.keeps = s, 1+s.Columns, keep
	r.v = zeroed(r.v, r.wide)
	r.p, r.logF, r.seen = cov{}, 0, 0
	r.a = zeroed(r.a, 3*r.wide)
	r.cross = zeroed(r.cross, r.wide*r.wide)
	r.keep, r.vs, r.as = r.keep[:0], r.vs[:0], r.as[:0]
	if keep && cap(r.keep) < len(s.Rows) {
		r.keep = make([]step, 0, len(s.Rows))
		r.vs = make([]float64, 0, len(s.Rows)*r.wide)
		r.as = make([]float64, 0, len(s.Rows)*3*r.wide)
	}
}

func zeroed(x []float64, n int) []float64 {
	if cap(x) < n {
		return make([]float64, n)
	}
	x = x[:n]
	clear(x)
	return x
}

// predict goes dt ahead.
func (r *Run) predict(dt float64, n Noise) {
	if dt == 0 {
		return
	}
	r.p.predict(dt, n)
	for j := 0; j < len(r.a); j += 3 {
		r.a[j] += r.a[j+1] * dt
	}
}

func (p *cov) predict(dt float64, n Noise) {
	q := n.Slope * dt
	p.ll += dt*(2*p.ls+dt*p.ss) + n.Level*dt + q*dt*dt/3
	p.ls += dt*p.ss + q*dt/2
	p.lm += dt * p.sm
	p.ss += q
}

// mark remembers the level.
func (r *Run) mark() {
	p := &r.p
	p.lm, p.sm, p.mm = p.ll, p.ls, p.ll
	for j := 0; j < len(r.a); j += 3 {
		r.a[j+2] = r.a[j]
	}
}

// observe takes an observation in and gives its variance.
func (r *Run) observe(row *Row, scale float64, z []float64, st *step) float64 {
	v := row.V
	if !row.Fixed {
		v *= scale
	}
	p := &r.p
	hl, hm := 1.0, 0.0
	pl, ps, pm := p.ll, p.ls, p.lm
	if row.Sees == Slope {
		hl = 1 / row.Span
		hm = -hl
		pl, ps, pm = hl*(p.ll-p.lm), hl*(p.ls-p.sm), hl*(p.lm-p.mm)
	}
	f := hl*pl + hm*pm + v
	g := 1 / f
	kl, ks, km := pl*g, ps*g, pm*g
	st.g, st.hl, st.hm, st.kl, st.ks, st.km = g, hl, hm, kl, ks, km
	r.innovate(z, st)
	p.ll -= kl * pl
	p.ls -= kl * ps
	p.lm -= kl * pm
	p.ss -= ks * ps
	p.sm -= ks * pm
	p.mm -= km * pm
	return f
}

// innovate takes y and the columns on, each by what it was not foretold.
func (r *Run) innovate(z []float64, st *step) {
	v := r.v[:len(z)]
	for j := range z {
		a := r.a[3*j : 3*j+3 : 3*j+3]
		d := z[j] - st.hl*a[0] - st.hm*a[2]
		v[j] = d
		a[0] += st.kl * d
		a[1] += st.ks * d
		a[2] += st.km * d
	}
	for j := range v {
		d := v[j] * st.g
		row := r.cross[j*r.wide : j*r.wide+j+1]
		for k := range row {
			row[k] += d * v[k]
		}
	}
	if r.keeps {
		r.vs = append(r.vs, v...)
	}
}
