package rate

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/num"
)

// posterior is the fits over a grid of ratios with their chances.
type posterior struct {
	fits   []fit     // by lambda
	weight []float64 // sums to 1
	best   int       // the likeliest
	flat   fit       // at the lowest ratio, which cannot be told from no walk
	none   float64   // log likelihood without any walk
	only   float64   // and with hardly any scatter
	prior  prior
	peak   float64 // logarithm of the prior where it is greatest
	sum    float64 // logarithm of likelihood times prior, summed over the ratios
}

// most is the greatest ratio considered: scatter a three-hundredth of the walk.
const most = 1e5

// long is the number of beats above which time is saved.
const long = 5000

// weigh evaluates the likelihood where it matters. In a long record only the
// ratios about the likeliest count, near its logarithm.
func (r *record) weigh(near float64) posterior {
	n := r.longest()
	pr := priorOf(n)
	low, high := lowest(n), math.Log(most)
	if n > long {
		low, high = max(low, near-8), min(high, near+4)
	}
	p := normalised(sweep(low, high, math.Inf(-1), func(x float64) point {
		f := r.fit(math.Exp(x))
		return point{x, f.log + pr.log(f.lambda), f}
	}))
	p.prior, p.peak = pr, pr.peak()
	p.flat = r.fit(math.Exp(lowest(n)))
	p.none, p.only = r.fit(0).log, r.fit(most).log
	return p
}

// lowest is the logarithm of a ratio that n beats cannot tell from none.
func lowest(n int) float64 { return math.Log(0.03 / (float64(n) * float64(n))) }

// sweep is a coarse grid over the logarithm of the ratio, then halved
// wherever it bends and is not far below the logarithm floor.
func sweep(low, high, floor float64, at func(x float64) point) []point {
	var pts []point
	steps := int(math.Ceil((high - low) / 1.5))
	for i := range steps + 1 {
		pts = append(pts, at(low+float64(i)*(high-low)/float64(steps)))
	}
	for range 7 {
		more := refine(pts, floor, at)
		if len(more) == 0 {
			break
		}
		pts = append(pts, more...)
		slices.SortFunc(pts, func(a, b point) int { return cmp.Compare(a.x, b.x) })
	}
	return pts
}

// point is a fit with the logarithm of its chance, at x the logarithm of
// lambda.
type point struct {
	x, log float64
	fit    fit
}

// refine makes points halfway where two neighbours differ and count.
func refine(pts []point, top float64, at func(float64) point) []point {
	for _, p := range pts {
		top = max(top, p.log)
	}
	var more []point
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		high := max(a.log, b.log)
		counts := high > top-9
		bends := math.Abs(a.log-b.log) > 0.8 || b.x-a.x > 0.8 || high == top && b.x-a.x > 0.2 && math.Abs(a.log-b.log) > 0.3
		if counts && bends && b.x-a.x > 0.01 {
			more = append(more, at((a.x+b.x)/2))
		}
	}
	return more
}

// normalised makes chances of logarithms by the trapezium rule and drops what
// does not count.
func normalised(pts []point) posterior {
	top := math.Inf(-1)
	for _, p := range pts {
		top = max(top, p.log)
	}
	var out posterior
	sum, best := 0.0, 0.0
	for i, p := range pts {
		left, right := max(i-1, 0), min(i+1, len(pts)-1)
		w := (pts[right].x - pts[left].x) / 2 * math.Exp(p.log-top)
		if p.log < top-14 {
			continue
		}
		if p.log > best || len(out.fits) == 0 {
			best, out.best = p.log, len(out.fits)
		}
		out.fits, out.weight = append(out.fits, p.fit), append(out.weight, w)
		sum += w
	}
	for i := range out.weight {
		out.weight[i] /= sum
	}
	out.sum = top + math.Log(sum)
	return out
}

// mixture is a number's distribution: Student's t about a centre for each
// ratio, averaged over the ratios.
type mixture struct {
	weight, centre, scale []float64
	freedom               float64
}

