package regulate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/trend"
	"seatboard/internal/kit/unit"
)

// Solve reckons what follows from a trial. The error is meas.Faults with every
// mistake in the query, or that of the context: what was found until then is
// in the answer, which is not Complete.
func Solve(ctx context.Context, q Query) (Answer, error) { return SolveMoved(ctx, q, nil) }

// SolveMoved is Solve where what the move home does hangs on what the trial
// finds, such as the effect of warmth: move is asked for it once all but the
// advice is in the answer, and what it gives is the query's Wanted.Move. It is
// not asked where the readings tell no rate.
func SolveMoved(ctx context.Context, q Query, move func(Answer) meas.Result[unit.Rate]) (Answer, error) {
	a := Answer{Query: q}
	if f := q.Check(); len(f) > 0 {
		return a, f
	}
	if q.Now.IsZero() {
		for _, r := range q.Readings {
			if r.At.After(q.Now) {
				q.Now = r.At
			}
		}
		a.Query.Now = q.Now
	}
	asked, skip := plain(&q)
	a.Questions = asked
	if last := q.heard(); !last.IsZero() && q.Now.Sub(last).Hours() > 24*horizon {
		q.Now = last // it is not known how it went since
	}
	s := newSearch(&q, skip)
	if s.line.seen() == 0 {
		a.Advice = Advice{Do: Wait, Words: "Nothing is known yet: take a first reading, and a second after some hours.", Next: q.Now}
		return a, nil
	}
	f := s.fit(ctx)
	for _, o := range s.found {
		a.Questions = append(a.Questions, s.ask(o))
	}
	slices.SortStableFunc(a.Questions, func(x, y Question) int { return y.Until.Compare(x.Until) })
	if f == nil {
		a.Advice = Advice{Do: Wait, Words: "The readings that can be used do not tell the rate yet: take another after some hours.", Next: q.Now}
		return a, ctx.Err()
	}
	f.answer(&a, s)
	a.Complete = s.line.seen() > 1 && ctx.Err() == nil
	if move != nil {
		if m := move(a); stated(m, -mostRate, mostRate) {
			q.Wanted.Move = m
			a.Query.Wanted.Move = m
		}
	}
	a.Advice = f.advise(a.Questions)
	if words := q.wait(a.Query.Now); words != "" && a.Advice.Do != Settle {
		a.Advice = Advice{Do: Wait, Words: words, After: a.Rate.Week, Right: a.Advice.AsIs, AsIs: a.Advice.AsIs, Next: a.Query.Now, Learn: a.Advice.Learn}
	}
	a.Working, a.Findings = f.working(&a), append(f.findings(&a, &s.run), s.pausedFindings(&a)...)
	return a, ctx.Err()
}

// seen is how many readings count.
func (l *timeline) seen() int {
	n := 0
	for _, r := range l.series.Rows {
		if r.Sees != trend.Nothing {
			n++
		}
	}
	return n
}

// fit finds oddities and the sizes of noise in turn, the gross ones first;
// nil where the readings cannot be solved.
func (s *search) fit(ctx context.Context) *fitted {
	start := s.line.rough()
	s.pauses(start)
	s.sweep(ctx, start, true)
	start = s.nearer(ctx, start)
	best, root, log := s.line.climb(ctx, start)
	for range 4 {
		if math.IsInf(log, -1) {
			break
		}
		held := s.pauses(best)
		if !s.sweep(ctx, best, false) && !held {
			break
		}
		best, root, log = s.line.climb(ctx, best)
	}
	if math.IsInf(log, -1) || math.IsNaN(log) {
		return nil
	}
	best, root, _ = s.recheck(ctx, best, root, log)
	f := s.line.average(best, root)
	if len(f.all) == 0 || s.run.Filter(&s.line.series, best.variances(), true) != nil || s.run.Refine() != nil {
		return nil
	}
	return f
}

// thinned is one of how many readings of a long trial are enough to bring the
// sizes of noise near.
const thinned = 8

// nearer are sizes of noise nearer to the likeliest of a long trial, by a part
// of its readings: the climb among all of them is the shorter. Where something
// was found that nobody wrote down they are left as they are.
func (s *search) nearer(ctx context.Context, from noise) noise {
	if len(s.line.rows) <= few || len(s.jumps)+len(s.bends) > 0 {
		return from
	}
	q := *s.q
	q.Readings, q.Air = nil, nil
	for i := 0; i < len(s.q.Readings); i += thinned {
		q.Readings = append(q.Readings, s.q.Readings[i])
	}
	for i := 0; i < len(s.q.Air); i += thinned {
		q.Air = append(q.Air, s.q.Air[i])
	}
	part := search{q: &q, skip: s.skip, paused: s.paused}
	part.lay()
	best, _, log := part.line.climb(ctx, from)
	if math.IsInf(log, -1) || math.IsNaN(log) {
		return from
	}
	return best
}

