package beat

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/sig"
)

// tools are what a stretch of sound is worked with at its sampling rate.
type tools struct {
	rate    float64
	band    *sig.Taps // the band-pass
	between *sig.Between
	plans   map[int]plan // by length of transform

	raw, wide, own []float32 // used again for every beat
}

func newTools(rate float64) *tools {
	taps := int(127*rate/48000) | 1
	return &tools{rate: rate, band: sig.NewTaps(sig.BandPass(500, min(17000, 0.42*rate), rate, taps)), between: sig.NewBetween(), plans: map[int]plan{}}
}

// samples is a time in milliseconds as a whole number of samples.
func (k *tools) samples(ms float64) int { return int(math.Round(ms * k.rate / 1000)) }

// span is how much of the sound about an impact is taken as its shape.
type span struct{ before, after int } // samples

func (s span) len() int { return s.before + s.after }

// full is the span of a shape learned of one side, short that of a shape
// learned of few beats. A fast beat leaves less room.
func (k *tools) full(beat float64) span {
	return span{k.samples(min(12, beat*1000/8)), k.samples(min(30, beat*1000/4))}
}

func (k *tools) short() span { return span{k.samples(1), k.samples(6)} }

// cut is one window of sound about where a beat is expected.
type cut struct {
	at   int64     // sample of x[0]
	x    []float32 // raw, span and slack on both sides
	y    []float32 // band-passed
	lag  float64   // where the shape begins in x, found by alignment
	corr float64   // normalised correlation with the shape there
	part float64   // of a sample, by which the place it was cut at is later
	turn float64   // of that place in the stretch, −½ to ½
	c    []complex128
}

// cuts takes windows about the places given, with slack samples each way.
func (k *tools) cuts(t *tape, places []float64, s span, slack int) []cut {
	var out []cut
	margin := slack + 16
	for _, p := range places {
		c := cut{at: int64(math.Round(p)) - int64(s.before+margin), x: make([]float32, s.len()+2*margin)}
		if c.at < t.base || c.at+int64(len(c.x)) > t.last() {
			continue
		}
		t.float(c.x, c.at)
		c.y = make([]float32, len(c.x))
		sig.Convolve(c.y, k.band, c.x)
		c.lag = float64(margin)
		c.part = p - math.Round(p)
		c.turn = (p-places[0])/max(1, places[len(places)-1]-places[0]) - 0.5
		out = append(out, c)
	}
	return out
}

// learned is a band-passed shape with the cuts aligned to it.
type learned struct {
	raw   []float32 // with the noise that is left in it
	shape []float32 // without most of it
	cuts  []cut
	least float64 // likeness to the shape from which on a cut counts
}

// What is known of the noise before a shape is learned.
type quiet struct {
	noise spectrum // not looked at where its p is nil
	least float64  // see learned
}

// clearly is what a cut of a sound that can be heard by ear is alike to its
// shape at the least; of a faint one it is less.
const (
	clearly = 0.15
	faintly = 0.08
)

// learn aligns the cuts with one another and averages them. ok is false
// where too few of them are alike.
func (k *tools) learn(cuts []cut, s span, slack int, q quiet) (l learned, ok bool) {
	if len(cuts) == 0 {
		return l, false
	}
	l.cuts, l.least = cuts, q.least
	a := newAligner(k, cuts)
	l.shape = k.firstShape(a, cuts, s, slack, q)
	for i := range 6 {
		reach := slack
		if i > 0 {
			reach = min(slack, k.samples(1))
		}
		moved := l.align(a, reach, i == 0)
		l.average(k, s, q.noise)
		if i > 1 && moved < still {
			break
		}
	}
	alike := 0
	for _, c := range cuts {
		if c.corr > q.least {
			alike++
		}
	}
	return l, alike*2 >= len(cuts) && alike >= min(3, len(cuts))
}

// still is how far the cuts may move, samples, in a round of aligning that is
// the last.
const still = 0.02

