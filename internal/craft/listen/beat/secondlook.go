package beat

import (
	"math"
	"slices"
)

// company listens for another clock beside the one that is followed. Now and
// then the sound between the beats of a stretch is looked at, the beats
// themselves left out: is there another that keeps a beat of its own?
type company struct {
	p       *pursuit // of the look under way; nil where none is
	began   float64  // sample that it began with
	level   []float64
	anchors []anchor
	own     []float64 // loudest millisecond of each beat that was left out
	looks   int       // done, which tells when the next is due
	start   float64   // sample that the first look began with
	due     float64   // of the next one
	found   []otherBeat
	fold    []float64 // onsets of the last look, laid over two beats of the followed clock
	moved   []moved
}

// anchor is a beat in the levels of a look.
type anchor struct {
	bin  int
	tock bool
}

const (
	lookSeconds = 24
	leftOut     = -1.0 // level of a millisecond that the followed clock sounds in
	lookBefore  = 20   // ms before a beat that are left out
	lookAfter   = 45   // ms after it
	lookSettle  = 8    // ms of level that an onset is measured against
)

// Looks begin so many seconds after the first; the last step is repeated.
var lookTimes = [...]float64{0, 32, 64, 180, 900, 2700}

// retake takes in the gaps between the beats that were held until it was sure
// that they are beats.
func (c *company) retake(p *pursuit) {
	rate := p.h.tools.rate
	for i := 1; i < len(p.held); i++ {
		c.take(p, float64(p.held[i-1].At)*rate, float64(p.held[i].At)*rate, p.held[i].N)
	}
}

// take takes the gap before beat n in; places are in samples.
func (c *company) take(p *pursuit, before, at float64, n int64) {
	if at < c.due || p.shortOfRoom() {
		return
	}
	if c.p != p {
		*c = company{p: p, began: before, level: c.level[:0], looks: c.looks, start: c.start, due: c.due, found: c.found, fold: c.fold, moved: c.moved}
		if c.looks == 0 {
			c.start = before
			c.level = make([]float64, 0, (lookSeconds+3)*1000)
		}
	}
	k, t := p.h.tools, p.h.tape
	perMs := k.rate / 1000
	ms := 1000 * p.f.beat / k.rate
	c.anchors = append(c.anchors, anchor{c.bin(before, perMs), n&1 == 0})
	a, b := c.bin(before+min(lookAfter, ms/4)*perMs, perMs), c.bin(at-min(lookBefore, ms/8)*perMs, perMs)
	for len(c.level) < a {
		c.level = append(c.level, leftOut)
	}
	if n := b - len(c.level); n > 0 {
		c.level = t.steep(c.level, c.began+float64(len(c.level))*perMs, perMs, n)
	}
	c.own = append(c.own, t.steepest(at, k))
	if at-c.began >= lookSeconds*k.rate {
		c.finish(p)
	}
}

func (c *company) bin(sample, perMs float64) int { return int((sample - c.began) / perMs) }

// shortOfRoom tells whether the beats leave too little between them.
func (p *pursuit) shortOfRoom() bool { return p.f.beat < 0.15*p.h.tools.rate }

// finish judges a look and sets when the next is due.
func (c *company) finish(p *pursuit) {
	rate := p.h.tools.rate
	c.looks++
	if n := len(lookTimes); c.looks < n {
		c.due = c.start + lookTimes[c.looks]*rate
	} else {
		c.due = c.start + (lookTimes[n-1]+float64(c.looks-n+1)*(lookTimes[n-1]-lookTimes[n-2]))*rate
	}
	c.judge(p)
	c.p, c.anchors, c.own = nil, c.anchors[:0], c.own[:0]
}

// steepPerMs is how often in a millisecond the slope is taken, and the inverse
// of what it is taken over: at 48 kHz over four samples, which is steepest at
// 6 kHz. Low sounds and hiss count less than what a tick is made of.
const steepPerMs = 12

// steep adds the root mean square slope of each of count milliseconds from a
// sample on to dst.
func (t *tape) steep(dst []float64, from, perMs float64, count int) []float64 {
	n := int(perMs)
	stride := max(1, (n+steepPerMs/2)/steepPerMs)
	of := 1 / float64(n/stride)
	for i := range count {
		at := int(from+float64(i)*perMs) - int(t.base)
		switch {
		case at < 0 || at+n+stride > t.n:
			dst = append(dst, leftOut)
		case t.src16 != nil:
			var sum int
			x := t.i16[at : at+n+stride]
			for last, j := int(x[0]), stride; j < len(x); j += stride {
				v := int(x[j])
				sum += (v - last) * (v - last)
				last = v
			}
			dst = append(dst, math.Sqrt(float64(sum)*of)/32768)
		default:
			var sum float32
			x := t.f32[at : at+n+stride]
			for last, j := x[0], stride; j < len(x); j += stride {
				sum += (x[j] - last) * (x[j] - last)
				last = x[j]
			}
			dst = append(dst, math.Sqrt(float64(sum)*of))
		}
	}
	return dst
}

// steepest is the loudest millisecond about a beat.
func (t *tape) steepest(at float64, k *tools) float64 {
	var some [12]float64
	return slices.Max(t.steep(some[:0], at-0.002*k.rate, k.rate/1000, len(some)))
}
