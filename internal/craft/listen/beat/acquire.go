package beat

import (
	"math"
	"slices"

	"seatboard/internal/kit/sig"
)

// lock is a clock that was found in a stretch of sound: when it beats and
// what its two sounds are like. Places are samples.
type lock struct {
	from, to int64
	beat     float64    // samples
	first    float64    // of the first beat, less its side's offset
	off      float64    // tock comes so much late of the middle, tick as much early
	side     [2]learned // by side
	span     span
	noise    spectrum
	spread   float64 // standard deviation of the beats about the line
	above    float64 // how far the period stands out
}

// acquire looks for a clock in samples a to b, for the one that is known
// first. One that is fainter is looked for in the longest stretch only.
func (h *hearer) acquire(a, b int64) (l lock, ok bool) {
	h.tape.settle(a, b)
	on := h.tape.onset(a, b)
	if h.about > 0 {
		if l, ok = h.learnBoth(a, b, on, h.about); ok {
			return l, ok
		}
	}
	if l, ok = h.learnBoth(a, b, on, 0); ok { // or for another
		return l, ok
	}
	if float64(b-a) < stretches[len(stretches)-1]*h.tools.rate {
		return l, false
	}
	on = h.tape.swell(a, b)
	if l, ok = h.learnBoth(a, b, on, h.about); ok || l.beat == 0 {
		return l, ok
	}
	return h.learnBoth(a, b, on, 2*l.beat) // every second was chance
}

// repeats finds the period of the onsets of samples a to b and the first
// place of each side in it, in samples. ok is false where nothing stands out.
func (h *hearer) repeats(a, b int64, on onsets, about float64) (l lock, first [2]float64, ok bool) {
	perMs := h.tools.rate / 1000
	p, above := period(on, 2*about/perMs)
	h.best = max(h.best, above)
	l = lock{from: a, to: b, above: above}
	if p == 0 || above < on.stands {
		return l, first, false
	}
	tick, tock, full := sides(on.strength, p)
	l.beat = full / 2 * perMs
	return l, [2]float64{float64(a) + min(tick, tock)*perMs, float64(a) + max(tick, tock)*perMs}, true
}

// learnBoth learns the sounds of a clock whose beat lasts about so many
// samples; 0 where that is not known.
func (h *hearer) learnBoth(a, b int64, on onsets, about float64) (l lock, ok bool) {
	k := h.tools
	l, first, ok := h.repeats(a, b, on, about)
	if !ok {
		return l, false
	}
	l.span = k.full(l.beat / k.rate)
	l.first, l.off = (first[0]+first[1]-l.beat)/2, (first[1]-first[0]-l.beat)/2
	l.noise = k.noise(h.tape, l.gaps(k))
	for s, at := range first {
		slack := k.samples(6)
		cuts := k.cuts(h.tape, spreadOut(places(a, b, at, 2*l.beat), 64), l.span, slack)
		q := quiet{l.noise, faintly}
		if float64(b-a) <= stretches[0]*k.rate || !drowned(cuts, l.noise) {
			cuts, q.least = spreadOut(cuts, 24), clearly
		}
		l.side[s], ok = k.learn(cuts, l.span, slack, q)
		if !ok {
			return l, false
		}
	}
	l.line()
	l.noise = k.noise(h.tape, l.gaps(k))
	return l, true
}

// drowned tells whether there is little more in most cuts than the noise. What
// is loud and yet hardly alike is no clock.
func drowned(cuts []cut, noise spectrum) bool {
	power := make([]float64, len(cuts))
	for i, c := range cuts {
		power[i] = sig.Power(c.y)
	}
	return len(cuts) > 0 && nth(power, len(power)/2) < 2*noise.mean
}

func places(a, b int64, first, step float64) []float64 {
	var out []float64
	for p := first; p < float64(b); p += step {
		if p >= float64(a) {
			out = append(out, p)
		}
	}
	return out
}