// firstShape is the cut that the others are most like, or the mean of every
// other one as they lie, where the rest are more like that.
func (k *tools) firstShape(a *aligner, cuts []cut, s span, slack int, q quiet) []float32 {
	order := make([]int, len(cuts))
	power := make([]float64, len(cuts))
	for i := range order {
		order[i], power[i] = i, sig.Power(cuts[i].y)
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(power[b], power[a]) })
	from := len(order) / 4
	best, shape := -1.0, middle(cuts[order[0]], s)
	for _, i := range order[from:min(len(order), from+4)] {
		others := slices.DeleteFunc(slices.Clone(order[:min(len(order), 8)]), func(j int) bool { return j == i })
		if like := a.likeness(middle(cuts[i], s), cuts, others, slack); like > best {
			best, shape = like, middle(cuts[i], s)
		}
	}
	if q.least < clearly {
		var rest []int
		for i := 1; i < len(cuts); i += 2 {
			rest = append(rest, i)
		}
		mean := a.together(cuts, s, q.noise)
		if a.likeness(mean, cuts, rest, k.samples(1)) > best {
			shape = mean
		}
	}
	return slices.Clone(shape)
}

func middle(c cut, s span) []float32 {
	m := (len(c.y) - s.len()) / 2
	return c.y[m : m+s.len()]
}

// align finds the place of the shape in each cut, and tells how far the one
// that moved most did.
func (l *learned) align(a *aligner, reach int, fresh bool) (moved float64) {
	a.take(l.shape)
	for i := range l.cuts {
		c := &l.cuts[i]
		if fresh {
			c.lag = float64(len(c.y)-len(l.shape)) / 2
		}
		lag, corr := a.match(c, reach)
		moved = max(moved, math.Abs(lag-c.lag))
		c.lag, c.corr = lag, corr
	}
	return moved
}

// average makes the shape anew of the aligned cuts, each counted by its
// likeness.
func (l *learned) average(k *tools, s span, noise spectrum) {
	raw := make([]float32, s.len())
	one := make([]float32, s.len())
	var squares float64
	for _, c := range l.cuts {
		if c.corr <= l.least*2/3 {
			continue
		}
		k.between.Shift(one, c.x, c.lag)
		w := float32(c.corr * c.corr / math.Sqrt(sig.Power(c.y)+1e-30))
		squares += float64(w) * float64(w)
		for i, v := range one {
			raw[i] += w * v
		}
	}
	var top float64
	l.raw, top = k.filtered(raw)
	l.shape = l.raw
	each := squares / max(1e-30, top*top)
	if noise.p != nil && each*noise.mean > noticed*sig.Power(l.raw) {
		l.shape, _ = k.cleared(l.raw, noise, each)
	}
}

// noticed is the share of noise in a shape from which on it is taken out of it.
const noticed = 0.02

// filtered is a raw shape band-passed and scaled to the amplitude 1, and what
// the amplitude was.
func (k *tools) filtered(raw []float32) (y []float32, was float64) {
	y = make([]float32, len(raw))
	sig.Convolve(y, k.band, raw)
	var top float32
	for _, v := range y {
		top = max(top, v, -v)
	}
	if top > 0 {
		for i := range y {
			y[i] /= top
		}
	}
	return y, float64(top)
}

// strength is that of the middle one of the cuts, against the shape.
func (l *learned) strength() float64 {
	own := sig.Power(l.shape)
	all := make([]float64, len(l.cuts))
	for i, c := range l.cuts {
		all[i] = max(0, c.corr) * math.Sqrt(sig.Power(middle(c, span{after: len(l.shape)}))/max(own, 1e-30))
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// impacts are the places of the beats in samples where the cuts were found.
func (l *learned) impacts(s span) []float64 {
	out := make([]float64, len(l.cuts))
	for i, c := range l.cuts {
		out[i] = float64(c.at) + c.lag + float64(s.before)
	}
	return out
}
