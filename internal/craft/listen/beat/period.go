package beat

import (
	"math"
	"slices"

	"seatboard/internal/kit/num"
	"seatboard/internal/kit/sig"
)

// onset is the strength of onsets in each millisecond of samples a to b:
// how far the high-passed level rises above the mean of the 8 ms before.
func (t *tape) onset(a, b int64) onsets {
	return onsets{strength: rises(t.levels(a, b, nil)), stands: standsOut, nearly: nearly}
}

// levels are the root mean squares of the high-passed samples a to b in each
// millisecond, softened before where asked.
func (t *tape) levels(a, b int64, soft *softener) []float64 {
	perMs := t.src.Rate() / 1000
	n := int(float64(b-a) / perMs)
	level := make([]float64, n)
	hp := sig.NewHighPass(min(900, t.src.Rate()/8), t.src.Rate())
	buf := make([]float32, int(perMs)+2)
	at := a
	for i := range level {
		next := a + int64(float64(i+1)*perMs)
		x := buf[:next-at]
		t.float(x, at)
		if soft != nil {
			soft.soften(x)
		}
		level[i] = math.Sqrt(hp.Energy(x) / float64(len(x)))
		at = next
	}
	return level
}

// rises clips the levels at their 99.5 % quantile, so that a bang counts no
// more than a loud tick, and keeps what rises.
func rises(level []float64) []float64 {
	if len(level) == 0 {
		return nil
	}
	most := nth(slices.Clone(level), int(0.995*float64(len(level)-1)))
	out := make([]float64, len(level))
	var sum float64
	for i, v := range level {
		level[i] = min(v, most)
		if i >= 8 {
			out[i] = max(0, level[i]-sum/8)
			sum -= level[i-8]
		}
		sum += level[i]
	}
	return out
}

// autocorrelation is the unbiased one of x about its mean, over three
// neighbours, for lags below most.
func autocorrelation(x []float64, most int) []float64 {
	n := 1
	for n < len(x)+most {
		n *= 2
	}
	var mean float64
	for _, v := range x {
		mean += v / float64(len(x))
	}
	padded := make([]float64, n)
	for i, v := range x {
		padded[i] = v - mean
	}
	f := num.NewFourier(n)
	c := f.Spectrum(nil, padded)
	for i, v := range c {
		c[i] = complex(real(v)*real(v)+imag(v)*imag(v), 0)
	}
	r := f.Sequence(padded, c)[:most]
	for i := range r {
		r[i] /= float64(len(x) - i)
	}
	out := make([]float64, most)
	for i := 1; i+1 < most; i++ {
		out[i] = (r[i-1] + r[i] + r[i+1]) / 3
	}
	return out
}

// comb is the sum of the autocorrelation at all multiples of a period over
// the root of their number: as far as it stands above chance. A multiple of
// the period has as high a mean, but of fewer.
func comb(acf []float64, period float64) float64 {
	var sum float64
	var n int
	for lag := period; lag < float64(len(acf)-1); lag += period {
		i := int(lag)
		f := lag - float64(i)
		sum += acf[i]*(1-f) + acf[i+1]*f
		n++
	}
	if n == 0 {
		return math.Inf(-1)
	}
	return sum / math.Sqrt(float64(n))
}

// Full periods (tick to tick) that are looked for, ms: beats of 0.18 to 2.2 s.
const (
	shortestPeriod = 360
	longestPeriod  = 4400
)

// How far the best period must stand above the others, in median deviations,
// and the share of its score that a part of it must have to be the period.
const (
	standsOut = 8
	nearly    = 0.72
)

// period finds the full period in ms that the onsets repeat in, and how far
// its score stands above the others, in median deviations.
func period(on onsets, about float64) (p, above float64) {
	most := int(0.6 * float64(len(on.strength)))
	acf := autocorrelation(on.strength, most)
	lo, hi := float64(shortestPeriod), math.Min(longestPeriod, float64(most-2))
	if about > 0 {
		lo, hi = about*0.98, math.Min(about*1.02, float64(most-2))
	}
	all := make([]float64, 0, max(0, int(math.Log(hi/lo)*float64(most)/0.7))+8)
	best := math.Inf(-1)
	for q := lo; q <= hi; q += q * 0.7 / float64(most) {
		s := comb(acf, q)
		all = append(all, s)
		if s > best {
			best, p = s, q
		}
	}
	if len(all) < 3 {
		return 0, 0
	}
	above = deviations(all, best)
	if about > 0 {
		above = math.Inf(1) // what is known need not stand out; the beats must
	} else {
		p = smallest(acf, p, best, on.nearly, 1.4826/above)
	}
	return sharpest(on.strength, p), above
}

