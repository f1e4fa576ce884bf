package beat

import (
	"context"
	"math"

	"seatboard/internal/kit/sig"
)

// hearer is one listening: the tape, and what follows the clock on it.
type hearer struct {
	ear    *Ear
	tape   *tape
	tools  *tools
	about  float64 // samples a beat is known to last within 2 %; 0 where not
	buf    buffers
	best   float64 // the most that any period stood out
	tried  int     // clocks that were found and did not beat on
	cuts   int     // places where the recording is not one piece of time
	looked bool    // these were looked for sample by sample
	other  company // of the clock that is followed
	narrow bool    // the sound lacks all that is above a telephone line's band
	fours  int     // locks refused because the sounds came in fours, those of two clocks among them
	mixed  int     // locks refused because the beats were those of two clocks
}

// Stretches of sound that a clock is looked for in, s. A longer one finds a
// weaker clock.
var stretches = [...]float64{8, 20, 60}

// briefest is the length in s below which a recording is heard in a way of
// its own.
const briefest = 15

// hear listens to the whole source.
func (h *hearer) hear(ctx context.Context) error {
	rate := h.tools.rate
	pos := int64(0)
	if h.tape.reach(ctx, 0, int64(briefest*rate)) {
		pos, _ = h.tape.sounding(0, h.tape.last())
	}
	if !h.tape.reach(ctx, 0, pos+int64(briefest*rate)) {
		if h.tape.err == nil {
			from, to := h.tape.sounding(pos, h.tape.last())
			h.lookForCuts(from, to)
			h.hearShort(from, to)
			h.narrow = h.tools.narrow(h.tape, pos, h.tape.last())
		}
		return h.finish()
	}
	for h.tape.err == nil && h.tape.reach(ctx, pos, pos+int64(briefest*rate)) {
		next, ok := h.hearFrom(ctx, pos)
		if !ok {
			next = pos + int64(8*rate)
		}
		pos = max(next, pos+int64(rate), h.tape.base)
	}
	if h.unheard() {
		h.hearShort(h.tape.sounding(0, h.tape.last()))
	}
	return h.finish()
}

// unheard tells whether nothing came near a lock in sound that is not much
// longer than the briefest: it may have been too few beats to learn and to try.
func (h *hearer) unheard() bool {
	t := h.tape
	return t.err == nil && t.base == 0 && float64(t.last()) < 2*briefest*h.tools.rate && len(h.ear.heard.Runs) == 0 && h.tried+h.fours+h.mixed == 0
}

// hearFrom looks for a clock from a sample on and follows it to its end.
// next is the sample to go on from.
func (h *hearer) hearFrom(ctx context.Context, pos int64) (next int64, ok bool) {
	before := h.mixed
	for _, seconds := range stretches {
		want := pos + int64(seconds*h.tools.rate)
		whole := h.tape.reach(ctx, pos, want+int64(2*h.tools.rate))
		end := min(want, pos+(h.tape.last()-pos)*6/10)
		if whole {
			end = want
		}
		if h.tape.err != nil {
			return pos, false
		}
		l, found := h.acquire(pos, end)
		if found {
			if next, ok = h.follow(ctx, l); ok {
				return next, true
			}
		}
		h.soFar(pos, end)
		if !whole || h.tape.base > pos || h.mixed > before {
			break
		}
	}
	return pos, false
}

// follow follows a clock that was found. ok is false where it does not beat
// on after the stretch it was learned from.
func (h *hearer) follow(ctx context.Context, l lock) (next int64, ok bool) {
	p := h.newPursuit(l)
	for {
		ended := p.step(ctx)
		if p.failed {
			return l.from, false
		}
		switch ended {
		case "":
			continue
		case Stepped:
			p = p.afterStep()
			continue
		}
		if !p.proven {
			return l.from, false
		}
		return int64(p.lastGood + p.f.beat), true
	}
}

