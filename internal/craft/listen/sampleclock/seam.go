package sampleclock

import (
	"math"
	"slices"

	"seatboard/internal/kit/unit"
)

// Block is what a page reports of one block of samples.
type Block struct {
	First     int64         // number of its first sample, by the page's own count
	Frames    int           // samples in it
	Stamp     unit.Duration // the device's time of its first sample; 0 where there is none
	Sent      unit.Duration // the page's time when it was sent; goes to a [Fitter], not looked at here
	Discarded int64         // samples the browser says it has thrown away so far
}

// Why says what gave a seam away.
type Why string

// The reasons.
const (
	Counted Why = "numbers missing" // the page's own numbers jump: samples were lost on the way here
	Thrown  Why = "thrown away"     // the browser says so
	Stamped Why = "time jumped"     // the device's stamps shift against the count for good
)

// Seam is a place where the sound is not one piece of time.
type Seam struct {
	Step
	Why Why
}

const (
	around   = 8   // blocks looked at on each side of a jump of the stamps
	stampSig = 8.0 // times the scatter of the stamps
)

// Seams lists where blocks do not join, by everything their reports tell:
// jumps of the numbers, samples thrown away, and shifts of at least a
// millisecond of the device's stamps against the count that last (single
// late stamps are no seam). A Step's Size is the shift of later samples when
// the blocks are simply put one after the other; 0 where it is not known.
//
// Blocks without stamps (an audio worklet) show only jumps of the numbers:
// whole blocks that were lost or put in before the page counted them are
// found by a [Fitter] from the times sent, and by the beats themselves.
func Seams(rate float64, blocks []Block) []Seam {
	w := NewWatch(rate)
	var out []Seam
	for _, b := range blocks {
		out = append(out, w.Add(b)...)
	}
	return out
}

// Watch looks for seams as the blocks come. A jump of the stamps is told
// eight blocks after it.
type Watch struct {
	rate    float64
	started bool
	last    Block
	lag     []lag // of the last 2·around blocks
}

// lag is a stamp less the time of the count.
type lag struct {
	frame int64
	by    float64
}

// NewWatch looks for seams in sound of so many samples a second.
func NewWatch(rate float64) *Watch { return &Watch{rate: rate} }

// Add takes the next block and returns the seams that it shows.
func (w *Watch) Add(b Block) []Seam {
	if !(w.rate > 0) || b.Frames <= 0 {
		return nil
	}
	var out []Seam
	if w.started {
		missing := b.First - w.last.First - int64(w.last.Frames)
		thrown := b.Discarded - w.last.Discarded
		if missing != 0 {
			out = append(out, Seam{Step{b.First, unit.Duration(-float64(missing) / w.rate)}, Counted})
		}
		if thrown > 0 {
			out = append(out, Seam{Step{b.First, unit.Duration(-float64(thrown) / w.rate)}, Thrown})
		}
		if len(out) > 0 {
			w.lag = w.lag[:0] // told already
		}
	}
	w.started, w.last = true, b
	if s := float64(b.Stamp); s != 0 && !math.IsNaN(s) && !math.IsInf(s, 0) {
		w.lag = append(w.lag, lag{b.First, s - float64(b.First)/w.rate})
		if j, ok := w.jump(); ok {
			out = append(out, j)
		}
	}
	return out
}

// jump looks for a lasting shift in the middle of the lags kept.
func (w *Watch) jump() (Seam, bool) {
	if len(w.lag) < 2*around {
		return Seam{}, false
	}
	if len(w.lag) > 2*around {
		w.lag = append(w.lag[:0], w.lag[len(w.lag)-2*around:]...)
	}
	old, young := by(w.lag[:around]), by(w.lag[around:])
	a, b := median(slices.Clone(old)), median(slices.Clone(young))
	scatter := max(spread(old, a), spread(young, b))
	shift := b - a
	single := w.lag[around].by - w.lag[around-1].by // the jump must be here, not elsewhere in the window
	if math.Abs(shift) < max(smallest, stampSig*scatter/math.Sqrt(around)) || math.Abs(single) < math.Abs(shift)/2 || single*shift < 0 {
		return Seam{}, false
	}
	s := Seam{Step{w.lag[around].frame, unit.Duration(-shift)}, Stamped}
	w.lag = append(w.lag[:0], w.lag[around:]...)
	return s, true
}

func by(l []lag) []float64 {
	out := make([]float64, len(l))
	for i := range l {
		out[i] = l[i].by
	}
	return out
}

// spread is the scatter about a middle, as a standard deviation.
func spread(v []float64, middle float64) float64 {
	d := make([]float64, len(v))
	for i := range v {
		d[i] = math.Abs(v[i] - middle)
	}
	return 1.4826 * median(d)
}
