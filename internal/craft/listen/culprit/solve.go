package culprit

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Errors of a query.
var (
	ErrFew   = errors.New("culprit: too few beats in one stretch to look for a part")
	ErrParts = errors.New("culprit: a part needs a period above nought")
)

// search is one query under way.
type search struct {
	q       Query
	runs    []*run
	designs []design
	raw     [][]float64 // products of the columns, by run
	rawDim  []int
	models  []*swept
	suspect []*candidate // harmonics of parts, then free periods
	noise   noise
	ratio   float64 // that the products were whitened by
	square  float64 // variance of the scatter by that
	free    float64 // degrees of freedom left
}

// Solve weighs the evidence against each part. The error is ErrFew where no
// run has fewest beats, or ErrParts.
func Solve(q Query) (Answer, error) {
	if err := q.check(); err != nil {
		return Answer{}, err
	}
	s := &search{q: q, runs: runsOf(q)}
	if len(s.runs) == 0 {
		return Answer{}, fmt.Errorf("%w: %d beats, at least %d in one run are needed", ErrFew, len(q.Beats), fewest)
	}
	for _, r := range s.runs {
		r.settle(float64(q.Scatter))
	}
	s.enlist()
	s.fit()
	return s.answer(), nil
}

func (q Query) check() error {
	for _, p := range q.Parts {
		if !(p.Beats > 0) || math.IsInf(p.Beats, 0) || !(p.Period > 0) {
			return fmt.Errorf("%w: %s", ErrParts, p.Name)
		}
	}
	if q.Span < 0 || q.Span > 0 && q.Span%2 == 0 {
		return fmt.Errorf("%w: the span is %d beats, wanted an odd number", ErrParts, q.Span)
	}
	if q.EscapeTeeth < 0 || q.EscapeTeeth > mostTeeth {
		return fmt.Errorf("%w: an escape wheel of %d teeth", ErrParts, q.EscapeTeeth)
	}
	return nil
}

// The first guess of the ratio of variances, and how often the fit is done
// again with the noise that it left.
const (
	guessRatio = 1e-4
	mostPasses = 4
)

// fit chooses what is there and judges the noise, until the two agree. The
// noise is judged beside all harmonics of all parts, so that what may be a
// fault is not taken for wander; what may be wander is kept from being taken
// for a fault by the doubt about the noise.
func (s *search) fit() {
	s.ratio = guessRatio
	if s.q.Scatter > 0 && s.q.Wander > 0 {
		s.ratio = math.Pow(float64(s.q.Wander/s.q.Scatter), 2)
	}
	s.ratio = min(max(s.ratio, 1e-9), ratioMost)
	low, high := leastRatio(s.runs), float64(ratioMost)
	for pass := range mostPasses {
		s.products()
		if pass > 0 {
			s.choose()
		}
		changed := s.listenToNoise(low, high, pass)
		moved := math.Abs(math.Log(s.noise.best.ratio / s.ratio))
		if pass > 0 && !changed && moved < 0.5 || pass == mostPasses-1 {
			break
		}
		s.ratio = s.noise.best.ratio
		nodes, margin := s.noise.nodes, math.Exp(2*ratioStep)
		low, high = max(low, nodes[0].ratio/margin), min(high, nodes[len(nodes)-1].ratio*margin)
	}
	s.choose()
}

// listenToNoise judges the noise beside everything that is looked for, weighs
// the beats by it and leaves out odd ones; the answer is whether that changed
// anything.
func (s *search) listenToNoise(low, high float64, pass int) (changed bool) {
	chosen := make([]bool, len(s.suspect))
	for i, c := range s.suspect {
		chosen[i] = c.in
		c.in = true
	}
	s.begin()
	rests := s.rests()
	slow := make([][]float64, len(s.runs))
	for i, r := range s.runs {
		slow[i] = s.slow(r)
		for _, c := range s.suspect {
			if c.column[i] > 0 && c.f*r.length() < slowCycles && s.models[i].in[c.column[i]] {
				slow[i] = append(slow[i], c.f)
			}
		}
		for k := 1; r.ring > 0 && float64(k)*r.length()/float64(r.ring) < ringCycles && k < r.ring/2; k++ {
			slow[i] = append(slow[i], float64(k)/float64(r.ring))
		}
	}
	s.noise = s.judge(rests, slow, low, high, pass > 0)
	for i, r := range s.runs {
		if pass == mostPasses-1 {
			break // what the products rest on stays
		}
		odd := r.oddOnes(rests[i], s.noise.best.ratio)
		own := r.ownScatter(rests[i], s.noise.best.ratio)
		if own < 0.8*r.own || own > 1.25*r.own {
			r.weigh(own)
			changed = true
		}
		changed = r.leaveOut(odd) > 0 || changed
	}
	for i, c := range s.suspect {
		c.in = chosen[i]
	}
	return changed
}

