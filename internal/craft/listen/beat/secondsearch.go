package beat

import (
	"math"
	"slices"
)

// otherBeat is a regular beat found in one look.
type otherBeat struct {
	at    float64 // s, of the look
	beat  float64 // ms
	level float64 // beside the first's
	share float64 // of the beats foretold that came
}

// moved is how far what is between the followed clock's beats has moved
// against them, ms, by a look.
type moved struct{ at, by float64 }

const (
	eventAbove   = 2.0  // of the level of the noise, that a millisecond must have to be an event
	eventsLeast  = 10   // events in a look without which nothing is searched
	eventsApart  = 20   // ms
	learnedShare = 0.5  // of a look, that the beat is learned from; it is held to the rest
	foretold     = 6    // beats at the least that it is held to
	foretoldHit  = 0.7  // share of them that must come
	foretoldSure = 4.0  // standard deviations beyond chance
	foretoldLike = 0.4  // of the usual strength, that a beat must have
	foretoldWide = 4    // ms either way
	relatedTo    = 6    // a beat that is k/m of the first's with m up to this may be its own
	relatedMs    = 4.0  // ms that such a beat may be off after a look
	lookApart    = 30.0 // s between two looks that both must find it: longer than a strike of twelve
	sameBeat     = 1e-3 // share that the beats of two looks may be apart

	driftMost  = 80  // ms that the pattern is looked for either way
	driftLike  = 0.5 // correlation with the pattern before, at the least
	driftLooks = 3   // looks at the least
	driftLeast = 8.0 // ms that it must have gone in all to count
	driftOff   = 2.0 // ms that a look may be off the straight line,
	driftShare = 0.1 // and of the whole way
)

// judge searches a look.
func (c *company) judge(p *pursuit) {
	noise := c.noise()
	if !eventful(c.level, eventAbove*noise) {
		return
	}
	on := c.onsets()
	first := 1000 * p.f.beat / p.h.tools.rate
	now := c.began / p.h.tools.rate
	if o, places, ok := search(on, noise, first); ok {
		o.at, o.level = now, c.beside(places, noise)
		c.tell(p, o)
		return
	}
	c.drift(p, on, first, now)
}

// noise is the level that half of the sound between the beats is below.
func (c *company) noise() float64 {
	var some []float64
	for i := 0; i < len(c.level); i += 16 {
		if v := c.level[i]; v >= 0 {
			some = append(some, v)
		}
	}
	if len(some) == 0 {
		return 1
	}
	return max(nth(some, len(some)/2), 1e-9)
}

// onsets are how far each millisecond of a look rises over those before, what
// was left out at the mean of the others, below 0 to mark it.
func (c *company) onsets() []float64 {
	kept := slices.DeleteFunc(slices.Clone(c.level), func(v float64) bool { return v < 0 })
	most := nth(kept, len(kept)*995/1000)
	on := make([]float64, len(c.level))
	var sum, total float64
	run, count := 0, 0
	for i, v := range c.level {
		on[i] = leftOut
		if v < 0 {
			run, sum = 0, 0
			continue
		}
		v = min(v, most)
		if run >= lookSettle {
			on[i] = max(0, v-sum/lookSettle)
			total, count = total+on[i], count+1
			sum -= min(c.level[i-lookSettle], most)
		}
		sum += v
		run++
	}
	for i, v := range on {
		if v < 0 {
			on[i] = -total / float64(max(1, count))
		}
	}
	return on
}

// eventful tells whether enough stands out to be worth a search.
func eventful(level []float64, limit float64) bool {
	events, last := 0, -eventsApart
	for i, v := range level {
		if v > limit && i-last >= eventsApart {
			events, last = events+1, i
		}
	}
	return events >= eventsLeast
}

// search looks for a regular beat that has nothing to do with the first's, in
// ms: learned from the first part of a look, held to the second.
// places are the milliseconds where its beats were expected.
func search(on []float64, noise, first float64) (o otherBeat, places []int, ok bool) {
	learned := int(learnedShare * float64(len(on)))
	plain := make([]float64, len(on))
	for i, v := range on {
		plain[i] = math.Abs(v)
	}
	p, above := period(onsets{strength: plain[:learned], nearly: nearly}, 0)
	if p == 0 || above < standsOut {
		return o, nil, false
	}
	tick, tock, full := sides(plain[:learned], p)
	usual, _ := foretell(on[:learned], 0, tick, tock, full, 0)
	if len(usual) < foretold {
		return o, nil, false
	}
	typical := nth(usual, len(usual)/2)
	least := max(foretoldLike*typical, noise)
	hits := func(shift float64) (hit, of float64) {
		came, _ := foretell(on, learned, tick, tock, full, shift)
		of = float64(len(came))
		for _, v := range came {
			if v > least {
				hit++
			}
		}
		return hit, of
	}
	hit, of := hits(0)
	var other, all float64
	for s := 3.0 * foretoldWide; s < full-3*foretoldWide; s += 2*foretoldWide + 1 {
		h, n := hits(s)
		other, all = other+h, all+n
	}
	chance := other / max(1, all)
	sure := (hit - of*chance) / math.Sqrt(of*chance*(1-chance)+0.25)
	o = otherBeat{beat: sharpest(plain, full) / 2, share: hit / max(1, of)}
	if of < foretold || o.share < foretoldHit || sure < foretoldSure || related(o.beat, first, float64(len(on))) {
		return o, nil, false
	}
	_, places = foretell(on, 0, tick, tock, full, 0)
	return o, places, true
}

