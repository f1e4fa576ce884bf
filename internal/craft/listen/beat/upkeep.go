package beat

import (
	"math"
)

// upkeep averages the sound of one side as beats come in.
type upkeep struct {
	sum     []float32 // raw, per unit of strength
	count   float64
	total   float64 // of the weights in sum
	squares float64 // of the weights
	at      float64 // the epoch in samples from the shape's nominal place
	u       float64 // its standard uncertainty
	known   bool
	bends   bends
}

const (
	learnAll  = 64  // beats of a side of which each is taken in
	learnSome = 8   // of later ones, one in so many
	memory    = 256 // weight of a later one is one in so many

	noiseKept = 4 // beats that the noise is taken to be the same, so that both sides share it

	faint      = 10  // power of the sound over that of the noise below which more beats are learned
	learnFaint = 256 // of a faint sound

	drownedIn  = 0.7 // the same ratio, below which every few beats more make a better shape
	renewFaint = 16  // beats after which its filter is made anew then
)

// upkeepOf takes a beat into the shape of its side, and makes the filter anew
// when the shape has become better.
func (p *pursuit) upkeepOf(side int, s sound) {
	u := &p.keep[side]
	n := u.count
	u.count++
	all, power := float64(learnAll), p.strength()
	if power < faint {
		all = learnFaint
	}
	if n >= all && int(n)%learnSome != 0 {
		return
	}
	if u.sum == nil {
		u.sum = make([]float32, p.l.span.len())
	}
	w := 1.0
	if n >= all {
		w = all / memory
	}
	u.mix(p.h.tools, p, s, w, n >= all)
	switch m := int(u.count); {
	case power < drownedIn && m < learnFaint:
		if m%renewFaint == 0 && m >= len(p.l.side[side].cuts) { // fewer than at the lock would be a worse shape
			p.renew(side)
		}
	case m == 8 || m == 16 || m == 32 || m == 64 || m == 128 && all > learnAll || m > learnAll && m%256 == 0:
		p.renew(side)
	}
}

// worth is of how many beats the mean has the noise.
func (u *upkeep) worth() float64 { return u.total * u.total / max(u.squares, 1e-30) }

func (u *upkeep) mix(k *tools, p *pursuit, s sound, w float64, fading bool) {
	l := p.l.span.len()
	from := int64(math.Floor(s.at)) - int64(p.l.span.before) - 8
	raw := resized(&k.raw, l+17)
	p.h.tape.float(raw, from)
	own := resized(&k.own, l)
	k.between.Shift(own, raw, s.at-float64(p.l.span.before)-float64(from))
	scale := float32(w / max(s.amp, 1e-9))
	fade := 1.0
	if fading {
		fade = 1 - 1.0/memory
	}
	for i, v := range own {
		u.sum[i] = float32(fade)*u.sum[i] + scale*v
	}
	u.total, u.squares = fade*u.total+w, fade*fade*u.squares+w*w
}

// renew makes a side's filter of its averaged sound. The new shape is laid
// on the first one, so that the place of a beat does not wander with it.
func (p *pursuit) renew(side int) {
	k := p.h.tools
	u := &p.keep[side]
	shape, _ := k.filtered(u.sum)
	if p.noiseAt == 0 || p.f.n-p.noiseAt > noiseKept {
		if g := p.recentGaps(); len(g) > 0 {
			p.noise, p.noiseAt = k.noise(p.h.tape, g), p.f.n
		}
	}
	lag, ratio, ok := p.frozen[side].lay(k, shape)
	if !ok {
		return
	}
	moved := make([]float32, len(u.sum))
	k.between.Shift(moved, padded(u.sum), 8+lag)
	u.sum = moved
	shape, _ = k.filtered(u.sum)
	p.filters[side] = k.filter(shape, p.l.span.before, p.noise, p.f.amp[side]/ratio, u.worth())
	u.bends = bends{}
	p.f.amp[side] = 0 // the next beat tells how strong it is against the new shape
	p.pick(side)
}

func padded(x []float32) []float32 {
	y := make([]float32, len(x)+17)
	copy(y[8:], x)
	return y
}

// lay finds how far a shape lies from the filter's own, in samples, and its
// strength against it.
func (m *matched) lay(k *tools, shape []float32) (lag, ratio float64, ok bool) {
	const reach = 24
	c := m.laid(shape, reach)
	best := reach
	for i, v := range c {
		if v > c[best] {
			best = i
		}
	}
	place, value, _ := k.between.Peak(c, best)
	lag, ratio = place-reach, value/m.d2
	return lag, ratio, math.Abs(lag) < 4 && ratio > 0.2
}

// pick finds where the side's main impact begins.
func (p *pursuit) pick(side int) {
	u := &p.keep[side]
	at, ok := p.h.tools.epoch(u.sum, p.l.span.before)
	if !ok {
		return
	}
	u.at, u.known = at, true
	u.u = epochDoubt * p.h.tools.rate
}

// epochDoubt is the standard uncertainty of the beginning of an impact, s, on
// the safe side of what TestImpactIsWhereItIs finds in made recordings: half
// within 31 µs, nine in ten within 47 µs. Real impacts begin less sharply.
const epochDoubt = 60e-6

// recent is how many beats the noise is taken between.
const recent = 40

// recentGaps are the gaps between the last beats that are still held.
func (p *pursuit) recentGaps() [][2]int64 {
	k := p.h.tools
	var out [][2]int64
	after := min(35, 1000*p.f.beat/k.rate/3)
	for i := max(1, len(p.places)-recent); i < len(p.places); i++ {
		a, b := p.places[i-1], p.places[i]
		if b-a > 1.5*p.f.beat || int64(a) < p.h.tape.base {
			continue
		}
		out = append(out, [2]int64{int64(a) + int64(k.samples(after)), int64(b) - int64(k.samples(min(15, after)))})
	}
	return out
}
