package culprit

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
)

// run is an unbroken stretch of beats. Numbers count from the last even one
// before its first.
type run struct {
	n     []int
	y     []float64 // s, a line through the whole taken off
	g     []float64 // variance of the beat's own scatter over the mean's
	u     []float64 // standard uncertainty from the sound, s, 0 where not known
	ring  int       // beats in a turn of the escape wheel, 0 where its places are not told apart
	own   float64   // s, scatter of a beat that is not the sound's
	beat  float64   // s
	first int       // 0 or 1: the first beat's number
	turn  int       // beats in a turn of the escape wheel, 0 where not known
}

// Limits of what is looked at.
const (
	fewest      = 60 // beats in a run
	ringVisits  = 4  // of each tooth to each pallet, for the places to be told apart
	leastCycles = 2  // of a period in a run, for it to be looked for
	oddBeat     = 5  // standard deviations
)

// last is the number of the last beat.
func (r *run) last() int { return r.n[len(r.n)-1] }

// length is the beats from first to last.
func (r *run) length() float64 { return float64(r.last() - r.n[0]) }

// resolves tells whether a frequency has enough cycles in the run.
func (r *run) resolves(f float64) bool { return f*r.length() >= leastCycles }

// runsOf divides the beats; runs too short to say anything are left out, the
// longest comes first.
func runsOf(q Query) []*run {
	var out []*run
	for i := 0; i < len(q.Beats); {
		j := i + 1
		for j < len(q.Beats) && q.Beats[j].Run == q.Beats[i].Run && q.Beats[j].N > q.Beats[j-1].N {
			j++
		}
		if r := newRun(q.Beats[i:j], 2*q.EscapeTeeth); r != nil {
			out = append(out, r)
		}
		i = j
	}
	slices.SortStableFunc(out, func(a, b *run) int { return cmp.Compare(len(b.n), len(a.n)) })
	return out
}

// mostSilence is the share of the beats that may be missing: one side may not
// have been heard.
const mostSilence = 0.7

func newRun(beats []beat.Beat, turn int) *run {
	if len(beats) < fewest {
		return nil
	}
	r := &run{turn: turn}
	from := beats[0].N &^ 1
	for _, b := range beats {
		if n := b.N - from; n < 1<<40 && !math.IsNaN(float64(b.At)) && !math.IsInf(float64(b.At), 0) {
			r.n, r.y, r.u = append(r.n, int(n)), append(r.y, float64(b.At)), append(r.u, max(float64(b.U), 0))
		}
	}
	if len(r.n) < fewest || float64(len(r.n)) < (1-mostSilence)*float64(r.last()) {
		return nil
	}
	r.first = r.n[0]
	r.straighten()
	r.leaveOut(r.strays())
	return r
}

// straighten takes a line off the times: the median step over the whole.
func (r *run) straighten() {
	half := len(r.n) / 2
	steps := make([]float64, 0, half)
	for i := range half {
		steps = append(steps, (r.y[i+half]-r.y[i])/float64(r.n[i+half]-r.n[i]))
	}
	slices.Sort(steps)
	r.beat = steps[len(steps)/2]
	start := r.y[0]
	for i, n := range r.n {
		r.y[i] -= start + float64(n-r.n[0])*r.beat
	}
}

// strays marks the beats that are far from those a turn of the escape wheel
// before and after them (of the same side, where that is not known).
func (r *run) strays() []bool {
	lag := 2
	if r.turn > 0 && r.last() > 3*r.turn {
		lag = r.turn
	}
	at := make([]int, r.last()+1) // index + 1 of each number
	for i, n := range r.n {
		at[n] = i + 1
	}
	out := make([]bool, len(r.n))
	get := func(n int) (int, bool) {
		if n < 0 || n >= len(at) || at[n] == 0 || out[at[n]-1] {
			return 0, false
		}
		return at[n] - 1, true
	}
	d := make([]float64, len(r.n))
	for range 3 {
		r.bends(d, lag, get)
		scale := spread(d)
		if scale == 0 {
			return out
		}
		for i, n := range r.n {
			v := math.Abs(d[i])
			if !(v > 8*scale) {
				continue
			}
			worst := true
			for _, m := range [2]int{n - lag, n + lag} {
				if j, ok := get(m); ok && math.Abs(d[j]) > v {
					worst = false
				}
			}
			out[i] = out[i] || worst
		}
	}
	return out
}