// mix averages a number over the ratios; of gives its centre and its variance
// in units of the scatter's; extra is a variance in its own square unit.
func (p *posterior) mix(of func(fit) (centre, variance float64)) mixture {
	m := mixture{weight: p.weight, freedom: p.fits[0].freedom}
	for _, f := range p.fits {
		c, v := of(f)
		m.centre = append(m.centre, c)
		m.scale = append(m.scale, math.Sqrt(v*f.rss/f.freedom))
	}
	return m
}

// under is the posterior under another belief of the ratio than Jeffreys'.
func (p *posterior) under(b belief) posterior {
	out := *p
	out.fits = append(slices.Clone(p.fits), p.flat)
	out.weight = make([]float64, 0, len(out.fits))
	for i, f := range p.fits {
		out.weight = append(out.weight, p.weight[i]*math.Pow(1+f.lambda, b.all))
	}
	none := b.none / math.Sqrt(p.prior.total) * math.Exp(p.flat.log+p.peak-p.sum)
	if math.IsNaN(none) || math.IsInf(none, 0) { // at this ratio alone the beats cannot be solved for
		none = 0
	}
	out.weight = append(out.weight, none)
	sum := 0.0
	for _, w := range out.weight {
		sum += w
	}
	for i := range out.weight {
		out.weight[i] /= sum
	}
	out.sum += math.Log(sum)
	return out
}

// mean is the average of the centres.
func (m mixture) mean() float64 {
	s := 0.0
	for i, w := range m.weight {
		s += w * m.centre[i]
	}
	return s
}

// slight is a chance too small to move a limit.
const slight = 1e-5

// below is the chance that the number is below x.
func (m mixture) below(x float64) float64 {
	s, all := 0.0, 0.0
	for i, w := range m.weight {
		if w > slight {
			s += w * num.StudentCDF((x-m.centre[i])/m.scale[i], m.freedom)
			all += w
		}
	}
	return s / all
}

// limits are the mean of a number and what it lies between in 95 of 100
// cases.
type limits struct{ middle, low, high float64 }

// limits are the mean with the quantiles about it; the median where a far
// ratio of little weight draws the mean out of them.
func (m mixture) limits() limits {
	l := limits{m.mean(), m.quantile(0.025), m.quantile(0.975)}
	if l.middle < l.low || l.middle > l.high {
		median, err := num.Root(func(x float64) float64 { return m.below(x) - 0.5 }, l.low, l.high, (l.high-l.low)*1e-4)
		if err != nil {
			median = (l.low + l.high) / 2
		}
		l.middle = median
	}
	return l
}

// quantile is where the chance below is p. It looks from the middle outwards.
func (m mixture) quantile(p float64) float64 {
	c, wide := m.mean(), 0.0
	for i, w := range m.weight {
		wide += w * (m.scale[i] + math.Abs(m.centre[i]-c))
	}
	from, to := c, c
	step := math.Copysign(1.5*wide, p-0.5)
	for range 50 {
		if (m.below(from) < p) == (p > 0.5) {
			break
		}
		from -= step
	}
	for range 50 {
		if to += step; (m.below(to) > p) == (p > 0.5) {
			break
		}
		from, step = to, 2*step
	}
	x, err := num.Root(func(x float64) float64 { return m.below(x) - p }, from, to, wide*1e-4)
	if err != nil {
		return to // beyond it: too wide rather than none
	}
	return x
}

// variance is the quantile of a variance that is factor times the scatter's,
// by the inverse of chi-squared averaged over the ratios.
func (p *posterior) variance(q float64, factor func(fit) float64) float64 {
	below := func(logx float64) float64 {
		s := 0.0
		for i, f := range p.fits {
			if p.weight[i] > slight {
				s += p.weight[i] * (1 - num.ChiSquaredCDF(f.rss*factor(f)/math.Exp(logx), f.freedom))
			}
		}
		return s - q
	}
	b := p.fits[p.best]
	c := math.Log(b.rss * factor(b) / b.freedom)
	low, high := c-1, c+1
	for range 60 {
		if below(low) < 0 && below(high) > 0 {
			break
		}
		low, high = low-2, high+2
	}
	x, err := num.Root(below, low, high, 1e-3)
	if err != nil {
		return math.NaN()
	}
	return math.Exp(x)
}