// answer fills in the numbers.
func (f *fitted) answer(a *Answer, s *search) {
	l := f.line
	span := l.q.Wanted.days()
	now := f.rateNow()
	a.Now = Point{At: l.q.Now, Error: f.errorNow().seconds(), Rate: now.rate()}
	a.Rate = Rate{Now: now.rate(), Week: f.week(span, 0, 0).rate(), Since: l.since()}
	drift := make([]float64, len(l.columns))
	still := l.share(1)
	for j, c := range l.columns {
		if c.name == Drifting {
			drift[j] = 1
		}
		if c.air != nil {
			still[j] = 0
		}
	}
	a.Rate.Drift = f.of(asked{push: drift}).rate()
	a.Rate.Steady = f.of(asked{slope: 1, push: still}).rate()
	a.Noise = f.sizes()
	a.Causes = f.causes()
	f.past(a, s)
	for d := range 8 {
		h := span * float64(d+1) / 8
		share, u := l.shareAhead(h)
		rate := f.of(asked{slope: 1, push: share, more: func(k known) float64 {
			return k.noise.variances().Slope*h + brought(k, u, len(share))
		}})
		a.Ahead = append(a.Ahead, Point{At: l.q.Now.Add(time.Duration(h * 86400e9)), Error: f.errorIn(h).seconds(), Rate: rate.rate()})
	}
}

// since is the last touch that changed the rate.
func (l *timeline) since() time.Time {
	since := l.zero
	for _, h := range l.rows {
		if h.touch >= 0 && !h.setError {
			if k := l.q.Touches[h.touch].Kind; k == NutTurned || k == OnTray || shaken(k) > restart {
				since = l.q.Touches[h.touch].At
			}
		}
	}
	return since
}

// sizes are the noises with their limits.
func (f *fitted) sizes() Noise {
	mid := func(i int) (v, low, high, u float64) {
		m := 0.0
		for _, k := range f.all {
			m += k.weight * k.noise[i]
		}
		v = math.Exp(m)
		return v, v * math.Exp(-k95*f.span[i]), v * math.Exp(k95*f.span[i]), v * f.span[i]
	}
	var n Noise
	v, low, high, u := mid(0)
	n.Reading = meas.Interval[unit.Ratio]{Value: unit.Ratio(v), Low: unit.Ratio(low), High: unit.Ratio(high), U: unit.Ratio(u), Set: true}
	v, low, high, u = mid(1)
	n.Wander = meas.Interval[unit.Duration]{Value: unit.Duration(v), Low: unit.Duration(low), High: unit.Duration(high), U: unit.Duration(u), Set: true}
	v, low, high, u = mid(2)
	n.Drift = meas.Interval[unit.Rate]{Value: unit.RatePerDay(v), Low: unit.RatePerDay(low), High: unit.RatePerDay(high), U: unit.RatePerDay(u), Set: true}
	n.LogLik = math.Inf(-1)
	for _, k := range f.all {
		n.LogLik = math.Max(n.LogLik, k.log-k.noise.logPrior())
	}
	return n
}

// past is the course by all readings, and what each touch did.
func (f *fitted) past(a *Answer, s *search) {
	l := f.line
	m := len(l.columns)
	found := map[int]oddity{}
	for _, o := range s.found {
		found[o.reading] = o
	}
	s.run.Smooth(func(i int, k *trend.Look) {
		h := l.rows[i]
		at := l.instant(h.t)
		if h.touch >= 0 && !h.setError || h.reading >= 0 && l.series.Rows[i].ShakeSlope > 0 {
			a.Steps = append(a.Steps, f.step(s, i, k, m))
		}
		if h.reading < 0 {
			return
		}
		r := l.q.Readings[h.reading]
		p := Point{At: at, Error: around[unit.Duration](k.Level, k.VarLevel), Rate: rateAround(k.Slope, k.VarSlope), Reading: r.ID, Seen: r.Error}
		if r.From.IsZero() {
			p.Residual = unit.Duration(float64(r.Error) - k.Level)
		}
		a.Past = append(a.Past, p)
	})
	slices.Reverse(a.Past)
	slices.Reverse(a.Steps)
	for _, r := range l.q.Readings {
		if s.skip[r.ID] && !r.Out && r.From.IsZero() && !r.At.After(l.q.Now) {
			a.Past = append(a.Past, Point{At: r.At, Reading: r.ID, Seen: r.Error, Asked: true})
		}
	}
	slices.SortStableFunc(a.Past, func(x, y Point) int { return x.At.Compare(y.At) })
}

