package regulate

import (
	"context"
	"math"
	"slices"
	"sort"

	"seatboard/internal/kit/num"
	"seatboard/internal/kit/trend"
)

// oddity is something that nobody wrote down: a reading that does not fit, the
// hands set, the rate changed.
type oddity struct {
	about   Doubtful
	reading int     // its ID: the odd one, or the first after a change
	row     int     // of the timeline it was found in
	size, u float64 // s, or s/day
	slope   float64 // s/day, the rate there
	t       float64 // in its standard deviations
	chance  float64 // of as much by chance anywhere in the trial
}

// search finds what does not fit, the plainest first, and takes it out of the
// reckoning, until nothing is left that chance would not do once in a
// thousand trials.
type search struct {
	q      *Query
	skip   map[int]bool // readings without weight, by ID
	jumps  map[int]bool // the hands were set before this reading
	bends  map[int]bool // the rate changed at this reading
	found  []oddity
	run    trend.Run
	line   *timeline
	paused map[int]bool // the pendulum was held at this touch (its place in Query.Touches)
	freeze map[int]bool // readings that a person has confirmed
}

const (
	rare      = 1e-3 // chance for a whole trial, and odds for a change against none
	grossly   = 8.0  // standard deviations under sizes of noise that are only rough
	rounds    = 40
	apart     = 3 // rows between two oddities that are taken at once
	enough    = 8 // readings that count, for two oddities to be taken at once
	leastTail = 2 // readings after a change that make it one
)

func newSearch(q *Query, skip map[int]bool) *search {
	s := &search{q: q, skip: skip, jumps: map[int]bool{}, bends: map[int]bool{}, paused: map[int]bool{}, freeze: map[int]bool{}}
	for _, r := range q.Readings {
		if r.Taken {
			s.freeze[r.ID] = true
		}
	}
	if s.long() {
		for i, t := range q.Touches {
			s.paused[i] = t.Kind.pausing()
		}
	}
	s.lay()
	return s
}

// lay makes the timeline anew, with what was found in it.
func (s *search) lay() {
	s.line = lay(s.q, s.skip)
	for i, h := range s.line.rows {
		if h.touch >= 0 && !h.setError && s.paused[h.touch] {
			s.line.series.Rows[i].ShakeLevel += held * held
		}
		if h.reading < 0 {
			continue
		}
		id := s.q.Readings[h.reading].ID
		if s.jumps[id] {
			s.line.series.Rows[i].ShakeLevel += gone * gone
			s.line.series.Rows[i].ShakeSlope += restart * restart
		}
		if s.bends[id] {
			s.line.series.Rows[i].ShakeSlope += stepU * stepU
		}
	}
}

// sweep looks for oddities with these sizes of noise until none is left. It
// tells whether it found any.
func (s *search) sweep(ctx context.Context, n noise, gross bool) bool {
	any := false
	for range rounds {
		if ctx.Err() != nil {
			return any
		}
		if err := s.run.Filter(&s.line.series, n.variances(), true); err != nil {
			return any
		}
		odd := s.pick(s.list(gross))
		if len(odd) == 0 {
			return any
		}
		if s.line.seen() < enough { // two of few may each be odd against the other
			odd = odd[:1]
		}
		for _, o := range odd {
			s.take(o)
		}
		any = true
		s.lay()
	}
	return any
}

// take believes an oddity.
func (s *search) take(o oddity) {
	switch o.about {
	case SetUnnoted:
		s.jumps[o.reading] = true
	case RateUnnoted:
		s.bends[o.reading] = true
	default:
		s.skip[o.reading] = true
	}
	s.found = append(s.found, o)
}

// list is all that stands out.
func (s *search) list(gross bool) []oddity {
	var out []oddity
	seen := s.line.seen()
	if seen == 0 { // none counts: nothing is left to stand out
		return nil
	}
	freedom := math.Max(1, float64(seen-3))
	tests := 3 * float64(seen)
	least := grossly
	if !gross {
		least = num.StudentQuantile(1-rare/(2*tests), freedom)
	}
	after := 0
	s.run.Smooth(func(i int, l *trend.Look) {
		h := s.line.rows[i]
		if h.reading < 0 {
			return
		}
		r := s.q.Readings[h.reading]
		add := func(about Doubtful, t, u float64) {
			if math.Abs(t) > least {
				chance := math.Min(1, 2*tests*num.StudentCDF(-math.Abs(t), freedom))
				out = append(out, oddity{about: about, reading: r.ID, row: i, size: t * u, u: u, slope: l.Slope, t: t, chance: chance})
			}
		}
		if l.AgainstU > 0 && !s.freeze[r.ID] {
			add(Stray, l.Against/l.AgainstU, l.AgainstU)
		}
		before := seen - after - 1 // readings before this one
		after++
		if l.ShockLevelU > 0 && before > 0 && after >= leastTail && !s.jumps[r.ID] {
			add(SetUnnoted, l.ShockLevel, l.ShockLevelU)
		}
		if l.ShockSlopeU > 0 && before > 1 && after > leastTail && !s.bends[r.ID] {
			add(RateUnnoted, l.ShockSlope, l.ShockSlopeU)
		}
	})
	return out
}

