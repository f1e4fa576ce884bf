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