// bends is how far each beat is from the middle of its neighbours at a lag,
// NaN where they are not there.
func (r *run) bends(d []float64, lag int, get func(int) (int, bool)) {
	for i, n := range r.n {
		d[i] = math.NaN()
		if _, ok := get(n); !ok {
			continue
		}
		before, ok1 := get(n - lag)
		after, ok2 := get(n + lag)
		switch {
		case ok1 && ok2:
		case ok2:
			if before, ok1 = get(n + 2*lag); ok1 { // at the beginning: the next two
				d[i] = r.y[i] - 2*r.y[after] + r.y[before]
			}
			continue
		case ok1:
			if after, ok2 = get(n - 2*lag); ok2 {
				d[i] = r.y[i] - 2*r.y[before] + r.y[after]
			}
			continue
		default:
			continue
		}
		d[i] = r.y[i] - (r.y[before]+r.y[after])/2
	}
}

// spread is the standard deviation as the median magnitude gives it.
func spread(x []float64) float64 {
	var v []float64
	for _, d := range x {
		if !math.IsNaN(d) {
			v = append(v, math.Abs(d))
		}
	}
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return 1.4826 * v[len(v)/2]
}

// leaveOut removes beats, unless they are so many that they are the clock's
// way.
func (r *run) leaveOut(odd []bool) int {
	count := 0
	for _, o := range odd {
		if o {
			count++
		}
	}
	if count == 0 || count > len(odd)/10 {
		return 0
	}
	k := 0
	for i := range r.n {
		if !odd[i] {
			r.n[k], r.y[k], r.u[k] = r.n[i], r.y[i], r.u[i]
			if r.g != nil {
				r.g[k] = r.g[i]
			}
			k++
		}
	}
	r.n, r.y, r.u = r.n[:k], r.y[:k], r.u[:k]
	if r.g != nil {
		r.g = r.g[:k]
	}
	return count
}

// settle decides on the ring and makes a first guess of the weights: scatter
// is of a beat by itself, s, 0 where not known.
func (r *run) settle(scatter float64) {
	r.ring = 0
	if r.turn > 0 && r.last() >= ringVisits*r.turn {
		r.ring = r.turn
	}
	if scatter == 0 {
		scatter = quantile(r.u, 0.5)
	}
	r.weigh(scatter)
}

// weigh shares the scatter out: own is what is the same for all, the sound's
// doubt adds to it.
func (r *run) weigh(own float64) {
	r.own = own
	r.g = make([]float64, len(r.n))
	sum := 0.0
	for i, u := range r.u {
		r.g[i] = own*own + u*u
		sum += r.g[i] / float64(len(r.n))
	}
	for i := range r.g {
		if r.g[i] /= sum; !(sum > 0) {
			r.g[i] = 1
		}
		r.g[i] = max(r.g[i], 1e-6)
	}
}

// ownScatter judges, from what a fit leaves, the scatter that is not the
// sound's: by the beats whose sound was clearest. The answer is what it was
// where no doubt of the sound is known.
func (r *run) ownScatter(rest []float64, ratio float64) float64 {
	clear := quantile(r.u, 0.25)
	if quantile(r.u, 1) == 0 {
		return r.own
	}
	x := append([]float64(nil), rest...)
	w := r.whitener(ratio)
	w.filter(x, 0, 0)
	var steps []float64
	for i, u := range r.u {
		if u <= clear {
			steps = append(steps, x[i]/w.scale[i])
		}
	}
	s := spread(steps)
	return math.Sqrt(max(s*s-clear*clear, 0.01*clear*clear))
}

// quantile of unsorted numbers.
func quantile(x []float64, p float64) float64 {
	v := slices.Clone(x)
	slices.Sort(v)
	return v[int(p*float64(len(v)-1))]
}
