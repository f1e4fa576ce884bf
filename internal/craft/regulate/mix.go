package regulate

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// asked is a number that hangs on the clock in a straight way: so much of the
// error and of the rate as they are now without the columns, so much of each
// column.
type asked struct {
	level, slope float64
	push         []float64           // of each column's coefficient
	more         func(known) float64 // variance on top
}

// mixture is a number's distribution: a normal law for each size of noise.
type mixture struct{ weight, mean, sd []float64 }

// of gives the distribution of what is asked.
func (f *fitted) of(a asked) mixture {
	m := len(f.line.columns)
	out := mixture{make([]float64, len(f.all)), make([]float64, len(f.all)), make([]float64, len(f.all))}
	c := make([]float64, m)
	for i, k := range f.all {
		v := square(a.level)*k.end.VarLevel + 2*a.level*a.slope*k.end.VarCross + square(a.slope)*k.end.VarSlope
		x := a.level*k.end.Level + a.slope*k.end.Slope
		for j := range c {
			c[j] = a.push[j] - a.level*k.end.DLevel[j] - a.slope*k.end.DSlope[j]
			x += c[j] * k.b[j]
		}
		for j := range c {
			for n := range c {
				v += c[j] * c[n] * k.cov[j*m+n]
			}
		}
		if a.more != nil {
			v += a.more(k)
		}
		out.weight[i], out.mean[i], out.sd[i] = k.weight, x, math.Sqrt(math.Max(v, 0))
	}
	return out
}

// below is the chance that the number is below x.
func (m mixture) below(x float64) float64 {
	s := 0.0
	for i, w := range m.weight {
		if m.sd[i] == 0 {
			if m.mean[i] < x {
				s += w
			}
			continue
		}
		s += w * num.NormalCDF((x-m.mean[i])/m.sd[i])
	}
	return s
}

// within is the chance that the number is from low to high.
func (m mixture) within(low, high float64) float64 { return m.below(high) - m.below(low) }

// moments are mean and standard deviation.
func (m mixture) moments() (mean, sd float64) {
	for i, w := range m.weight {
		mean += w * m.mean[i]
	}
	v := 0.0
	for i, w := range m.weight {
		v += w * (square(m.sd[i]) + square(m.mean[i]-mean))
	}
	return mean, math.Sqrt(v)
}

// limits are the mean and the two-and-a-half hundredths on either side.
func (m mixture) limits() (mean, low, high, u float64) {
	mean, sd := m.moments()
	if sd == 0 {
		return mean, mean, mean, 0
	}
	wide := 0.0
	for i := range m.weight {
		wide = math.Max(wide, m.sd[i]+math.Abs(m.mean[i]-mean))
	}
	at := func(p float64) float64 {
		x, err := num.Root(func(x float64) float64 { return m.below(x) - p }, mean-8*wide, mean+8*wide, sd*1e-4)
		if err != nil {
			return mean + sd*num.NormalQuantile(p)
		}
		return x
	}
	low, high = math.Min(at(0.025), mean), math.Max(at(0.975), mean) // a few sizes of noise far out can pull the mean beyond them
	return mean, low, high, (high - low) / (2 * 1.959963984540054)
}

// rate is the interval of a number in s/day.
func (m mixture) rate() meas.Interval[unit.Rate] {
	v, low, high, u := m.limits()
	return meas.Interval[unit.Rate]{Value: unit.RatePerDay(v), Low: unit.RatePerDay(low), High: unit.RatePerDay(high), U: unit.RatePerDay(u), Set: true}
}

// seconds is the interval of a number in s.
func (m mixture) seconds() meas.Interval[unit.Duration] {
	v, low, high, u := m.limits()
	return meas.Interval[unit.Duration]{Value: unit.Duration(v), Low: unit.Duration(low), High: unit.Duration(high), U: unit.Duration(u), Set: true}
}

// share is what the columns have in the rate now (n = 1) or the error (n = 0).
func (l *timeline) share(n int) []float64 {
	m := len(l.columns)
	push := l.series.Push[len(l.series.Push)-2*m:]
	return append([]float64(nil), push[n*m:(n+1)*m]...)
}

// shareAhead is what they will have in the mean rate of so many days, and the
// standard deviation of that.
func (l *timeline) shareAhead(span float64) (share, u []float64) {
	share, u = l.share(1), make([]float64, len(l.columns))
	for j, c := range l.columns {
		switch {
		case c.air != nil:
			share[j], u[j] = c.air.ahead(l.now, span)
		case c.name == Drifting:
			share[j] = span / 2
		}
	}
	return share, u
}