// smallest is the smallest whole part of a period that scores nearly as well
// as it. Where nothing lies between, its kth part scores 1/√k of it, as all
// that it has is at every kth of its multiples; it must have more than that by
// two standard deviations, of which one is so large a share of the best score.
func smallest(acf []float64, p, best, nearly, deviation float64) float64 {
	for k := longestPeriod/shortestPeriod + 1; k > 1; k-- {
		q := p / float64(k)
		if q < shortestPeriod*0.98 {
			continue
		}
		least := best * max(nearly, 1/math.Sqrt(float64(k))+2*deviation)
		top, at := math.Inf(-1), q
		for r := q * 0.985; r < q*1.015; r += q * 0.5 / float64(len(acf)) {
			if s := comb(acf, r); s > top {
				top, at = s, r
			}
		}
		if top >= least {
			return at
		}
	}
	return p
}

// sharpest refines a period by the sharpness of the fold.
func sharpest(onset []float64, p float64) float64 {
	step := p * 0.5 / float64(len(onset))
	best, at := -1.0, p
	var folded, sums []float64
	for k := -24; k <= 24; k++ {
		q := p + float64(k)*step
		var sum float64
		folded, sums = foldInto(folded, sums, onset, q)
		for _, v := range folded {
			sum += v * v * v
		}
		if sum > best {
			best, at = sum, q
		}
	}
	return at
}

// fold adds the onsets up over a period, in bins of about a millisecond,
// over three neighbours.
func fold(onset []float64, p float64) []float64 {
	out, _ := foldInto(nil, nil, onset, p)
	return out
}

// foldInto is fold into out; both it and sum may be from an earlier one.
func foldInto(out, sum, onset []float64, p float64) (_, _ []float64) {
	n := max(1, int(math.Round(p)))
	sum, out = slices.Grow(sum[:0], n)[:n], slices.Grow(out[:0], n)[:n]
	clear(sum)
	step := float64(n) / p // a bin, or nearly so
	at := 0.0
	for len(onset) > 0 {
		// So many fall into as many bins before one is left out or hit twice.
		i := min(int(at), n-1)
		run := float64(n - i)
		if step > 1 {
			run = min(run, math.Ceil((float64(i+1)-at)/(step-1)))
		} else if step < 1 {
			run = min(run, math.Floor((at-float64(i))/(1-step))+1)
		}
		m := min(len(onset), max(1, int(run)))
		bins := sum[i:][:m]
		for j, v := range onset[:m] {
			bins[j] += v
		}
		onset = onset[m:]
		if at += float64(m) * step; at >= float64(n) {
			at -= float64(n)
		}
	}
	before := sum[n-1]
	for i, v := range sum {
		after := sum[0]
		if i+1 < n {
			after = sum[i+1]
		}
		out[i] = before + 2*v + after
		before = v
	}
	return out, sum
}

// sides finds tick and tock in a fold: their places in ms and the full
// period. A fold with one place only is that of one beat.
func sides(onset []float64, p float64) (tick, tock, full float64) {
	f := fold(onset, p)
	first := highest(f, func(int) bool { return true })
	n := len(f)
	apart := func(i int) bool { d := (i - first + n) % n; return min(d, n-d) >= n/4 }
	second := highest(f, apart)
	floor := nth(slices.Clone(f), n/2)
	if second >= 0 && f[second]-floor > 0.18*(f[first]-floor) && deviations(f, f[second]) > 6 {
		return float64(first) * p / float64(n), float64(second) * p / float64(n), p
	}
	// One place: the period is a beat. Fold over two, each side in its half.
	g := fold(onset, 2*p)
	m := len(g)
	near := func(place int) func(int) bool {
		return func(i int) bool { d := (i - place + m) % m; return min(d, m-d) < m/10 }
	}
	a := highest(g, near(first%m))
	b := highest(g, near((first+m/2)%m))
	return float64(a) * 2 * p / float64(m), float64(b) * 2 * p / float64(m), 2 * p
}

// highest is the place of the highest value among those allowed, -1 for none.
func highest(f []float64, allowed func(int) bool) int {
	best := -1
	for i, v := range f {
		if allowed(i) && (best < 0 || v > f[best]) {
			best = i
		}
	}
	return best
}
