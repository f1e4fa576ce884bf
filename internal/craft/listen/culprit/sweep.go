package culprit

import "math"

// swept is a matrix of products of regressors (the first is the data) from
// which some have been swept: what is left of the others after them, their
// coefficients and the inverse of their own block.
type swept struct {
	dim int
	a   []float64
	in  []bool
}

// sweeping copies the raw products.
func sweeping(raw []float64, dim int) *swept {
	return &swept{dim: dim, a: append([]float64(nil), raw[:dim*dim]...), in: make([]bool, dim)}
}

func (s *swept) at(i, j int) float64 { return s.a[i*s.dim+j] }

// leastLeft is the share of a regressor's square that must be left after the
// others for it to have a coefficient.
const leastLeft = 1e-9

// take sweeps regressor k in. It is left out where others have all of it.
func (s *swept) take(k int, raw float64) bool {
	d := s.at(k, k)
	if s.in[k] || !(d > leastLeft*raw) {
		return false
	}
	s.turn(k, d, 1)
	s.in[k] = true
	return true
}

// drop sweeps regressor k out again.
func (s *swept) drop(k int) {
	if !s.in[k] {
		return
	}
	s.turn(k, s.at(k, k), -1)
	s.in[k] = false
}

// turn is the sweep; a block that is in holds the negative of its inverse.
func (s *swept) turn(k int, d, sign float64) {
	n := s.dim
	row := make([]float64, n)
	for j := range n {
		row[j] = s.a[k*n+j]
	}
	for i := range n {
		f := row[i] / d
		if i == k || f == 0 {
			continue
		}
		for j := range n {
			s.a[i*n+j] -= f * row[j]
		}
	}
	for j := range n {
		s.a[k*n+j] = sign * row[j] / d
		s.a[j*n+k] = sign * row[j] / d
	}
	s.a[k*n+k] = -1 / d
}

// rest is the sum of squares left of the data.
func (s *swept) rest() float64 { return math.Max(s.at(0, 0), 0) }

// wave is what is known of one frequency in one run: coefficients and the
// information about them, before division by the noise.
type wave struct {
	c, s       float64
	cc, cs, ss float64
}

// wave of the pair of columns k and k+1, whether in or out; ok is false
// where too little of it is left.
func (s *swept) wave(k int, rawC, rawS float64) (w wave, ok bool) {
	a, b, c := s.at(k, k), s.at(k, k+1), s.at(k+1, k+1)
	if s.in[k] && s.in[k+1] { // −inverse of the information
		d := a*c - b*b
		if !(d > 0) {
			return w, false
		}
		return wave{c: s.at(k, 0), s: s.at(k+1, 0), cc: -c / d, cs: b / d, ss: -a / d}, true
	}
	d := a*c - b*b
	if s.in[k] || s.in[k+1] || !(d > leastLeft*rawC*rawS) || a <= 0 {
		return w, false
	}
	u, v := s.at(k, 0), s.at(k+1, 0)
	return wave{c: (c*u - b*v) / d, s: (a*v - b*u) / d, cc: a, cs: b, ss: c}, true
}

// evidence is the drop in the sum of squares that the wave makes.
func (w wave) evidence() float64 {
	return math.Max(w.cc*w.c*w.c+2*w.cs*w.c*w.s+w.ss*w.s*w.s, 0)
}

// information is that about the amplitude, the mean over all phases.
func (w wave) information() float64 { return math.Sqrt(math.Max(w.cc*w.ss-w.cs*w.cs, 0)) }
