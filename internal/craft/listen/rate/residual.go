package rate

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/series"
	"seatboard/internal/kit/unit"
)

// residuals are how far each beat is from the mean rate and its side's place,
// in the order of time. Each run has its own mean.
func (r *record) residuals(beats []beat.Beat, f *fit) []Residual {
	var out []Residual
	sigma := math.Sqrt(f.rss / f.freedom)
	k := num.StudentQuantile(0.975, f.freedom)
	for i := range r.stretches {
		s := &r.stretches[i]
		pl := s.places(f, f.offsets[i], 1/f.periodVar)
		middle, count := 0.0, 0.0
		for j := range pl {
			pl[j].clock -= f.mean*s.n[j] + f.offsets[i]*s.side[j]
			if !s.odd[j] {
				middle, count = middle+pl[j].clock, count+1
			}
		}
		middle /= max(count, 1)
		for j, p := range pl {
			b := beats[s.at[j]]
			out = append(out, Residual{
				At: b.At, N: b.N, Odd: s.odd[j],
				Off:    unit.Duration(s.y[j] - f.mean*s.n[j] - f.offsets[i]*s.side[j] - middle),
				Smooth: unit.Duration(p.clock - middle),
				Band:   unit.Duration(k * sigma * math.Sqrt(p.var2)),
			})
		}
	}
	slices.SortStableFunc(out, func(a, b Residual) int { return cmp.Compare(a.At, b.At) })
	return out
}

// longestSpan bounds the memory of the Allan table: a fortnight of half
// seconds.
const longestSpan = 1 << 22

// allan is the overlapping Allan deviation at octaves of the beat, all runs
// together, with limits by the noise found.
func (r *record) allan(f *fit) []Allan {
	var phases [][]float64
	span := 0
	for i := range r.stretches {
		if s := &r.stretches[i]; s.span() < longestSpan {
			x := s.evenly(f.offsets[i])
			phases, span = append(phases, x), max(span, len(x))
		}
	}
	scatter := f.rss / f.freedom
	tau0 := r.about + f.mean
	var out []Allan
	for m := 1; 3*m < span && tau0 > 0; m *= 2 {
		sum, terms, freedom := 0.0, 0, 0.0
		for _, x := range phases {
			d := series.AllanOverlapping(x, tau0, m)
			if d.Terms == 0 {
				continue
			}
			sum += d.Dev * d.Dev * float64(d.Terms)
			terms += d.Terms
			share := float64(d.Terms) / float64(len(x)-2*m) // the rest is missing
			freedom += share * series.FreedomMixed(scatter, scatter*f.lambda, len(x), m)
		}
		if terms == 0 || !(freedom > 0) {
			continue
		}
		dev := math.Sqrt(sum / float64(terms))
		low, high := series.Limits(dev, max(freedom, 1), 0.95)
		out = append(out, Allan{Tau: unit.Duration(float64(m) * tau0), Dev: dev, Low: low, High: high})
	}
	return out
}

// evenly has the phase at every beat number, NaN where none was heard or it
// is odd; the side offset is taken off.
func (s *stretch) evenly(offset float64) []float64 {
	x := make([]float64, int(s.span())+1)
	for i := range x {
		x[i] = math.NaN()
	}
	for i, n := range s.n {
		if !s.odd[i] {
			x[int(n)] = s.y[i] - offset*s.side[i]
		}
	}
	return x
}
