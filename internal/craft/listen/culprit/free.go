package culprit

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/periodogram"
	"seatboard/internal/kit/unit"
)

// Bounds of the search for periods that belong to no part.
const (
	mostFree = 6
	finer    = 2  // frequencies for each independent one
	better   = 12 // evidence by which a free frequency must pass a part's own to be preferred
)

// freePeriod looks for a period that no part has, in what is left of the
// longest run: whitened, it is as even as noise over all frequencies. It
// returns nil where chance would do as well, or where the best harmonic of a
// part says nearly as much.
func (s *search) freePeriod(best *candidate) *candidate {
	count := 0
	for _, c := range s.suspect {
		if c.part < 0 {
			count++
		}
	}
	if count >= mostFree {
		return nil
	}
	left := s.whitened()
	f, x := s.tallest(left)
	if !(f > 0) || best != nil && x < best.evidence+better {
		return nil
	}
	f = left.Refine(f, 0.5/s.runs[0].length())
	c := &candidate{part: -1, harmonic: 1, f: f, column: make([]int, len(s.runs)), evidence: s.freeEvidence(left, left.At(f).Power)}
	if best != nil && c.evidence < best.evidence+better || s.freeChance(c) > nominal {
		return nil
	}
	s.widen(c)
	return c
}

// whitened is what is left of the longest run, independent from beat to beat.
func (s *search) whitened() periodogram.Series {
	r := s.runs[0]
	rest := s.restOf(0)
	r.whitener(s.ratio).filter(rest, 0, 0)
	t := make([]float64, len(r.n))
	for i, n := range r.n {
		t[i] = float64(n)
	}
	return periodogram.Series{T: t, Y: rest}
}

// freeEvidence turns a share of the rest into an evidence.
func (s *search) freeEvidence(left periodogram.Series, power float64) float64 {
	var sum, mean float64
	for _, v := range left.Y {
		mean += v / float64(len(left.Y))
	}
	for _, v := range left.Y {
		sum += (v - mean) * (v - mean)
	}
	return power * sum / s.square
}

// tallest is the frequency that stands out most, with its evidence; what the
// noise may be at low frequencies is allowed for.
func (s *search) tallest(left periodogram.Series) (f, x float64) {
	r := s.runs[0]
	y, w := make([]float64, r.last()+1-r.n[0]), make([]float64, r.last()+1-r.n[0])
	for i, n := range r.n {
		y[n-r.n[0]], w[n-r.n[0]] = left.Y[i], 1
	}
	grid, p := periodogram.Whole(y, w, finer)
	flat, steep := 0.0, 0.0 // of the density that is believed, over the scatter by the products
	for _, k := range s.noise.nodes {
		flat += k.belief * k.square / s.square
		steep += k.belief * k.square / s.square * k.ratio
	}
	top, at := 0.0, 0.0
	for i, z := range p {
		v := grid.At(i)
		if !r.resolves(v) || v > highest {
			continue
		}
		sin := math.Sin(math.Pi * v)
		z *= (1 + s.ratio/(4*sin*sin)) / (flat + steep/(4*sin*sin))
		if z > top {
			top, at = z, v
		}
	}
	return at, s.freeEvidence(left, top) + better // the top between two frequencies is higher
}

// freeChance is the chance of the evidence for a free period among all
// periods that the longest run resolves.
func (s *search) freeChance(c *candidate) float64 {
	r := s.runs[0]
	t := make([]float64, len(r.n))
	for i, n := range r.n {
		t[i] = float64(n)
	}
	odds := periodogram.Series{T: t}.Chances(0.5).Less(max(0, s.fitted()-1))
	chance := func(ratio float64) float64 {
		x := c.evidence / ratio
		return odds.Baluev(x / (x + s.free))
	}
	return min(1, s.noise.believed(c.f, chance)/freeShare)
}

// widen gives a new candidate its columns in all runs.
func (s *search) widen(c *candidate) {
	for i, r := range s.runs {
		if !r.resolves(c.f) {
			continue
		}
		old := s.rawDim[i]
		c.column[i] = s.designs[i].add(c.f)
		dim := len(s.designs[i].columns)
		raw := make([]float64, dim*dim)
		for k := range old {
			copy(raw[k*dim:k*dim+old], s.raw[i][k*old:(k+1)*old])
		}
		r.gram(s.designs[i], r.whitener(s.ratio), old, raw, dim)
		s.raw[i], s.rawDim[i] = raw, dim
	}
	s.begin()
}

// dropFree forgets the free periods that are no longer in the model.
func (s *search) dropFree() {
	s.suspect = slices.DeleteFunc(s.suspect, func(c *candidate) bool { return c.part < 0 && !c.in })
}

// peaks are the free periods.
func (s *search) peaks() []Peak {
	var out []Peak
	for _, c := range s.suspect {
		if c.part < 0 && c.known {
			out = append(out, Peak{Period: unit.Duration(s.runs[0].beat / c.f), Amplitude: s.noise.size(c), Chance: c.chance})
		}
	}
	slices.SortStableFunc(out, func(a, b Peak) int { return cmp.Compare(a.Chance, b.Chance) })
	return out
}
