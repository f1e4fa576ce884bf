package beat

import (
	"math"
	"slices"
)

// brief is a clock looked for where there are too few beats to learn each
// side's sound and try it on others: one short shape serves for both, or one of
// each side for every other turn.
type brief struct {
	h       *hearer
	l       lock
	filter  [2][2]matched // by side and every other turn; the same until each has one of its own
	found   []briefBeat
	expects int // beats that the line has in the stretch
	scatter float64
}

type briefBeat struct {
	n int64
	s sound
}

// hearShort listens to samples that are too few to learn both sides of.
func (h *hearer) hearShort(from, to int64) {
	b := brief{h: h}
	h.tape.settle(from, to)
	if !b.acquire(from, to) {
		return
	}
	found := b.l
	verdict := b.follow()
	if verdict != "" {
		apart := b
		if apart.l = found; apart.learnApart() && apart.follow() == "" {
			b, verdict = apart, ""
		}
	}
	if verdict == "" {
		before := b
		before.found = slices.Clone(b.found)
		if b.align(); b.doubtful() != "" { // of few beats a side's own shape may be a poor one
			b = before
		}
	}
	b.say(verdict)
}

// follow lays the line through the beats that the filters hear, and tells what
// is doubtful of it.
func (b *brief) follow() Verdict {
	for range 4 {
		b.listen()
		if !b.fit() {
			return NoBeat
		}
	}
	return b.doubtful()
}

// acquire finds the period and the shape. ok is false where nothing repeats.
func (b *brief) acquire(from, to int64) bool {
	h, k := b.h, b.h.tools
	on := h.tape.onset(from, to)
	l, first, ok := h.repeats(from, to, on, h.about)
	if !ok && h.about > 0 {
		l, first, ok = h.repeats(from, to, on, 0) // it may be another clock
	}
	if !ok {
		return false
	}
	l.span = k.short()
	b.l = l
	var all []float64
	for _, at := range first {
		all = append(all, places(from, to, at, 2*l.beat)...)
	}
	shape, ok := k.learn(k.cuts(h.tape, spreadOut(all, 48), b.l.span, b.slack()), b.l.span, b.slack(), quiet{least: clearly})
	if !ok {
		return false
	}
	b.l.first = (first[0]+first[1])/2 - l.beat/2
	b.l.off = (first[1] - first[0] - l.beat) / 2
	b.l.noise = k.noise(h.tape, b.l.gaps(k))
	one := k.filter(shape.raw, b.l.span.before, b.l.noise, shape.strength(), float64(len(shape.cuts)))
	b.filter = [2][2]matched{{one, one}, {one, one}}
	return true
}

// slack is how far about its place a sound is looked for to be learned.
func (b *brief) slack() int { return int(min(float64(b.h.tools.samples(12)), b.l.beat/5)) }

// learnApart learns a shape of each side, for sounds so unlike that one cannot
// serve for both. Of few beats a shape would find the very noise that is in
// it: so each is learned of every other turn, and finds the turns between.
func (b *brief) learnApart() bool {
	h, k := b.h, b.h.tools
	for side := range int64(2) {
		var at [2][]float64
		for n := side; b.onLine(briefBeat{n: n}) < float64(b.l.to); n += 2 {
			at[n>>1&1] = append(at[n>>1&1], b.onLine(briefBeat{n: n}))
		}
		for half := range at {
			cuts := k.cuts(h.tape, at[half], b.l.span, b.slack())
			shape, ok := k.learn(cuts, b.l.span, b.slack(), quiet{least: clearly})
			if !ok || len(cuts) < 2 {
				return false
			}
			b.filter[side][1-half] = k.filter(shape.raw, b.l.span.before, b.l.noise, shape.strength(), float64(len(cuts)))
		}
		b.filter[side][1].layOn(&b.filter[side][0], b.slack())
	}
	return true
}

// layOn moves the impact of a filter to where its shape fits another's best.
func (m *matched) layOn(other *matched, reach int) {
	c := other.laid(m.shape, reach)
	lag := slices.Index(c, slices.Max(c)) - reach
	m.before, m.off = m.before+lag, m.off-lag
}

// of is the filter that finds beat n.
func (b *brief) of(n int64) *matched { return &b.filter[n&1][n>>1&1] }

// reach is how far from its place a beat is looked for, samples.
func (b *brief) reach() int { return int(min(float64(b.h.tools.samples(15)), b.l.beat/5)) }

// listen measures each beat that the line expects.
func (b *brief) listen() {
	b.found, b.expects = b.found[:0], 0
	for n := int64(0); ; n++ {
		side := float64(2*(n&1) - 1)
		place := b.l.first + float64(n)*b.l.beat + side*b.l.off
		if place+float64(b.l.span.after) > float64(b.l.to) {
			break
		}
		if place < float64(b.l.from+int64(b.l.span.before)) {
			continue
		}
		b.expects++
		s, ok := b.choose(n, place)
		if !ok {
			continue
		}
		b.found = append(b.found, briefBeat{n, b.weigh(n, s)})
	}
}

// weigh sets what remains of a sound against the noise.
func (b *brief) weigh(n int64, s sound) sound {
	s = b.of(n).remains(b.h.tools, b.h.tape, s, b.l.noise)
	s.u *= math.Sqrt(s.kappa)
	return s
}

