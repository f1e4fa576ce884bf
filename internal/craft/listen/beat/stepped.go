package beat

import (
	"context"
	"math"
	"slices"
)

// jumped tells whether a beat is so late or early that samples may have been
// lost or put in before it.
func (p *pursuit) jumped(late float64) bool {
	return p.proven && p.f.seen > 20 && math.Abs(late) > max(8*math.Sqrt(p.f.spread), float64(p.h.tools.samples(1)))
}

// wide looks for a beat further away than a clock can put it.
func (p *pursuit) wide(place float64) (late float64, found bool) {
	if p.f.seen <= 20 {
		return 0, false
	}
	reach := int(min(0.3*p.f.beat, float64(p.h.tools.samples(60))))
	s := p.filters[p.f.side()].find(p.h.tools, p.h.tape, place, reach, &p.h.buf)
	return s.at - place, !s.edge && s.z >= zLeast && p.f.plausible(s)
}

// stepBy tells whether the next beats are all shifted by as much: then it is
// the recording that stepped, or the clock was put on by a hand. In both
// cases it is not rate.
func (p *pursuit) stepBy(ctx context.Context, late float64) bool {
	k, g := p.h.tools, p.f
	room := float64(p.l.span.len()*2 + k.band.Len())
	close := max(4*math.Sqrt(g.spread), float64(k.samples(0.3)))
	lates := []float64{late}
	for range 3 {
		g.advance()
		place := g.place() + late
		if !p.h.tape.reach(ctx, int64(p.lastGood-2*g.beat-room), int64(place+room)) {
			return false
		}
		// Looked for from where it was expected on: a bounce that lies as late
		// must not be taken for it.
		reach := int(math.Abs(late)/2 + 2*close)
		s := p.filters[g.side()].find(k, p.h.tape, g.place()+late/2, reach, &p.h.buf)
		if math.Abs(s.at-place) > close || s.z < zLeast || !g.plausible(s) {
			return false
		}
		lates = append(lates, s.at-g.place())
	}
	slices.Sort(lates)
	p.shift = (lates[1] + lates[2]) / 2
	if !p.jumped(p.shift) {
		return false
	}
	p.h.ear.mark(Mark{At: p.h.seconds(p.lastGood), Kind: Step, Size: p.h.seconds(p.shift)})
	return true
}

// afterStep is the pursuit that goes on after a step, with all that was
// learned.
func (p *pursuit) afterStep() *pursuit {
	q := &pursuit{h: p.h, l: p.l, f: p.f, filters: p.filters, frozen: p.frozen, keep: p.keep, noise: p.noise, proven: true}
	q.f.centre += p.shift
	if q.f.n&1 == 1 { // a run begins with its first side
		q.f.advance()
	}
	q.f.n = 0
	q.lastGood = q.f.place()
	q.run = p.h.ear.open(q.sounds())
	return q
}
