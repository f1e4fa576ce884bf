package culprit

import "math"

// node is one ratio of wander to scatter with its share of belief.
type node struct {
	ratio  float64 // variance a beat of the wander over that of the scatter
	square float64 // variance of the scatter, s²
	belief float64 // they sum to 1
}

// density is the variance at a frequency that limits a sinusoid there: its
// amplitude in n beats has the variance 2 density / n.
func (k node) density(f float64) float64 {
	s := math.Sin(math.Pi * f)
	return k.square * (1 + k.ratio/(4*s*s))
}

// noise is what is believed of the scatter and the wander.
type noise struct {
	nodes []node
	best  node
	free  float64 // degrees of freedom behind the variances
}

// ratios are the densities of the nodes at a frequency over the best's.
func (z noise) ratios(f float64) []float64 {
	out := make([]float64, len(z.nodes))
	for i, k := range z.nodes {
		out[i] = k.density(f) / z.best.density(f)
	}
	return out
}

// chance of an evidence x (over the best node's variance) at a frequency,
// averaged over what the noise may be.
func (z noise) chance(dof int, f, x float64) float64 {
	sum := 0.0
	for i, r := range z.ratios(f) {
		sum += z.nodes[i].belief * tail(dof, z.free, x/r)
	}
	return sum
}

// Step and ends of the search for the ratio, on a logarithmic scale.
const (
	ratioStep  = 0.75
	ratioMost  = 30
	ratioLeast = 0.1 // over the square of the beats: less wander than this cannot matter
	noBelief   = 1e-3
)

// judge finds the noise that left rests in runs after a fit with so many
// parameters. The restricted likelihood of each ratio is taken with a level
// and a slope fitted anew; all ratios are equally likely beforehand.
func judge(runs []*run, rests [][]float64, fitted int) noise {
	var n, longest float64
	for _, r := range runs {
		n += float64(len(r.n))
		longest = math.Max(longest, r.length())
	}
	z := noise{free: math.Max(n-float64(fitted), 1)}
	var logs []float64
	top := math.Inf(-1)
	for ratio := ratioLeast / (longest * longest); ratio < ratioMost; ratio *= math.Exp(ratioStep) {
		var squares, other float64
		for i, r := range runs {
			s, o := r.leftover(rests[i], ratio)
			squares, other = squares+s, other+o
		}
		square := squares / z.free
		l := -0.5 * (z.free*math.Log(square) + other)
		z.nodes, logs = append(z.nodes, node{ratio: ratio, square: square}), append(logs, l)
		if l > top {
			top, z.best = l, z.nodes[len(z.nodes)-1]
		}
	}
	return z.believe(logs, top)
}

// believe turns likelihoods into shares and takes the mean as best.
func (z noise) believe(logs []float64, top float64) noise {
	var kept []node
	sum, mean := 0.0, 0.0
	for i, k := range z.nodes {
		if k.belief = math.Exp(logs[i] - top); k.belief > noBelief {
			kept = append(kept, k)
			sum += k.belief
		}
	}
	for i := range kept {
		kept[i].belief /= sum
		mean += kept[i].belief * math.Log(kept[i].ratio)
	}
	z.nodes = kept
	near := math.Inf(1)
	for _, k := range kept {
		if d := math.Abs(math.Log(k.ratio) - mean); d < near {
			near, z.best = d, k
		}
	}
	return z
}

// leftover is the weighted sum of squares of a run's rest about a line, and
// the logarithms of the determinants. It is the whitener of whiten.go over
// three columns at once.
func (r *run) leftover(rest []float64, ratio float64) (squares, logs float64) {
	var p, m0, m1, m2 float64                // variance of the phase, states of rest, level and slope
	var s00, s01, s02, s11, s12, s22 float64 // products
	product, step, last := 1.0, 1/float64(r.last()), 0
	for i, n := range r.n {
		if i > 0 {
			p += ratio * float64(n-last)
		}
		last = n
		s := p + r.g[i]
		k := p / s
		p -= k * p
		u0, u1, u2 := rest[i]-m0, 1-m1, float64(n)*step-0.5-m2
		m0, m1, m2 = m0+k*u0, m1+k*u1, m2+k*u2
		v := 1 / s
		s00 += u0 * u0 * v
		s01 += u0 * u1 * v
		s02 += u0 * u2 * v
		s11 += u1 * u1 * v
		s12 += u1 * u2 * v
		s22 += u2 * u2 * v
		if product *= s; product > 1e100 || product < 1e-100 || i == len(r.n)-1 {
			logs += math.Log(product)
			product = 1
		}
	}
	det := s11*s22 - s12*s12
	if !(det > 0) {
		return s00, logs
	}
	b1, b2 := (s22*s01-s12*s02)/det, (s11*s02-s12*s01)/det
	return math.Max(s00-b1*s01-b2*s02, 0), logs + math.Log(det)
}

// oddOnes marks beats whose innovation is far out, by a spread that they do
// not sway.
func (r *run) oddOnes(rest []float64, ratio float64) []bool {
	x := append([]float64(nil), rest...)
	r.whitener(ratio).filter(x, 0, 0)
	out := make([]bool, len(x))
	scale := spread(x)
	for i, v := range x {
		out[i] = math.Abs(v) > oddBeat*scale && scale > 0
	}
	return out
}