// pick takes the plainest, and with it those that are far from it and nearly
// as plain. Where one reading alone explains nearly as much as a change of all
// that follow, it is the reading.
func (s *search) pick(all []oddity) []oddity {
	weight := func(o oddity) float64 {
		w := math.Abs(o.t)
		if o.about == Stray {
			w *= 1.05
		}
		return w
	}
	sort.SliceStable(all, func(a, b int) bool { return weight(all[a]) > weight(all[b]) })
	var out []oddity
	for _, o := range all {
		if len(out) > 0 && weight(o) < weight(out[0])/2 {
			break
		}
		near := slices.ContainsFunc(out, func(x oddity) bool { return math.Abs(float64(x.row-o.row)) < apart || o.about != Stray })
		if !near {
			out = append(out, o)
		}
		if o.about != Stray {
			break
		}
	}
	return out
}

// rough is sizes of noise that a few odd readings cannot spoil: what is
// typical, larger or smaller by one factor, so that the middle of all changes
// of the rate from one stretch to the next is what it should be.
func (l *timeline) rough() noise {
	d := l.changes()
	n := typical()
	if len(d) < 4 {
		return n
	}
	if each := len(d) / 400; each > 1 { // as good for what is only rough
		thin := d[:0]
		for i := 0; i < len(d); i += each {
			thin = append(thin, d[i])
		}
		d = thin
	}
	share := func(scale float64) float64 {
		ratios := make([]float64, 0, len(d))
		for _, c := range d {
			ratios = append(ratios, math.Abs(c.d)/math.Sqrt(c.read+scale*scale*(c.wander*math.Exp(2*n[1])+c.walk*math.Exp(2*n[2]))))
		}
		slices.Sort(ratios)
		return ratios[len(ratios)/2]
	}
	const middle = 0.6745 // of the normal law's absolute value
	low, high := 1e-3, 1e4
	for range 40 {
		mid := math.Sqrt(low * high)
		if share(mid) > middle {
			low = mid
		} else {
			high = mid
		}
	}
	n[1] += math.Log(low)
	n[2] += math.Log(low)
	return n
}

// change is the rate of a stretch less that of the one before it, and what
// reading, wander and walk put into its variance.
type change struct{ d, read, wander, walk float64 }

// changes lists them over all readings between which nothing was touched.
func (l *timeline) changes() []change {
	var out []change
	type stretch struct{ rate, dt, read, first, last float64 }
	var prev *stretch
	var at *happening
	for i := range l.rows {
		h := &l.rows[i]
		row := l.series.Rows[i]
		switch {
		case h.touch >= 0:
			prev, at = nil, nil
		case row.Sees == trend.Slope:
			now := stretch{rate: l.series.Z[i*(len(l.columns)+1)], dt: row.Span, read: row.V}
			if prev != nil {
				out = append(out, change{now.rate - prev.rate, now.read + prev.read, 1/now.dt + 1/prev.dt, (now.dt + prev.dt) / 3})
			}
			prev, at = &now, nil
		case row.Sees == trend.Level:
			if at != nil && h.t > at.t {
				first := l.q.Readings[at.reading]
				dt := h.t - at.t
				u0, u1 := variance(first.U, unstated(first.How)), row.V
				now := stretch{rate: float64(l.q.Readings[h.reading].Error-first.Error) / dt, dt: dt, read: (u0 + u1) / (dt * dt), first: u0, last: u1}
				if prev != nil && prev.last > 0 {
					out = append(out, change{now.rate - prev.rate, now.read + prev.read + 2*u0/(now.dt*prev.dt), 1/now.dt + 1/prev.dt, (now.dt + prev.dt) / 3})
				}
				prev = &now
			}
			at = h
		}
	}
	return out
}