// pursuit is one run being followed.
type pursuit struct {
	h       *hearer
	l       lock
	f       follower
	filters [2]matched
	frozen  [2]matched
	keep    [2]upkeep
	noise   spectrum
	noiseAt int64 // beat that it was taken at; 0 where at the lock

	run      int // number in the hearing, once proven
	proven   bool
	failed   bool
	trial    int // beats after the stretch it was learned from
	trialHit int
	held     []Beat // until proven
	heldMute []Mark
	silent   []Mark // since the last good beat
	heard    int64  // beats taken in
	misses   int    // since the last good beat
	hidden   int    // of these, under other sound
	lastGood float64
	shift    float64 // of a step that ended the run, samples
	places   []float64
	mix      mixture
}

func (h *hearer) newPursuit(l lock) *pursuit {
	p := &pursuit{h: h, l: l, noise: l.noise}
	for s := range 2 {
		p.filters[s] = h.tools.filter(l.side[s].raw, l.span.before, l.noise, l.side[s].strength(), float64(len(l.side[s].cuts)))
		p.frozen[s] = p.filters[s]
	}
	spread := max(l.spread, 2)
	p.f = follower{centre: l.first, beat: l.beat, off: l.off, spread: spread * spread}
	for p.f.place() < float64(l.from+int64(l.span.before)) {
		p.f.advance()
	}
	// The first beat of a run is of its first side.
	if p.f.n&1 == 1 {
		p.f.advance()
	}
	p.f.n = 0
	p.lastGood = p.f.place()
	return p
}

// step hears one beat, and says how the run ended where it did.
func (p *pursuit) step(ctx context.Context) Ending {
	k, t := p.h.tools, p.h.tape
	place := p.f.place()
	room := float64(p.l.span.len()*2 + k.band.Len())
	keep := int64(p.lastGood - 2*p.f.beat - room)
	if !p.proven {
		keep = p.l.from // it may have to be heard again
	}
	if !t.reach(ctx, keep, int64(place+room)) {
		return p.end(EndOfSound)
	}
	s, heard := p.listen(place)
	trying := place > float64(p.l.to)
	if trying {
		p.trial++
	}
	if heard {
		if trying {
			p.trialHit++
		}
		if late := s.at - place; p.jumped(late) && p.stepBy(ctx, late) {
			return p.end(Stepped)
		}
		before := p.lastGood
		p.good(s)
		if p.failed {
			return ""
		}
		if p.proven {
			p.h.other.take(p, before, s.at, p.f.n)
			p.watch(before, s.at)
		}
	} else {
		p.misses++
		if p.hides(place) {
			p.hidden++
		}
		p.silent = append(p.silent, Mark{At: p.h.seconds(place), Kind: SilentBeat})
		if p.misses == 2 && p.proven {
			if late, found := p.wide(place); found && p.jumped(late) && p.stepBy(ctx, late) {
				return p.end(Stepped)
			}
		}
	}
	p.judge()
	if p.gone() {
		return p.end(Stopped)
	}
	p.f.advance()
	return ""
}

// Beats, and seconds, without one being heard after which a clock is taken to
// have stopped; longer where other sound may hide it.
const (
	goneBeats  = 8
	goneTime   = 4.0
	hiddenTime = 15.0
)

// gone tells whether the clock has stopped.
func (p *pursuit) gone() bool {
	least := func(seconds float64) int { return int(math.Ceil(max(goneBeats, seconds*p.h.tools.rate/p.f.beat))) }
	return p.misses-p.hidden >= least(goneTime) || p.misses >= least(hiddenTime)
}

// hides tells whether there is so much other sound at a place that a beat
// there would not be heard.
func (p *pursuit) hides(place float64) bool {
	m := &p.filters[p.f.side()]
	own := m.own(p.h.tools, p.h.tape, sound{at: place})
	usual := p.f.amp[p.f.side()]
	return sig.Power(own) > max(covered*p.noise.mean, usual*usual*m.power/4)
}