// products multiplies all columns of all runs.
func (s *search) products() {
	s.designs, s.raw, s.rawDim = nil, nil, nil
	for i, r := range s.runs {
		d := newDesign(r.ring, s.slow(r))
		for _, c := range s.suspect {
			c.column[i] = 0
			if !c.inRing && r.resolves(c.f) {
				c.column[i] = d.add(c.f)
			}
		}
		dim := len(d.columns)
		raw := make([]float64, dim*dim)
		r.gram(d, r.whitener(s.ratio), 0, raw, dim)
		s.designs, s.raw, s.rawDim = append(s.designs, d), append(s.raw, raw), append(s.rawDim, dim)
	}
}

// slow are the turns with one to leastCycles cycles in a run.
func (s *search) slow(r *run) []float64 {
	var out []float64
	for _, p := range s.q.Parts {
		if n := r.length() / p.Beats; n >= 1 && n < leastCycles {
			out = append(out, 1/p.Beats)
		}
	}
	return out
}

// begin sweeps in the base and what was chosen before.
func (s *search) begin() {
	s.models = nil
	for i := range s.runs {
		m := sweeping(s.raw[i], s.rawDim[i])
		for k := 1; k <= s.designs[i].base; k++ {
			m.take(k, s.raw[i][k*s.rawDim[i]+k])
		}
		s.models = append(s.models, m)
	}
	for _, c := range s.suspect {
		if c.in {
			s.put(c)
		}
	}
	s.scale()
}

// put sweeps a candidate in, remove out.
func (s *search) put(c *candidate) {
	c.in = true
	for i, k := range c.column {
		if k > 0 {
			for j := k; j < k+2; j++ {
				s.models[i].take(j, s.raw[i][j*s.rawDim[i]+j])
			}
		}
	}
}

func (s *search) remove(c *candidate) {
	c.in = false
	for i, k := range c.column {
		if k > 0 {
			s.models[i].drop(k)
			s.models[i].drop(k + 1)
		}
	}
}

// fitted counts the parameters of all runs.
func (s *search) fitted() int {
	n := 0
	for _, m := range s.models {
		for _, in := range m.in {
			if in {
				n++
			}
		}
	}
	return n
}

// scale sets the variance that the model leaves.
func (s *search) scale() {
	var rest, n float64
	for i, m := range s.models {
		rest += m.rest()
		n += float64(len(s.runs[i].n))
	}
	s.free = math.Max(n-float64(s.fitted()), 1)
	s.square = math.Max(rest/s.free, 1e-30)
	s.noise.best, s.noise.free = node{ratio: s.ratio, square: s.square}, s.free
}

// rests is what the model leaves of each run's times.
func (s *search) rests() [][]float64 {
	out := make([][]float64, len(s.runs))
	for i := range s.runs {
		out[i] = s.restOf(i)
	}
	return out
}

func (s *search) restOf(i int) []float64 {
	r := s.runs[i]
	rest := slices.Clone(r.y)
	x := make([]float64, len(rest))
	places := make([]float64, r.ring)
	for k, c := range s.designs[i].columns {
		if k == 0 || !s.models[i].in[k] {
			continue
		}
		b := s.models[i].at(k, 0)
		if c.kind == placeColumn {
			places[c.place] = b
			continue
		}
		r.fill(c, 0, x)
		for j := range rest {
			rest[j] -= b * x[j]
		}
	}
	if r.ring > 0 {
		for j, n := range r.n {
			rest[j] -= places[n%r.ring]
		}
	}
	return rest
}
