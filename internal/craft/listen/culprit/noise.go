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

// judge finds the noise behind what a fit of so many parameters left of the
// runs. The restricted likelihood of each ratio is taken with the trend and
// the slow waves of the fit fitted anew, since they take what tells wander
// from scatter; all ratios between low and high are equally likely
// beforehand.
func judge(runs []*run, rests [][]float64, slow [][]float64, fitted int, low, high float64) noise {
	n := 0.0
	for _, r := range runs {
		n += float64(len(r.n))
	}
	z := noise{free: math.Max(n-float64(fitted), 1)}
	var logs []float64
	top := math.Inf(-1)
	for ratio := low; ratio <= high; ratio *= math.Exp(ratioStep) {
		var squares, other float64
		for i, r := range runs {
			s, o := r.leftover(rests[i], slow[i], ratio)
			squares, other = squares+s, other+o
		}
		square := math.Max(squares/z.free, 1e-30)
		l := -0.5 * (z.free*math.Log(square) + other)
		z.nodes, logs = append(z.nodes, node{ratio: ratio, square: square}), append(logs, l)
		if l > top {
			top, z.best = l, z.nodes[len(z.nodes)-1]
		}
	}
	return z.believe(logs, top)
}

// leastRatio is the least wander that is thought of.
func leastRatio(runs []*run) float64 {
	longest := 0.0
	for _, r := range runs {
		longest = math.Max(longest, r.length())
	}
	return ratioLeast / (longest * longest)
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

// Below how many cycles in a run a wave takes part in judging the wander: of
// parts, and of the ring, whose places take every wave of theirs.
const (
	slowCycles = 12
	ringCycles = 40
)

// leftover is the weighted sum of squares of a run's rest about the trend and
// slow waves, and the logarithms of the determinants.
func (r *run) leftover(rest, slow []float64, ratio float64) (squares, logs float64) {
	flat := *r
	flat.y = rest
	d := newDesign(0, slow)
	dim := len(d.columns)
	raw := make([]float64, dim*dim)
	w := r.whitener(ratio)
	flat.gram(d, w, 0, raw, dim)
	m := sweeping(raw, dim)
	logs = w.logs
	for k := 1; k < dim; k++ {
		if left := m.at(k, k); m.take(k, raw[k*dim+k]) {
			logs += math.Log(left)
		}
	}
	return m.rest(), logs
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