// listen measures the beat expected at a place.
func (p *pursuit) listen(place float64) (sound, bool) {
	k := p.h.tools
	reach := p.f.reach(k)
	m := &p.filters[p.f.side()]
	as := usually{p.f.amp[p.f.side()], p.f.spread}
	s := m.findLike(k, p.h.tape, place, reach, &p.h.buf, as)
	if s.edge || s.z < zLeast || !p.f.plausible(s) {
		wider := int(min(float64(k.samples(6)), p.f.beat/6))
		if wider <= reach {
			return s, !s.edge && s.z >= zLeast && p.f.plausible(s)
		}
		s = m.findLike(k, p.h.tape, place, wider, &p.h.buf, as)
		if s.edge || s.z < zLeast || !p.f.plausible(s) {
			return s, false
		}
	}
	if !p.proven || p.f.n%8 == 0 || p.f.odd(s) {
		s = m.remains(k, p.h.tape, s, p.noise)
		s.u *= math.Sqrt(s.kappa)
		if s.z/math.Sqrt(s.kappa) < zLeast || s.mended && p.f.strange(s) {
			return p.through(s, reach)
		}
	}
	return s, true
}

// zLeast is how far a beat must stand above the noise, in its standard
// deviations: among a million places of noise one does.
const zLeast = 6

// good takes in a beat.
func (p *pursuit) good(s sound) {
	h := p.h
	side := p.f.side()
	strength := float32(1)
	if a := p.f.amp[side]; a > 0 {
		strength = float32(s.amp / a)
	}
	p.f.take(s)
	p.keep[side].bends.take(&s, &p.filters[side])
	p.misses, p.hidden, p.lastGood = 0, 0, s.at
	if p.places = append(p.places, s.at); len(p.places) > 4*recent {
		p.places = append(p.places[:0], p.places[3*recent:]...)
	}
	b := Beat{At: h.seconds(s.at), U: h.seconds(s.u), N: p.f.n, Run: p.run, Strength: strength}
	if p.proven {
		h.ear.add(b, p.silent, p.sounds())
	} else {
		p.held = append(p.held, b)
		p.heldMute = append(p.heldMute, p.silent...)
	}
	p.silent = p.silent[:0]
	p.upkeepOf(side, s)
	p.mixed(s, strength)
	p.sparse()
}

// A run of so many beats of which fewer than such a share were heard is none:
// other sound was taken for beats, as speech has something everywhere.
const (
	sparseBeats = 40
	sparseShare = 0.6
)

// sparse refuses a run of which too little was heard.
func (p *pursuit) sparse() {
	if p.heard++; p.failed || p.f.n < sparseBeats || float64(p.heard) >= sparseShare*float64(p.f.n+1) {
		return
	}
	p.failed = true
	p.h.tried++
	p.h.ear.withdraw(p.run, p.proven, NotSure, whySome)
}

// trials are the beats that took no part in the learning and must be there
// before any is believed; enough is how many of them must be heard.
const (
	trials = 8
	enough = 6
)

func (p *pursuit) judge() {
	if p.proven || p.trial < trials {
		return
	}
	if p.trialHit < enough {
		p.failed = true
		if 2*p.trialHit >= p.trial {
			p.h.tried++
		}
		return
	}
	p.prove()
}

func (p *pursuit) prove() {
	p.proven = true
	p.run = p.h.ear.open(p.sounds())
	p.h.other.retake(p)
	mute := p.heldMute
	for _, b := range p.held {
		b.Run = p.run
		p.h.ear.add(b, mute, p.sounds())
		mute = nil
	}
	for i := 1; i < len(p.held); i++ {
		p.watch(p.samples(p.held[i-1]), p.samples(p.held[i]))
	}
	p.held, p.heldMute = nil, nil
}

func (p *pursuit) samples(b Beat) float64 { return float64(b.At) * p.h.tools.rate }

// end closes the run.
func (p *pursuit) end(how Ending) Ending {
	if !p.proven && how == EndOfSound && p.trial >= trials/2 && p.trialHit*4 >= p.trial*3 {
		p.prove()
	}
	if p.proven {
		p.h.ear.close(p.sounds(), how)
	}
	return how
}

func (h *hearer) seconds(samples float64) (d duration) { return duration(samples / h.tools.rate) }
