package regulate

import (
	"math"
	"slices"

	"seatboard/internal/kit/trend"
	"seatboard/internal/kit/unit"
)

// pace is how a person reads this clock: how far apart, with what doubt.
type pace struct {
	gap, v float64
	fixed  bool    // v is not multiplied by the scale of readings
	span   float64 // of a rate, days; 0 where the error is read
	common float64 // variance that all such rates have in common
}

// pace is that of the last readings, of the error or of the rate; a day and
// half a second where there are none.
func (f *fitted) pace() pace {
	l := f.line
	p := pace{gap: 1, v: square(unstated(ByHand))}
	var at []float64
	sees := trend.Nothing
	for i := len(l.rows) - 1; i >= 0 && len(at) < 12; i-- {
		row := &l.series.Rows[i]
		if l.rows[i].reading < 0 || sees != trend.Nothing && row.Sees != sees {
			continue
		}
		if at = append(at, l.rows[i].t); sees == trend.Nothing {
			sees, p.v, p.fixed, p.span = row.Sees, row.V, row.Fixed, row.Span
		}
	}
	var gaps []float64
	for i := 1; i < len(at); i++ {
		if d := at[i-1] - at[i]; d > 0 {
			gaps = append(gaps, d)
		}
	}
	if len(gaps) > 0 {
		slices.Sort(gaps)
		p.gap = math.Min(math.Max(gaps[len(gaps)/2], soonest), 7)
	}
	if p.span > 0 {
		push := make([]float64, len(l.columns))
		if l.recorder >= 0 {
			push[l.recorder] = 1
		}
		if p.span < whole {
			push[l.byDay] = 1
		}
		p.common = square(f.of(asked{push: push}).spread())
	}
	return p
}

// cov is the covariance of error and rate.
type cov struct{ ll, ls, ss float64 }

// here is the covariance now, of the likeliest size of noise, with all that
// is not known of the columns in it.
func (f *fitted) here() (cov, known) {
	best := f.all[0]
	for _, k := range f.all {
		if k.weight > best.weight {
			best = k
		}
	}
	one := fitted{line: f.line, all: []known{best}}
	sum := f.line.share(0)
	for j, x := range f.line.share(1) {
		sum[j] += x
	}
	ll, ss := square(one.errorNow().sd[0]), square(one.rateIn().sd[0])
	both := square(one.of(asked{level: 1, slope: 1, push: sum}).sd[0])
	return cov{ll, (both - ll - ss) / 2, ss}, best
}

// advance goes on for so many days.
func (c *cov) advance(dt float64, n trend.Noise) {
	q := n.Slope * dt
	c.ll += dt*(2*c.ls+dt*c.ss) + n.Level*dt + q*dt*dt/3
	c.ls += dt*c.ss + q*dt/2
	c.ss += q
}

// read takes one more reading in.
func (c *cov) read(p pace, n trend.Noise) {
	v := p.v
	if !p.fixed {
		v *= n.Scale
	}
	if p.span > 0 {
		s := math.Max(c.ss-p.common, 0)
		g := 1 / (s + v + n.Level/p.span)
		c.ss -= s * s * g
		c.ll -= c.ls * c.ls * g
		c.ls -= s * c.ls * g
		return
	}
	g := 1 / (c.ll + v)
	kl, ks := c.ll*g, c.ls*g
	c.ss -= ks * c.ls
	c.ls -= kl * c.ls
	c.ll -= kl * c.ll
}

// doubtNow is the standard deviation of the rate, s/day.
func (f *fitted) doubtNow() float64 { c, _ := f.here(); return math.Sqrt(c.ss) }

// doubtIn is that after one more reading in so many days.
func (f *fitted) doubtIn(days float64) float64 {
	c, k := f.here()
	n := k.noise.variances()
	c.advance(days, n)
	c.read(f.pace(), n)
	return math.Sqrt(math.Max(c.ss, 0))
}

// doubtAfter is that of the rate after a turn of the nut now, by a reading
// then and one in so many days.
func (f *fitted) doubtAfter(days, turns float64) float64 {
	c, k := f.here()
	n, p := k.noise.variances(), f.pace()
	c.ss += f.line.spoils(turns)
	c.read(p, n)
	c.advance(days, n)
	c.read(p, n)
	return math.Sqrt(math.Max(c.ss, 0))
}

// spoils is the variance that a turn brings into the rate, by what is held of
// the nut beforehand.
func (l *timeline) spoils(turns float64) float64 {
	if turns == 0 {
		return 0
	}
	k, u := l.turn()
	return square(u*turns) + square(k)*(square(slipShare*turns)+square(slipLeast)) + square(l.back(turns)*k*l.lostTurnsU())
}

// learn is what will be known of the rate after more readings like the last.
func (f *fitted) learn() []Learned {
	c, k := f.here()
	n, p := k.noise.variances(), f.pace()
	var out []Learned
	gone, next := 0.0, p.gap
	for _, h := range []float64{6, 12, 24, 48, 96, 168, 336} {
		end := h / 24
		for next <= end+1e-9 {
			c.advance(next-gone, n)
			c.read(p, n)
			gone = next
			next += p.gap
		}
		at := c
		if gone < end-1e-9 {
			at.advance(end-gone, n)
			at.read(p, n)
		}
		u := math.Sqrt(math.Max(at.ss, 0))
		out = append(out, Learned{After: unit.Duration(h * 3600), U: unit.RatePerDay(u), Half: unit.RatePerDay(k95 * u)})
	}
	return out
}