// beside is how loud another clock is beside the first, by the loudest
// millisecond of each beat.
func (c *company) beside(places []int, noise float64) float64 {
	var other []float64
	for _, i := range places {
		other = append(other, slices.Max(c.level[max(0, i-foretoldWide):min(len(c.level), i+foretoldWide+1)]))
	}
	own := nth(slices.Clone(c.own), len(c.own)/2)
	above := func(v float64) float64 { return math.Sqrt(max(0, v*v-noise*noise)) }
	return above(nth(other, len(other)/2)) / max(above(own), 1e-12)
}

// foretell is the highest onset about each place where a beat is expected from
// a bin on, and these places; those are left out that the first clock covers.
func foretell(on []float64, from int, tick, tock, full, shift float64) (out []float64, places []int) {
	for _, side := range [2]float64{tick + shift, tock + shift} {
		for at := side + full*math.Ceil((float64(from)-side)/full); at < float64(len(on)-foretoldWide); at += full {
			i := int(math.Round(at))
			if i < from || i >= len(on) || on[i] < 0 {
				continue
			}
			out = append(out, slices.Max(on[max(0, i-foretoldWide):min(len(on), i+foretoldWide+1)]))
			places = append(places, i)
		}
	}
	return out, places
}

// related tells whether a beat may be of the first clock's own making: its
// echo, bounce, drop, or what comes once in some of its beats.
func related(beat, first, over float64) bool {
	for m := 1.0; m <= relatedTo; m++ {
		k := math.Round(m * beat / first)
		if k >= 1 && math.Abs(m*beat/first/k-1)*over < relatedMs {
			return true
		}
	}
	return false
}

// tell notes what a look has found, and says so once an earlier one has found
// the same.
func (c *company) tell(p *pursuit, o otherBeat) {
	c.found = append(c.found, o)
	s := Second{}
	far := false
	for _, e := range c.found {
		if math.Abs(e.beat/o.beat-1) < sameBeat {
			s.Looks++
			s.Beat += duration(e.beat / 1000)
			s.Level += e.level
			s.Heard += e.share
			far = far || o.at-e.at >= lookApart
		}
	}
	if n := float64(s.Looks); far {
		s.Beat, s.Level, s.Heard = s.Beat/duration(n), s.Level/n, s.Heard/n
		p.h.ear.company(s)
	}
}

// drift finds another clock of nearly the first's beat, or of a simple share
// of it: in one look it may be the first's own noise, but from look to look it
// moves, always as fast.
func (c *company) drift(p *pursuit, on []float64, first, now float64) {
	f := c.lay(on, first)
	lag, like := shift(c.fold, f)
	c.fold = f
	n := len(c.moved)
	if n == 0 || like < driftLike {
		c.moved = append(c.moved[:0], moved{at: now})
		return
	}
	c.moved = append(c.moved, moved{now, c.moved[n-1].by + lag})
	if speed, steady := straight(c.moved); steady {
		p.h.ear.company(Second{Beat: duration(first * (1 + speed/1000) / 1000), Looks: n + 1})
	}
}

// straight tells whether the looks lie on a straight line, and its speed in
// ms/s.
func straight(m []moved) (speed float64, ok bool) {
	first, last := m[0], m[len(m)-1]
	way := last.by - first.by
	if len(m) < driftLooks || math.Abs(way) < driftLeast {
		return 0, false
	}
	speed = way / (last.at - first.at)
	for _, v := range m {
		if math.Abs(v.by-speed*(v.at-first.at)) > max(driftOff, driftShare*math.Abs(way)) {
			return 0, false
		}
	}
	return speed, true
}

// lay lays the onsets of a look over two beats.
func (c *company) lay(on []float64, first float64) []float64 {
	n := int(2 * first)
	out, count := make([]float64, n), make([]float64, n)
	for j, a := range c.anchors {
		end := len(on)
		if j+1 < len(c.anchors) {
			end = min(end, c.anchors[j+1].bin)
		}
		at := 0
		if a.tock {
			at = int(first)
		}
		for i := a.bin; i < end && at < n; i, at = i+1, at+1 {
			if on[i] >= 0 {
				out[at] += on[i]
				count[at]++
			}
		}
	}
	var mean float64
	for i := range out {
		out[i] /= max(1, count[i])
		mean += out[i] / float64(n)
	}
	smooth := make([]float64, n)
	for i := range smooth {
		for d := -2; d <= 2; d++ {
			smooth[i] += (out[(i+d+n)%n] - mean) / 5
		}
	}
	return smooth
}

// shift is how far a pattern has moved on, and its correlation there.
func shift(before, now []float64) (lag, like float64) {
	n := min(len(before), len(now))
	norm := math.Sqrt(square(before) * square(now))
	if n == 0 || norm == 0 {
		return 0, 0
	}
	for d := -driftMost; d <= driftMost; d++ {
		var sum float64
		for i := range n {
			sum += before[i] * now[(i+d+n)%n]
		}
		if sum/norm > like {
			lag, like = float64(d), sum/norm
		}
	}
	return lag, like
}

func square(x []float64) float64 {
	var s float64
	for _, v := range x {
		s += v * v
	}
	return s
}
