package sampleclock

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Arrival is the coming of a block of samples to the host.
type Arrival struct {
	Frame int64         // samples that have come so far, this block included
	At    unit.Duration // when it came, by the host's steady clock
}

const (
	slots     = 10       // parts of a block, to place a step
	slotLen   = 1.0      // s of samples
	blockLen  = slots    // s of samples
	most      = 8192     // blocks kept: 22 h, 0.6 MB
	forget    = most / 4 // blocks dropped when full
	fewest    = 6        // blocks needed for a fit
	earlyMost = 1 << 14  // arrivals kept of the first minute
	keptMost  = 1000     // steps kept from blocks that were dropped
)

// block is the least delay of ten seconds of samples.
type block struct {
	x, y  float64        // place in nominal seconds and delay there, both after the first arrival
	n     int64          // number of the block
	least [slots]float32 // least delay of each second less y; +Inf where nothing came
}

// Fitter calibrates a recorder's clock as its samples come. It keeps the
// last 17 to 22 hours at most, in under a megabyte. It is not safe for
// concurrent use.
type Fitter struct {
	rate    float64
	host    Host
	started bool
	first   Arrival
	last    Arrival
	slope   float64 // of the delays, roughly, to find the least within a block
	blocks  []block
	open    block
	any     bool // something is in the open block
	slotY   [slots]float64
	early   []Arrival // the first minute, taken again when the slope is known; nil afterwards
	settled bool
	old     []Step
	oldRate []Change
}

// NewFitter calibrates a recorder that states so many samples a second, on a
// host whose clock is so good. A rate that is not positive and finite gives a
// Fitter that never finds anything. The zero Host is one that nothing
// disciplines.
func NewFitter(rate float64, host Host) *Fitter {
	if host.Kind == "" {
		host = HostOf(Undisciplined)
	}
	return &Fitter{rate: rate, host: host}
}

// Add takes the next arrival and tells whether it was used: one that goes
// back in count or in time, or is no number, is left out.
func (f *Fitter) Add(a Arrival) bool {
	at := float64(a.At)
	if !(f.rate > 0) || math.IsInf(f.rate, 0) || math.IsNaN(at) || math.IsInf(at, 0) {
		return false
	}
	if !f.started {
		f.started, f.first, f.last = true, a, a
	} else if a.Frame <= f.last.Frame || a.At < f.last.At {
		return false
	}
	f.last = a
	f.take(a)
	if !f.settled {
		f.settle(a)
	}
	return true
}

// settle keeps the arrivals of the first minute and, when it is over, looks
// for the least delays anew: until then the slope was not known, and the
// least within a block leans to its end.
func (f *Fitter) settle(a Arrival) {
	f.early = append(f.early, a)
	if len(f.blocks) < fewest && len(f.early) < earlyMost {
		return
	}
	again := f.early
	f.settled, f.early = true, nil
	if len(f.blocks) >= fewest {
		f.slope = middleSlope(f.blocks)
		f.blocks, f.any = f.blocks[:0], false
		for _, a := range again {
			f.take(a)
		}
	}
}

// take puts an arrival in its block.
func (f *Fitter) take(a Arrival) {
	x := float64(a.Frame-f.first.Frame) / f.rate
	y := float64(a.At-f.first.At) - x
	n := int64(x / blockLen)
	if f.any && n != f.open.n {
		f.close()
	}
	if !f.any {
		f.any = true
		f.open = block{n: n, x: x, y: y}
		for i := range f.slotY {
			f.slotY[i] = math.Inf(1)
		}
	}
	if y-f.slope*x < f.open.y-f.slope*f.open.x {
		f.open.x, f.open.y = x, y
	}
	i := min(max(int((x-float64(n)*blockLen)/slotLen), 0), slots-1)
	f.slotY[i] = min(f.slotY[i], y)
}

// close puts the open block with the others.
func (f *Fitter) close() {
	for i, y := range f.slotY {
		f.open.least[i] = float32(y - f.open.y)
	}
	f.any = false
	if len(f.blocks) == most {
		f.drop()
	}
	f.blocks = append(f.blocks, f.open)
	if n := len(f.blocks); n >= fewest && (n < 64 || n%32 == 0) {
		f.slope = middleSlope(f.blocks)
	}
}

