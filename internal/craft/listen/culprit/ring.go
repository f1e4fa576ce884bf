package culprit

import (
	"math"
	"slices"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// ring is what the longest run says of the 2Z places in a turn of the escape
// wheel, everything else taken off: information and score of the mean
// lateness of each place, over the variance of the noise.
type ring struct {
	s       *search
	places  int
	info    []float64 // places by places
	score   []float64
	total   float64 // evidence that the places differ at all
	ratios  []float64
	smooth  []*candidate // one for each number of cycles
	spans   []int
	span    int
	singles bool // each tooth judged at one pallet
}

// newRing takes the places out of the model of the longest run.
func (s *search) newRing() *ring {
	r := s.runs[0]
	if r.ring == 0 {
		return nil
	}
	m := &swept{dim: s.models[0].dim, a: slices.Clone(s.models[0].a), in: slices.Clone(s.models[0].in)}
	with := m.rest()
	at := make([]int, r.ring)
	for k, c := range s.designs[0].columns {
		if c.kind == placeColumn {
			at[c.place] = k
			m.drop(k)
		}
	}
	g := &ring{s: s, places: r.ring, total: math.Max(m.rest()-with, 0) / s.square}
	for _, i := range at {
		g.score = append(g.score, m.at(i, 0)/s.square)
		for _, j := range at {
			g.info = append(g.info, m.at(i, j)/s.square)
		}
	}
	g.ratios = make([]float64, len(s.noise.nodes))
	for k := 1; k < g.places/2; k++ {
		for i, v := range s.noise.ratios(float64(k) / float64(g.places)) {
			g.ratios[i] += v / float64(g.places/2-1)
		}
	}
	g.gather()
	return g
}

// gather lists the waves that go round with the wheel and the spans to try.
func (g *ring) gather() {
	for _, c := range g.s.suspect {
		if !c.inRing {
			continue
		}
		c.dof = 2
		if c.whole {
			c.dof = 4
		}
		if !slices.ContainsFunc(g.smooth, func(d *candidate) bool { return d.cycles == c.cycles }) {
			g.smooth = append(g.smooth, c)
		}
	}
	if g.s.q.Span > 0 {
		g.spans = []int{g.s.q.Span % g.places}
		return
	}
	for s := 1; s < g.places; s += 2 {
		g.spans = append(g.spans, s)
	}
}

// chance1 is that of an evidence for one tooth, not among others.
func (g *ring) chance1(x float64) float64 {
	sum := 0.0
	for i, k := range g.s.noise.nodes {
		sum += k.belief * tail1(g.s.noise.free, x/g.ratios[i])
	}
	return sum
}

// wheel is a model of the ring: level, side, the smooth waves and some teeth.
type wheel struct {
	*swept
	raw    []float64 // squares of the columns
	wave   []int     // first column of each smooth wave
	teeth  []int     // column of each tooth
	places [][]int   // of each tooth
}

// wheel with teeth at some places each.
func (g *ring) wheel(places [][]int) *wheel {
	level, side := make([]float64, g.places), make([]float64, g.places)
	for i := range level {
		level[i], side[i] = 1, float64(1-2*(i&1))
	}
	columns := [][]float64{level, side}
	w := &wheel{places: places}
	for _, c := range g.smooth {
		w.wave = append(w.wave, len(columns)+1)
		columns = append(columns, g.waves(c)...)
	}
	for _, p := range places {
		x := make([]float64, g.places)
		for _, i := range p {
			x[i] = 1
		}
		w.teeth = append(w.teeth, len(columns)+1)
		columns = append(columns, x)
	}
	w.swept = g.products(columns)
	for i := range w.dim {
		w.raw = append(w.raw, w.at(i, i))
	}
	w.take(1)
	w.take(2)
	return w
}

// waves are the columns of a smooth wave: of the wheel itself one for each
// pallet, since they see it from two sides.
func (g *ring) waves(c *candidate) [][]float64 {
	n := 2
	if c.whole {
		n = 4
	}
	out := make([][]float64, n)
	for j := range out {
		out[j] = make([]float64, g.places)
	}
	for i := range g.places {
		sin, cos := math.Sincos(2 * math.Pi * float64(c.cycles*i%g.places) / float64(g.places))
		j := 0
		if c.whole {
			j = 2 * (i & 1)
		}
		out[j][i], out[j+1][i] = cos, sin
	}
	return out
}

// products is the matrix of columns by the information, the data first.
func (g *ring) products(columns [][]float64) *swept {
	n, dim := g.places, len(columns)+1
	s := &swept{dim: dim, a: make([]float64, dim*dim), in: make([]bool, dim)}
	s.a[0] = g.total
	filled := make([][]int, len(columns)) // places that are not nought
	for i, x := range columns {
		for a, v := range x {
			if v != 0 {
				filled[i] = append(filled[i], a)
			}
		}
	}
	y := make([]float64, n)
	for i, x := range columns {
		clear(y)
		for _, a := range filled[i] {
			for b, v := range g.info[a*n : (a+1)*n] {
				y[b] += x[a] * v
			}
			s.a[i+1] += x[a] * g.score[a]
		}
		s.a[(i+1)*dim] = s.a[i+1]
		for j := range i + 1 {
			sum := 0.0
			for _, b := range filled[j] {
				sum += columns[j][b] * y[b]
			}
			s.a[(i+1)*dim+j+1], s.a[(j+1)*dim+i+1] = sum, sum
		}
	}
	return s
}

// take sweeps a column in.
func (w *wheel) take(k int) bool { return w.swept.take(k, w.raw[k]) }

// waveColumns is how many columns smooth wave i has.
func (g *ring) waveColumns(i int) int {
	if g.smooth[i].whole {
		return 4
	}
	return 2
}

// evidence for one column, in or out.
func (w *wheel) evidence(k int) float64 {
	d := w.at(k, k)
	if w.in[k] {
		return w.at(k, 0) * w.at(k, 0) / -d
	}
	if !(d > leastLeft*w.raw[k]) {
		return 0
	}
	return w.at(k, 0) * w.at(k, 0) / d
}

// weighWave is the evidence for a smooth wave, in or out, and the information
// about its amplitude.
func (g *ring) weighWave(w *wheel, i int) (evidence, information float64) {
	k, n := w.wave[i], g.waveColumns(i)
	in := w.in[k]
	for j := k; j < k+n; j += 2 {
		if v, ok := w.wave2(j); ok {
			information += v.information()
		}
	}
	before := w.rest()
	for j := k; j < k+n; j++ {
		if in {
			w.drop(j)
		} else {
			w.take(j)
		}
	}
	evidence = math.Abs(before - w.rest())
	for j := k; j < k+n; j++ {
		if in {
			w.take(j)
		} else {
			w.drop(j)
		}
	}
	return evidence, information
}

func (w *wheel) wave2(k int) (wave, bool) { return w.swept.wave(k, w.raw[k], w.raw[k+1]) }

// late is the lateness of each tooth against the smooth ring of those that
// are not out.
func (g *ring) late(places [][]int, out map[int]bool) []meas.Interval[unit.Duration] {
	w := g.wheel(places)
	w.drop(1)
	if g.singles {
		w.drop(2)
	}
	z := len(places)
	for _, k := range w.teeth {
		w.take(k)
	}
	fit := g.smoother(places, out)
	k95, mean := student95(g.s.noise.free), 0.0
	for i, n := range g.s.noise.nodes {
		mean += n.belief * g.ratios[i]
	}
	res := make([]meas.Interval[unit.Duration], z)
	for i := range res {
		var v, u float64
		for a := range z {
			v += fit[i*z+a] * w.at(w.teeth[a], 0)
			for b := range z {
				u -= fit[i*z+a] * fit[i*z+b] * w.at(w.teeth[a], w.teeth[b])
			}
		}
		res[i] = meas.Around(unit.Duration(v), unit.Duration(math.Sqrt(math.Max(u*mean, 0))), k95)
	}
	return res
}

// smoothRows are, for each tooth, what level, side and the waves that were
// found have at its places, in the mean of them.
func (g *ring) smoothRows(places [][]int) [][]float64 {
	var waves [][]float64
	for _, c := range g.smooth {
		if c.in {
			waves = append(waves, g.waves(c)...)
		}
	}
	rows := make([][]float64, len(places))
	for i, p := range places {
		x := make([]float64, 3+len(waves)) // the first stands for the data
		for _, k := range p {
			x[1] += 1 / float64(len(p))
			x[2] += float64(1-2*(k&1)) / float64(len(p))
			for j, v := range waves {
				x[3+j] += v[k] / float64(len(p))
			}
		}
		rows[i] = x
	}
	return rows
}

// smoother is the matrix that takes off the smooth ring as the teeth that are
// not out have it.
func (g *ring) smoother(places [][]int, out map[int]bool) []float64 {
	rows, z := g.smoothRows(places), len(places)
	dim := len(rows[0])
	s := &swept{dim: dim, a: make([]float64, dim*dim), in: make([]bool, dim)}
	for i, x := range rows {
		for a := 0; a < dim && !out[i]; a++ {
			for b := range dim {
				s.a[a*dim+b] += x[a] * x[b]
			}
		}
	}
	raw := make([]float64, dim)
	for k := range raw {
		raw[k] = s.at(k, k)
	}
	for k := 1; k < dim; k++ {
		s.take(k, raw[k])
	}
	m := make([]float64, z*z)
	for i, x := range rows {
		m[i*z+i] = 1
		for j, y := range rows {
			for a := 1; a < dim && !out[j]; a++ {
				for b := 1; b < dim; b++ {
					if s.in[a] && s.in[b] {
						m[i*z+j] += x[a] * s.at(a, b) * y[b] // the block that is in is negative
					}
				}
			}
		}
	}
	return m
}
