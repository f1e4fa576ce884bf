package regulate

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/trend"
	"seatboard/internal/kit/unit"
)

// alike is the correlation from which on two causes are not told apart.
const alike = 0.8

// causes lists what makes the rate what it is, each told or not.
func (f *fitted) causes() []Cause {
	l := f.line
	m := len(l.columns)
	var out []Cause
	corr := f.apart()
	l.together(corr)
	for j, c := range l.columns {
		if c.name == "" || c.name == Drifting {
			continue
		}
		push := make([]float64, m)
		push[j] = 1
		x := f.of(asked{push: push})
		b := Cause{Name: c.name, Unit: c.unit, Value: x.rate(), Before: meas.Result[unit.Rate]{Value: unit.RatePerDay(c.belief.Value), U: unit.RatePerDay(c.belief.U), HasU: true, Set: true}}
		for k, d := range l.columns {
			if k == j || d.name == "" || k < l.airs && k != 2 || j < l.airs {
				continue
			}
			if math.Abs(corr[j*m+k]) > math.Abs(b.Apart) {
				b.Apart = corr[j*m+k]
			}
			if math.Abs(corr[j*m+k]) > alike {
				b.With = append(b.With, d.name)
			}
		}
		b.Told = x.spread() < c.belief.U/2 && len(b.With) == 0
		if len(b.With) > 0 {
			b.Value = meas.Interval[unit.Rate]{}
		}
		out = append(out, b)
	}
	return out
}

// together puts in, for each two of the air, how they went together from
// reading to reading, where that is more: what runs through the year with them
// and was not written down would be laid to either.
func (l *timeline) together(corr []float64) {
	m := len(l.columns)
	for j := l.airs; j < m; j++ {
		for k := l.airs; k < j; k++ {
			var xx, yy, xy, x, y, n float64
			for i, h := range l.rows {
				if h.reading < 0 {
					continue
				}
				a, b := l.series.Push[2*m*i+m+j], l.series.Push[2*m*i+m+k]
				n++
				x, y, xx, yy, xy = x+a, y+b, xx+a*a, yy+b*b, xy+a*b
			}
			vx, vy := xx-x*x/n, yy-y*y/n
			if !(vx > 1e-10*xx && vy > 1e-10*yy) {
				continue // one of them was the same at all readings, but for rounding
			}
			r := (xy - x*y/n) / math.Sqrt(vx*vy)
			if math.Abs(r) > math.Abs(corr[j*m+k]) {
				corr[j*m+k], corr[k*m+j] = r, r
			}
		}
	}
}

// apart is the correlation of what the readings alone say of each two
// coefficients; where they say nothing of one it is 1 with all.
func (f *fitted) apart() []float64 {
	s := f.line.series
	s.Prior = make([]trend.Belief, len(s.Prior))
	for j := range s.Prior { // hardly anything is held beforehand
		s.Prior[j] = trend.Belief{U: 1e3 * math.Max(f.line.columns[j].belief.U, 1)}
	}
	m := len(s.Prior)
	out := make([]float64, m*m)
	var run trend.Run
	if run.Filter(&s, f.best.variances(), false) != nil {
		return out
	}
	for i := range m {
		for j := range m {
			out[i*m+j] = run.Cov[i*m+j] / math.Sqrt(run.Cov[i*m+i]*run.Cov[j*m+j])
		}
	}
	return out
}