func around[Q unit.Quantity](v, variance float64) meas.Interval[Q] {
	return meas.Around(Q(v), Q(math.Sqrt(math.Max(variance, 0))), k95)
}

func rateAround(v, variance float64) meas.Interval[unit.Rate] {
	return meas.Around(unit.RatePerDay(v), unit.RatePerDay(math.Sqrt(math.Max(variance, 0))), k95)
}

// step is what happened to the rate at a row.
func (f *fitted) step(s *search, i int, k *trend.Look, m int) Step {
	l := f.line
	h := l.rows[i]
	now, before := l.series.Push[2*m*i+m:2*m*(i+1)], make([]float64, m)
	copy(before, now)
	if i > 0 {
		copy(before, l.series.Push[2*m*(i-1)+m:2*m*i])
	}
	push := make([]float64, m)
	for _, j := range []int{l.nut, l.lost, l.tray} {
		if j >= 0 {
			push[j] = now[j] - before[j]
		}
	}
	size, v := s.run.Shaken(k, l.series.Rows[i].ShakeSlope, push)
	st := Step{At: l.instant(h.t), Rate: rateAround(size, v), Back: l.backs[i] == 1}
	if h.touch >= 0 {
		t := l.q.Touches[h.touch]
		st.Touch = t.ID
		if shake := l.series.Rows[i].ShakeLevel; shake > 0 {
			st.Error = around[unit.Duration](s.run.Jumped(k, shake))
		}
		mean, variance := 0.0, l.series.Rows[i].ShakeSlope
		for j, p := range push {
			mean += p * l.columns[j].belief.Value
			variance += square(p * l.columns[j].belief.U)
		}
		st.Expected = meas.Result[unit.Rate]{Value: unit.RatePerDay(mean), U: unit.RatePerDay(math.Sqrt(variance)), HasU: true, Set: true}
	}
	return st
}

// findings are what is to be said beside the numbers.
func (f *fitted) findings(a *Answer, run *trend.Run) []meas.Finding {
	var out []meas.Finding
	said := map[[2]string]bool{} // of each two once
	for _, c := range a.Causes {
		var with []string
		for _, w := range c.With {
			if !said[[2]string{w, c.Name}] {
				with = append(with, w)
			}
			said[[2]string{c.Name, w}] = true
		}
		if len(with) > 0 {
			out = append(out, meas.Finding{Level: meas.Doubt, Code: "regulate.not-apart", About: append([]string{c.Name}, with...),
				Text: fmt.Sprintf("The readings do not tell %s from %s: they went together (correlation %s)", c.Name, list(with), unit.Number(c.Apart, 2)),
				Next: "Read on until they part, or keep one of them still"})
		}
	}
	if d := a.Rate.Drift; d.Set && (d.Low > 0 || d.High < 0) {
		out = append(out, meas.Finding{Level: meas.Note, Code: "regulate.drift", Text: fmt.Sprintf("The rate drifts by %s every day", meas.WithU(d.Value, d.U, "s/d"))})
	}
	if d, odd := f.uneven(run); odd {
		out = append(out, meas.Finding{Level: meas.Doubt, Code: "regulate.uneven", Text: fmt.Sprintf("What is left of the readings hangs together from one to the next (Q of %d lags is %s): something pushes the clock that is not in this, and the limits are too narrow", d.Lags, unit.Number(d.Q, 0)),
			Next: "Write down temperature and arc, and whatever changes in the room", Ref: cite.Ref{Source: "durbin", Place: "2.12"}})
	}
	if n := a.Noise.Reading; n.Set && n.Low > 1.5 {
		out = append(out, meas.Finding{Level: meas.Note, Code: "regulate.readings", Text: fmt.Sprintf("The readings scatter %s times as much as was stated of them", unit.Number(float64(n.Value), 1)), Next: "Take readings at a full minute of the clock, against a time of day that is kept right"})
	}
	return out
}

// uneven tells whether what is left hangs together as it would by chance once
// in a thousand trials.
func (f *fitted) uneven(run *trend.Run) (trend.Diagnosis, bool) {
	const least = 30
	e := run.Whitened()
	if len(e) < least {
		return trend.Diagnosis{}, false
	}
	d := trend.Diagnose(e, 10)
	return d, d.Q > num.ChiSquared(0.999, float64(d.Lags))
}

func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		s := words[0]
		for _, w := range words[1 : n-1] {
			s += ", " + w
		}
		return s + " and " + words[n-1]
	}
}
