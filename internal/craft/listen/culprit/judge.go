package culprit

import "math"

// Step and ends of the search for the ratio, on a logarithmic scale.
const (
	ratioStep  = 0.75
	ratioMost  = 30
	ratioLeast = 0.1 // over the square of the beats: less wander than this cannot matter
	noBelief   = 1e-3
)

// leastRatio is the least wander that is thought of.
func leastRatio(runs []*run) float64 {
	longest := 0.0
	for _, r := range runs {
		longest = math.Max(longest, r.length())
	}
	return ratioLeast / (longest * longest)
}

// likelihood is the restricted likelihood of one ratio: the weighted sum of
// squares left, and the logarithms of the determinants.
type likelihood struct{ squares, logs float64 }

// value is its logarithm with so many degrees of freedom, the scatter being
// what fits best.
func (l likelihood) value(free float64) float64 {
	return -0.5 * (free*math.Log(math.Max(l.squares/free, 1e-30)) + l.logs)
}

// judge finds the noise behind what the model leaves, all ratios between low
// and high being equally likely beforehand. The likelihood is that of the
// rests about the trend and the waves that tell wander from scatter; in
// records that are not very long it is mended by that of the whole model at a
// few ratios, since its many parameters take some of the wander too.
func (s *search) judge(rests, slow [][]float64, low, high float64, mend bool) noise {
	n := 0.0
	for _, r := range s.runs {
		n += float64(len(r.n))
	}
	z := noise{free: math.Max(n-float64(s.fitted()), 1)}
	var logs []float64
	for ratio := low; ratio <= high; ratio *= math.Exp(ratioStep) {
		l := s.brief(rests, slow, ratio)
		z.nodes = append(z.nodes, node{ratio: ratio, square: l.squares / z.free})
		logs = append(logs, l.value(z.free))
	}
	if mend && n <= longRecord {
		s.mend(z, logs, rests, slow)
	}
	return z.believe(logs)
}

// longRecord is beats beyond which the parameters of the model are too few to
// matter in judging the wander.
const longRecord = 12000

// Ratios at which the whole model is done.
const mends = 4

// mend corrects nodes and logs by the whole model, linearly between the
// ratios at which that is done.
func (s *search) mend(z noise, logs []float64, rests, slow [][]float64) {
	top := math.Inf(-1)
	for _, l := range logs {
		top = math.Max(top, l)
	}
	from, to := math.Inf(1), math.Inf(-1)
	for i, l := range logs {
		if l > top-8 {
			x := math.Log(z.nodes[i].ratio)
			from, to = math.Min(from, x), math.Max(to, x)
		}
	}
	to += 2 * ratioStep
	var x, dl, ds [mends]float64
	for i := range mends {
		x[i] = from + (to-from)*float64(i)/(mends-1)
		brief, whole := s.brief(rests, slow, math.Exp(x[i])), s.whole(math.Exp(x[i]))
		dl[i] = whole.value(z.free) - brief.value(z.free)
		ds[i] = math.Log(whole.squares / brief.squares)
	}
	for i := range logs {
		at := (math.Log(z.nodes[i].ratio) - from) / (to - from) * (mends - 1)
		k := min(max(int(at), 0), mends-2)
		u := min(max(at-float64(k), 0), 1)
		logs[i] += dl[k] + u*(dl[k+1]-dl[k])
		z.nodes[i].square *= math.Exp(ds[k] + u*(ds[k+1]-ds[k]))
	}
}

// brief is the likelihood of the rests.
func (s *search) brief(rests, slow [][]float64, ratio float64) likelihood {
	var sum likelihood
	for i, r := range s.runs {
		flat := *r
		flat.y = rests[i]
		d := newDesign(0, slow[i])
		dim := len(d.columns)
		raw := make([]float64, dim*dim)
		w := r.whitener(ratio)
		flat.gram(d, w, 0, raw, dim)
		sum.sweep(sweeping(raw, dim), raw, w, nil)
	}
	return sum
}

// whole is the likelihood of the times beside the whole model as it is.
func (s *search) whole(ratio float64) likelihood {
	var sum likelihood
	for i, r := range s.runs {
		dim := s.rawDim[i]
		raw := make([]float64, dim*dim)
		w := r.whitener(ratio)
		r.gram(s.designs[i], w, 0, raw, dim)
		sum.sweep(sweeping(raw, dim), raw, w, s.models[i].in)
	}
	return sum
}

// sweep adds a run with all its columns, or those that are in.
func (l *likelihood) sweep(m *swept, raw []float64, w whitener, in []bool) {
	l.logs += w.logs
	for k := 1; k < m.dim; k++ {
		if in != nil && !in[k] {
			continue
		}
		if left := m.at(k, k); m.take(k, raw[k*m.dim+k]) {
			l.logs += math.Log(left)
		}
	}
	l.squares += m.rest()
}

// believe turns likelihoods into shares and takes the mean as best.
func (z noise) believe(logs []float64) noise {
	top := math.Inf(-1)
	for _, l := range logs {
		top = math.Max(top, l)
	}
	var kept []node
	var sum, ratio, square float64
	for i, k := range z.nodes {
		if k.belief = math.Exp(logs[i] - top); k.belief > noBelief {
			kept = append(kept, k)
			sum += k.belief
		}
	}
	for i := range kept {
		kept[i].belief /= sum
		ratio += kept[i].belief * math.Log(kept[i].ratio)
		square += kept[i].belief * math.Log(kept[i].square)
	}
	z.nodes, z.best = kept, node{ratio: math.Exp(ratio), square: math.Exp(square)}
	return z
}

// Below how many cycles in a run a wave takes part in judging the wander
// briefly: of parts, and of the ring, whose places take every wave of theirs.
const (
	slowCycles = 12
	ringCycles = 40
)