// drop forgets the oldest blocks; the steps found in them are kept.
func (f *Fitter) drop() {
	edge := f.frame(f.blocks[forget].n * blockLen)
	for _, s := range f.Steps() {
		if s.Frame < edge && (len(f.old) == 0 || s.Frame > f.old[len(f.old)-1].Frame) && len(f.old) < keptMost {
			f.old = append(f.old, s)
		}
	}
	for _, c := range f.Changes() {
		if c.Frame < edge && (len(f.oldRate) == 0 || c.Frame > f.oldRate[len(f.oldRate)-1].Frame) && len(f.oldRate) < keptMost {
			f.oldRate = append(f.oldRate, c)
		}
	}
	f.blocks = append(f.blocks[:0], f.blocks[forget:]...)
}

// frame is the count at so many nominal seconds after the first arrival.
func (f *Fitter) frame(x int64) int64 {
	return f.first.Frame + int64(math.Round(float64(x)*f.rate))
}

// Fit is a calibration and what it rests on.
type Fit struct {
	Clock   Clock
	Against Clock         // the same against the host's own count, whatever keeps it: How "" before there is one
	Length  unit.Duration // of samples that the line rests on
	Minima  int           // least delays on the line
	Left    int           // least delays left out as late
	Scatter unit.Duration // rms of the minima from the line
	Wander  unit.Duration // rms wander of the host that the limit allows for
	Hull    unit.Rate     // the second opinion on the error; NaN where there is none
	Unseen  unit.Duration // steps smaller than this would not have been found, and the limit does not allow for them
	Steps   []Step
	Changes []Change
}

// Fit reckons the clock from what has come so far. Before a minute of
// samples has come, and as long as the limit would be wider than that of an
// unknown recorder, the clock is [Unknown]. An error beyond 1000 ppm is no
// crystal's: it is reported with How Compared and the caller should say
// that the stated number of samples a second is wrong. A fit of a day takes
// some 10 ms: live, ask every few seconds.
func (f *Fitter) Fit() Fit {
	out := Fit{Clock: Unknown(), Hull: unit.Rate(math.NaN()), Steps: f.old, Changes: f.oldRate}
	stretches := steady(f.blocks)
	for i, s := range stretches {
		if i > 0 {
			out.Changes = append(out.Changes, f.change(s, stretches[i-1]))
		}
	}
	var best []piece
	for _, s := range stretches {
		pieces, steps, unseen := f.split(s)
		out.Steps = append(out.Steps, steps...)
		if minima(pieces) > minima(best) {
			best, out.Unseen = pieces, unit.Duration(unseen)
		}
	}
	if minima(best) < fewest {
		return out
	}
	l := fitLine(best, f.host)
	out.Length, out.Minima, out.Left = unit.Duration(l.length), l.n, l.left
	out.Scatter, out.Wander = unit.Duration(l.scatter), unit.Duration(l.wander)
	out.Hull = fromSlope(hullSlope(best))
	c := Clock{Error: fromSlope(l.slope), How: Calibrated}
	c.Limit = unit.Rate(l.limit) * (1 + c.Error) * (1 + c.Error) // de = −ds (1+e)²
	out.Against = Clock{Error: c.Error, Limit: c.Limit, How: Compared}
	c.Limit = unit.Rate(math.Hypot(float64(c.Limit), float64(f.host.Rate)))
	if f.host.Kind == Undisciplined || math.Abs(float64(c.Error)) > float64(absurd.V) {
		c.How, c.Limit = Compared, max(c.Limit, supposed.V)
	}
	if c.Limit <= supposed.V || c.How == Compared {
		out.Clock = c
	}
	return out
}

// By is the clock where the rate of the host's count became known in another
// way, as from two questions to a time server: positive when the count is
// fast. A recorder that makes F(1+r) samples in a second of a count that
// runs 1+h makes F(1+r)(1+h) in a true one. The clock is [Fit.Clock] where
// one of the two is not known or the limit would be wider.
func (f Fit) By(host meas.Interval[unit.Rate]) Clock {
	if f.Against.How == "" || !host.Set {
		return f.Clock
	}
	c := Clock{How: Calibrated, Error: f.Against.Error + host.Value*(1+f.Against.Error)}
	c.Limit = unit.Rate(math.Hypot(float64(f.Against.Limit), float64(max(host.High-host.Value, host.Value-host.Low))))
	if c.Limit > f.Clock.Limit || math.Abs(float64(c.Error)) > float64(absurd.V) {
		return f.Clock
	}
	return c
}

// fromSlope is the error of a clock whose delays grow by s a nominal second:
// n samples take n/F(1+e), so s = 1/(1+e) − 1.
func fromSlope(s float64) unit.Rate { return unit.Rate(-s / (1 + s)) }

// Steps lists where samples were lost or put in, so far.
func (f *Fitter) Steps() []Step { return f.Fit().Steps }

// Changes lists where the number of samples a second changed, so far.
func (f *Fitter) Changes() []Change { return f.Fit().Changes }
