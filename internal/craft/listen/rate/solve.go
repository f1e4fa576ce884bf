package rate

import (
	"errors"
	"math"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// ErrTooFew is returned where no run has four beats.
var ErrTooFew = errors.New("rate: too few beats: at least four in one run are needed")

// Solve says how the clock goes. The only error is ErrTooFew. Beats whose
// time is not a number or whose count is 10⁹ from the rest of their run, and
// runs of fewer than four, are passed over.
func Solve(q Query) (Answer, error) {
	r, err := recordOf(q.Beats)
	if err != nil {
		return Answer{}, err
	}
	f := r.gate(nil)
	sound := r.doubts(q.Beats)
	if base := r.base(q.Beats, sound, f); base != nil {
		for i := range r.stretches {
			r.stretches[i].weights(base[i])
		}
		f = r.gate(base)
	}
	if f.freedom < 1 {
		return Answer{}, ErrTooFew
	}
	p := r.weigh(math.Log(f.lambda))
	a := Answer{Used: r.used, Span: r.spanned(q.Beats)}
	a.going(&r, &p, float64(q.Nominal))
	a.sides(&r, &p, q.Runs)
	a.noise(&p, sound)
	best := &p.fits[p.best]
	a.Allan = r.allan(best)
	a.Residuals = r.residuals(q.Beats, best)
	a.drift(&r, best, float64(q.Nominal))
	return a, nil
}

// doubts is the mean variance that the sound itself brings in, s²; 0 where
// not known.
func (r *record) doubts(beats []beat.Beat) float64 {
	sum, n := 0.0, 0.0
	for i := range r.stretches {
		for k, at := range r.stretches[i].at {
			if u := float64(beats[at].U); u > 0 && !r.stretches[i].odd[k] && !math.IsInf(u, 0) {
				sum, n = sum+u*u, n+1
			}
		}
	}
	return sum / max(n, 1)
}

// base has each beat's variance, its own doubt from the sound in it, the mean
// being 1; nil where those doubts are too small or too even to matter.
func (r *record) base(beats []beat.Beat, sound float64, f fit) [][]float64 {
	total := f.rss / f.freedom
	if sound < 0.02*total {
		return nil
	}
	clock := max(total-sound, 0.05*total)
	out := make([][]float64, len(r.stretches))
	low, high := math.Inf(1), 0.0
	for i := range r.stretches {
		s := &r.stretches[i]
		out[i] = make([]float64, len(s.at))
		for k, at := range s.at {
			u := float64(beats[at].U)
			if !(u > 0) || math.IsInf(u, 0) {
				u = math.Sqrt(sound)
			}
			v := min((clock+u*u)/(clock+sound), 1e4)
			out[i][k] = v
			low, high = min(low, v), max(high, v)
		}
	}
	if high < 1.2*low {
		return nil
	}
	return out
}

// spanned is from the first to the last beat with weight.
func (r *record) spanned(beats []beat.Beat) unit.Duration {
	first, last := unit.Duration(math.Inf(1)), unit.Duration(math.Inf(-1))
	for i := range r.stretches {
		for k, at := range r.stretches[i].at {
			if !r.stretches[i].odd[k] {
				first, last = min(first, beats[at].At), max(last, beats[at].At)
			}
		}
	}
	return last - first
}

// going fills the mean beat, beats an hour and both rates.
func (a *Answer) going(r *record, p *posterior, nominal float64) {
	now := p.under(ofMean())
	few := 1 + 2/(now.fits[0].freedom+2) // what the ratio's own doubt leaves out in short records
	mean := now.mix(func(f fit) (float64, float64) { return f.mean, few * f.meanVar })
	l := mean.limits()
	a.Beat = interval(l, func(x float64) unit.Duration { return unit.Duration(r.about + x) })
	a.PerHour = interval(l, func(x float64) unit.Ratio { return unit.Ratio(3600 / (r.about + x)) })
	if nominal <= 0 {
		return
	}
	rate := func(x float64) unit.Rate { return unit.Rate((nominal - r.about - x) / (r.about + x)) }
	a.Mean = interval(l, rate)
	ahead := r.next(p, ofNext())
	next := ahead.mix(func(f fit) (float64, float64) { return f.period, few * f.periodVar })
	a.Expect = interval(next.limits(), rate)
}

// z95 is the 97.5 % point of the normal distribution.
const z95 = 1.959964

// interval carries middle and limits through a function that only rises or
// only falls. U is their half width over 1.96.
func interval[Q unit.Quantity](l limits, of func(float64) Q) meas.Interval[Q] {
	low, high := of(l.low), of(l.high)
	if low > high {
		low, high = high, low
	}
	return meas.Interval[Q]{Value: of(l.middle), Low: low, High: high, U: (high - low) / (2 * z95), Set: true}
}

// sides fills the beat error, with and without the doubt of the two sounds.
func (a *Answer) sides(r *record, p *posterior, runs []beat.Run) {
	known := false
	doubt, weight := 0.0, 0.0
	for i := range r.stretches {
		s := &r.stretches[i]
		if !s.sided {
			continue
		}
		known = true
		if s.run >= 0 && s.run < len(runs) {
			doubt += float64(len(s.y)) * float64(runs[s.run].OffsetU)
		}
		weight += float64(len(s.y))
	}
	if !known {
		return
	}
	m := p.mix(func(f fit) (float64, float64) { return f.offset, f.offsetVar })
	twice := func(x float64) unit.Duration { return unit.Duration(2 * x) }
	a.BeatErrorChange = interval(m.limits(), twice)
	a.BeatError = a.BeatErrorChange
	if !(doubt > 0) {
		return
	}
	for i := range m.scale {
		m.scale[i] = math.Hypot(m.scale[i], doubt/weight)
	}
	a.BeatError = interval(m.limits(), twice)
}

// noise fills scatter and wander.
func (a *Answer) noise(p *posterior, sound float64) {
	level := func(factor func(fit) float64, less float64) meas.Interval[unit.Duration] {
		var x [3]unit.Duration
		for i, q := range [3]float64{0.025, 0.5, 0.975} {
			x[i] = unit.Duration(math.Sqrt(max(p.variance(q, factor)-less, 0)))
		}
		return meas.Interval[unit.Duration]{Value: x[1], Low: x[0], High: x[2], U: (x[2] - x[0]) / (2 * z95), Set: true}
	}
	a.Scatter = level(func(fit) float64 { return 1 }, sound)
	a.Wander = level(func(f fit) float64 { return f.lambda }, 0)
	top := p.fits[p.best].log
	if top-p.only < told {
		a.Scatter.Low = 0
	}
	if top-p.none < told {
		a.Wander.Low = 0
	}
}

// told is by how much the likelihood must be better for a kind of noise to be
// told from none: half the square of the normal's one-sided 5 % point.
const told = 1.352772