// spreadOut keeps at most so many, from all over.
func spreadOut[T any](x []T, most int) []T {
	if len(x) <= most {
		return x
	}
	out := make([]T, most)
	for i := range out {
		out[i] = x[i*len(x)/most]
	}
	return out
}

// line fits the impacts of both sides: t = first + n beat ∓ off, beats far
// from the line left out.
func (l *lock) line() {
	var n, t, side []float64
	first := l.side[0].impacts(l.span)[0]
	for s := range l.side {
		for i, p := range l.side[s].impacts(l.span) {
			if l.side[s].cuts[i].corr < l.side[s].least {
				continue
			}
			turn := math.Round((p - first - float64(s)*l.guess()) / (2 * l.beat))
			n, t, side = append(n, 2*turn+float64(s)), append(t, p), append(side, float64(2*s-1))
		}
	}
	keep := make([]bool, len(n))
	for i := range keep {
		keep[i] = true
	}
	for range 3 {
		c, ok := solveLine(n, t, side, keep)
		if !ok {
			return
		}
		l.first, l.beat, l.off = c[0], c[1], c[2]
		l.spread = l.robust(n, t, side, keep)
	}
}

// guess is the place of the first tock after the first tick.
func (l *lock) guess() float64 {
	d := l.side[1].impacts(l.span)[0] - l.side[0].impacts(l.span)[0]
	return d - 2*l.beat*math.Floor(d/(2*l.beat))
}

// robust keeps what lies within five spreads and returns the spread.
func (l *lock) robust(n, t, side []float64, keep []bool) float64 {
	r := make([]float64, len(n))
	for i := range n {
		r[i] = math.Abs(t[i] - l.first - n[i]*l.beat - side[i]*l.off)
	}
	spread := 1.4826 * slices.Sorted(slices.Values(r))[len(r)/2]
	for i := range r {
		keep[i] = r[i] <= 5*spread+1
	}
	return spread
}

// solveLine is least squares of t on 1, n and side.
func solveLine(n, t, side []float64, keep []bool) (c [3]float64, ok bool) {
	var a [3][4]float64
	var n0, t0, count float64
	for i := range n {
		if keep[i] {
			n0, t0, count = n0+n[i], t0+t[i], count+1
		}
	}
	if count < 4 {
		return c, false
	}
	n0, t0 = n0/count, t0/count
	for i := range n {
		if !keep[i] {
			continue
		}
		row := [4]float64{1, n[i] - n0, side[i], t[i] - t0}
		for p := range 3 {
			for q := range 4 {
				a[p][q] += row[p] * row[q]
			}
		}
	}
	if !eliminate(&a) {
		return c, false
	}
	slope := a[1][3]
	return [3]float64{t0 + a[0][3] - slope*n0, slope, a[2][3]}, true
}

// eliminate solves three equations in place; the solution is the last column.
func eliminate(a *[3][4]float64) bool {
	for p := range 3 {
		if math.Abs(a[p][p]) < 1e-12 {
			return false
		}
		for q := range 3 {
			if q == p {
				continue
			}
			f := a[q][p] / a[p][p]
			for j := p; j < 4; j++ {
				a[q][j] -= f * a[p][j]
			}
		}
	}
	for p := range 3 {
		a[p][3] /= a[p][p]
	}
	return true
}

// gaps are the stretches between beats, clear of their sounds.
func (l *lock) gaps(k *tools) [][2]int64 {
	var out [][2]int64
	after := min(35, 1000*l.beat/k.rate/3)
	for n := 0.0; ; n++ {
		side := 2*math.Mod(n, 2) - 1
		a := l.first + n*l.beat + side*l.off + after*k.rate/1000
		b := l.first + (n+1)*l.beat - side*l.off - float64(k.samples(min(15, after)))
		if b > float64(l.to) {
			return out
		}
		out = append(out, [2]int64{int64(a), int64(b)})
	}
}