// brought is the variance that the air to come brings.
func brought(k known, u []float64, m int) float64 {
	v := 0.0
	for j, d := range u {
		if d > 0 {
			v += d * d * (k.b[j]*k.b[j] + k.cov[j*m+j])
		}
	}
	return v
}

// errorNow is the error of the clock.
func (f *fitted) errorNow() mixture { return f.of(asked{level: 1, push: f.line.share(0)}) }

// rateIn is the rate in air like that read last.
func (f *fitted) rateIn() mixture { return f.of(asked{slope: 1, push: f.line.share(1)}) }

// rateNow is the rate in the air of now; where no thermometer is read, in
// that of the whole day, with the doubt that a rod that is known makes of it.
func (f *fitted) rateNow() mixture {
	l := f.line
	u := make([]float64, len(l.columns))
	push, blind := l.share(1), 0.0
	if k := l.q.Known; k.PerKelvin.Set {
		blind = square(otherWeek * math.Hypot(k.thermal()[0], k.thermal()[1]))
	}
	for j, c := range l.columns {
		if c.air != nil {
			u[j] = c.air.unsure(l.now)
		}
		if c.name == Temperature {
			push[l.byDay], blind = 1, 0
		}
	}
	return f.of(asked{slope: 1, push: push, more: func(k known) float64 { return brought(k, u, len(u)) + blind }})
}

// errorIn is the error in so many days if nothing is touched.
func (f *fitted) errorIn(span float64) mixture {
	share, u := f.line.shareAhead(span)
	push := f.line.share(0)
	for j := range push {
		push[j] += span * share[j]
	}
	return f.of(asked{level: 1, slope: span, push: push, more: func(k known) float64 {
		n := k.noise.variances()
		return n.Level*span + n.Slope*span*span*span/3 + span*span*brought(k, u, len(share))
	}})
}

// week is the mean rate of the next so many days after the nut has been
// turned so far, and with the tray so much heavier (g).
func (f *fitted) week(span, turns, grams float64) mixture {
	l := f.line
	share, u := l.shareAhead(span)
	by, v := l.apply(turns, grams, share)
	slip := func(more float64) mixture {
		return f.of(asked{slope: 1, push: share, more: func(k known) float64 {
			n := k.noise.variances()
			return n.Level/span + n.Slope*span/3 + brought(k, u, len(share)) + v + more
		}})
	}
	m := slip(0)
	if turns != 0 {
		k, _ := l.turn()
		m = mixture{}
		for _, s := range [...]struct{ weight, share float64 }{{0.25, slipShare / 2}, {0.5, slipShare}, {0.25, slipShare * 2}} { // nuts differ
			m.join(s.weight, slip(square(k)*(square(s.share*turns)+square(slipLeast))))
		}
	}
	m.shift(by)
	return m
}

// join puts another distribution in with a weight.
func (m *mixture) join(weight float64, x mixture) {
	for i, w := range x.weight {
		m.weight = append(m.weight, weight*w)
		m.mean, m.sd = append(m.mean, x.mean[i]), append(m.sd, x.sd[i])
	}
}

// apply is what a turn of the nut, but for its slip, and grams on the tray do
// to the rate: in the columns where the trial has them, else by what is held
// beforehand.
func (l *timeline) apply(turns, grams float64, share []float64) (by, variance float64) {
	if turns != 0 {
		k, ku := l.turn()
		back := l.back(turns)
		if back == 0.5 {
			variance += square(k * l.hangs())
		}
		if l.nut >= 0 {
			share[l.nut] += turns
			share[l.lost] -= math.Copysign(back, turns)
		} else {
			by += k*turns - math.Copysign(back*k*l.lostTurns(), turns)
			variance += square(ku*turns) + square(back*k*l.lostTurnsU())
		}
	}
	if grams != 0 {
		per, u := l.gram()
		if l.tray >= 0 {
			share[l.tray] += grams
		} else {
			by += per * grams
			variance += square(u * grams)
		}
	}
	return by, variance
}

// back is the share of the lost motion that a turn this way goes through.
func (l *timeline) back(turns float64) float64 {
	switch {
	case l.way == 0:
		return 0.5
	case l.way*turns < 0:
		return 1
	}
	return 0
}

// shift moves a number.
func (m mixture) shift(by float64) {
	for i := range m.mean {
		m.mean[i] += by
	}
}