// align places the beats of each side anew by the train of their impacts,
// and then, within the width of one, by a shape learned there.
func (b *brief) align() {
	k, t := b.h.tools, b.h.tape
	slack := k.samples(riseAfter / 2.0)
	for side := range b.filter {
		var at []float64
		var which []int
		for i, f := range b.found {
			if int(f.n&1) == side {
				at, which = append(at, b.onLine(f)), append(which, i)
			}
		}
		at = k.byRise(t, at, math.Sqrt(b.l.noise.mean))
		shape, ok := k.learn(k.cuts(t, at, b.l.span, slack), b.l.span, slack, quiet{least: clearly})
		if ok {
			own := k.filter(shape.raw, b.l.span.before, b.l.noise, shape.strength(), float64(len(shape.cuts)))
			b.filter[side] = [2]matched{own, own}
		}
		for j, i := range which {
			n := b.found[i].n
			b.found[i].s = b.weigh(n, b.of(n).find(k, t, at[j], slack, &b.h.buf))
		}
	}
	b.fit()
}

// onLine is where the line has a beat.
func (b *brief) onLine(f briefBeat) float64 {
	return b.l.first + float64(f.n)*b.l.beat + float64(2*(f.n&1)-1)*b.l.off
}

// choose picks among the places where the shape fits: a bounce may fit better
// than the impact, but it does not lie on the line.
func (b *brief) choose(n int64, place float64) (sound, bool) {
	all := b.of(n).findAll(b.h.tools, b.h.tape, place, b.reach(), &b.h.buf)
	var top float64
	for _, s := range all {
		top = max(top, s.z)
	}
	wide := 4 * max(b.scatter, float64(b.h.tools.samples(0.3)))
	var best sound
	score := math.Inf(-1)
	for _, s := range all {
		v := s.z / top
		if b.scatter > 0 {
			v -= 0.5 * min(1, math.Abs(s.at-place)/wide)
		}
		if s.z >= zLeast && v > score {
			best, score = s, v
		}
	}
	return best, score > 0
}

// fit lays the line through what was found; ok is false where it is too
// little.
func (b *brief) fit() bool {
	var n, t, side []float64
	keep := make([]bool, len(b.found))
	for i, f := range b.found {
		n, t, side = append(n, float64(f.n)), append(t, f.s.at), append(side, float64(2*(f.n&1)-1))
		keep[i] = true
	}
	for range 2 {
		c, ok := solveLine(n, t, side, keep)
		if !ok {
			return false
		}
		b.l.first, b.l.beat, b.l.off = c[0], c[1], c[2]
		b.scatter = b.l.robust(n, t, side, keep)
	}
	return true
}

// What a short recording must have to be taken for a clock.
const (
	briefBeats   = 5    // beats heard
	briefShare   = 0.75 // of the beats expected
	briefAbove   = 12   // how far the period stands out, in median deviations
	briefOff     = 0.2  // a side's offset at most, of the beat
	briefScatter = 0.03 // spread about the line at most, of the beat
	briefLike    = 4    // how far the shape stands above what is left when it is taken off
)

// doubtful is the verdict where it must not be taken for a clock, else "".
func (b *brief) doubtful() Verdict {
	beats := float64(len(b.found))
	needed := briefEvidence * min(1, beats/briefBeats) // fewer beats cannot have it all
	switch {
	case beats < briefShare*float64(b.expects) || b.l.above < briefAbove || math.Abs(b.l.off) > briefOff*b.l.beat:
		return NoBeat
	case b.evidence() < needed:
		return NoBeat
	case beats < briefBeats || b.scatter > briefScatter*b.l.beat || b.likeness() < briefLike:
		return NotSure
	}
	return ""
}

// say hands the beats over, if they are to be believed.
func (b *brief) say(verdict Verdict) {
	h := b.h
	switch verdict {
	case NoBeat:
		return
	case NotSure:
		h.tried++
		return
	}
	s := sounds{beat: h.seconds(b.l.beat), offsetU: b.offsetU()}
	for i, to := range [2]*Shape{&s.tick, &s.toc} {
		*to = Shape{Start: -h.seconds(float64(b.l.span.before)), Step: h.seconds(1), Y: b.filter[i][0].shape}
	}
	strong := b.median(func(f briefBeat) float64 { return f.s.amp })
	run := h.ear.open(s)
	s.run = run
	first := b.found[0].n &^ 1
	last := b.found[0].n - 1
	for _, f := range b.found {
		var silent []Mark
		for n := last + 1; n < f.n; n++ {
			side := float64(2*(n&1) - 1)
			silent = append(silent, Mark{At: h.seconds(b.l.first + float64(n)*b.l.beat + side*b.l.off), Kind: SilentBeat})
		}
		last = f.n
		h.ear.add(Beat{At: h.seconds(f.s.at), U: h.seconds(f.s.u), N: f.n - first, Run: run, Strength: float32(f.s.amp / strong)}, silent, s)
	}
	h.ear.oneShape(run)
}

// How well the place of tick against tock is told by a side of few beats and
// of very few: in twelve real recordings of 5 s the sides agreed with marks
// made by hand within 1.5 ms where each had four beats, and to 6 and 21 ms
// where one had two.
const (
	offsetFew     duration = 2e-3
	offsetVeryFew duration = 10e-3
	veryFew                = 4 // beats of a side
)

func (b *brief) offsetU() duration {
	var n [2]int
	for _, f := range b.found {
		n[f.n&1]++
	}
	if min(n[0], n[1]) < veryFew {
		return offsetVeryFew
	}
	return offsetFew
}

// likeness is the median of how far the beats stand above what is left when
// the shape is taken off.
func (b *brief) likeness() float64 {
	return b.median(func(f briefBeat) float64 { return f.s.z / math.Sqrt(f.s.kappa) })
}

func (b *brief) median(of func(briefBeat) float64) float64 {
	x := make([]float64, len(b.found))
	for i, f := range b.found {
		x[i] = of(f)
	}
	slices.Sort(x)
	return x[len(x)/2]
}
