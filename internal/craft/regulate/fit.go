package regulate

import (
	"context"
	"math"
	"sync"

	"seatboard/internal/kit/trend"
)

// variances of the filter for sizes of noise.
func (n noise) variances() trend.Noise {
	return trend.Noise{Scale: math.Exp(2 * n[0]), Level: math.Exp(2 * n[1]), Slope: math.Exp(2 * n[2])}
}

// known is what one size of noise makes of the trial: the coefficients and
// where the clock is now.
type known struct {
	noise  noise
	log    float64 // likelihood times what was held beforehand, logarithm
	weight float64
	b, cov []float64
	end    trend.End
}

// fitted is a trial with the sizes of noise that may be, by their chances.
type fitted struct {
	line *timeline
	all  []known
	best noise
	span [3]float64 // standard deviations of the logarithms
}

// try runs the filter for one size of noise.
func (l *timeline) try(run *trend.Run, n noise) (known, error) {
	if err := run.Filter(&l.series, n.variances(), false); err != nil {
		return known{log: math.Inf(-1)}, err
	}
	return known{noise: n, log: run.LogLik + n.logPrior(), b: run.B, cov: run.Cov, end: run.End()}, nil
}

// tryAll runs the filter for several sizes of noise, two at a time.
func (l *timeline) tryAll(at []noise) []known {
	out := make([]known, len(at))
	var wait sync.WaitGroup
	for half := range min(2, len(at)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			var run trend.Run
			for i := half; i < len(at); i += 2 {
				out[i], _ = l.try(&run, at[i]) // where it cannot be solved its chance is nought
			}
		}()
	}
	wait.Wait()
	return out
}

// stencil is the points about n by which slope and bend are told.
func stencil(n noise, h float64) []noise {
	at := []noise{n}
	for i := range n {
		for _, s := range []float64{-h, h} {
			p := n
			p[i] += s
			at = append(at, p)
		}
	}
	for i := range n {
		for j := range i {
			p := n
			p[i] += h
			p[j] += h
			at = append(at, p)
		}
	}
	return at
}

// bend is the gradient and the matrix of second derivatives at the middle of
// a stencil.
func bend(f []known, h float64) (g [3]float64, m [3][3]float64) {
	at := func(i int) float64 { return f[i].log }
	for i := range g {
		low, high := at(1+2*i), at(2+2*i)
		g[i] = (high - low) / (2 * h)
		m[i][i] = (high + low - 2*at(0)) / (h * h)
	}
	k := 7
	for i := range g {
		for j := range i {
			cross := (at(k) - at(2+2*i) - at(2+2*j) + at(0)) / (h * h)
			m[i][j], m[j][i] = cross, cross
			k++
		}
	}
	return g, m
}

const reach = 0.15 // of the stencil, in logarithms

// climb finds the likeliest sizes of noise from a start, and the root of
// their covariance.
func (l *timeline) climb(ctx context.Context, from noise) (noise, [3][3]float64, float64) {
	best, log := from, math.Inf(-1)
	var root [3][3]float64
	for range 12 {
		f := l.tryAll(stencil(best, reach))
		log = f[0].log
		g, m := bend(f, reach)
		root = rootOf(m)
		step := ascend(root, g)
		size := math.Sqrt(step[0]*step[0] + step[1]*step[1] + step[2]*step[2])
		if size < 0.05 || ctx.Err() != nil || math.IsInf(log, -1) {
			break
		}
		moved := false
		for _, share := range []float64{math.Min(1, 1.5/size), 0.4 * math.Min(1, 1.5/size), 0.1 * math.Min(1, 1.5/size)} {
			p := best
			for i := range p {
				p[i] += share * step[i]
			}
			if x := l.tryAll([]noise{p})[0]; x.log > log {
				best, log, moved = p, x.log, true
				break
			}
		}
		if !moved {
			break
		}
	}
	return best, root, log
}

// rootOf is the lower root of the covariance that a matrix of second
// derivatives of a logarithm stands for: −m⁻¹ = r r'. Where the logarithm does
// not bend down, what was held beforehand stands.
func rootOf(m [3][3]float64) (r [3][3]float64) {
	s := spread()
	info := make([]float64, 9)
	for grow := 0.0; ; grow += 0.25 {
		for i := range m {
			for j := range m {
				info[3*i+j] = -m[i][j]
			}
			least := 1 / (s[i] * s[i]) / 4
			info[3*i+i] = math.Max(info[3*i+i], least) * (1 + grow)
		}
		if inv, ok := inverse(info); ok {
			if r, ok := lower(inv); ok {
				return r
			}
		}
		if grow > 20 || math.IsNaN(m[0][0]+m[1][1]+m[2][2]) {
			for i := range r {
				r[i][i] = s[i]
			}
			return r
		}
	}
}

func inverse(a []float64) ([]float64, bool) {
	c := [9]float64{
		a[4]*a[8] - a[5]*a[7], a[2]*a[7] - a[1]*a[8], a[1]*a[5] - a[2]*a[4],
		a[5]*a[6] - a[3]*a[8], a[0]*a[8] - a[2]*a[6], a[2]*a[3] - a[0]*a[5],
		a[3]*a[7] - a[4]*a[6], a[1]*a[6] - a[0]*a[7], a[0]*a[4] - a[1]*a[3],
	}
	d := a[0]*c[0] + a[1]*c[3] + a[2]*c[6]
	if !(math.Abs(d) > 0) {
		return nil, false
	}
	for i := range c {
		c[i] /= d
	}
	return c[:], true
}

func lower(a []float64) (r [3][3]float64, ok bool) {
	for j := range r {
		for i := j; i < 3; i++ {
			x := a[3*i+j]
			for k := range j {
				x -= r[i][k] * r[j][k]
			}
			if i == j {
				if !(x > 0) {
					return r, false
				}
				r[j][j] = math.Sqrt(x)
				continue
			}
			r[i][j] = x / r[j][j]
		}
	}
	return r, true
}

// ascend is the step r r' g.
func ascend(r [3][3]float64, g [3]float64) (s [3]float64) {
	var t [3]float64
	for j := range r {
		for i := j; i < 3; i++ {
			t[j] += r[i][j] * g[i]
		}
	}
	for i := range r {
		for j := range i + 1 {
			s[i] += r[i][j] * t[j]
		}
	}
	return s
}

// few is the number of rows up to which the sizes of noise are averaged over
// a fine grid. More rows tell them so well that a star will do.
const few = 700

// node is a place in standard deviations along each axis with its share under
// the normal law.
type node struct {
	z [3]float64
	w float64
}

// nodes are those of Gauss and Hermite with five along each axis, or the
// star of the sigma points at two standard deviations.
func nodes(rows int) []node {
	var out []node
	if rows > few {
		out = append(out, node{w: 0.25})
		for i := range 3 {
			for _, s := range []float64{-2, 2} {
				n := node{w: 0.125}
				n.z[i] = s
				out = append(out, n)
			}
		}
		return out
	}
	z := []float64{-2.8569700138728056, -1.3556261799742659, 0, 1.3556261799742659, 2.8569700138728056}
	w := []float64{0.011257411327720689, 0.2220759220056126, 8. / 15, 0.2220759220056126, 0.011257411327720689}
	for i := range z {
		for j := range z {
			for k := range z {
				out = append(out, node{[3]float64{z[i], z[j], z[k]}, w[i] * w[j] * w[k]})
			}
		}
	}
	return out
}

// average weighs the sizes of noise about the likeliest.
func (l *timeline) average(best noise, root [3][3]float64) *fitted {
	f := &fitted{line: l, best: best}
	var at []noise
	var base []float64
	for _, n := range nodes(len(l.rows)) {
		p, zz := best, 0.0
		for a := range p {
			zz += n.z[a] * n.z[a]
			for b := range a + 1 {
				p[a] += root[a][b] * n.z[b]
			}
		}
		at = append(at, p)
		base = append(base, math.Log(n.w)+zz/2)
	}
	f.all = l.tryAll(at)
	top := math.Inf(-1)
	for i := range f.all {
		f.all[i].weight = base[i] + f.all[i].log
		top = math.Max(top, f.all[i].weight)
	}
	sum := 0.0
	for i := range f.all {
		f.all[i].weight = math.Exp(f.all[i].weight - top)
		sum += f.all[i].weight
	}
	kept := f.all[:0]
	for _, k := range f.all {
		if k.weight /= sum; k.weight > 1e-6 {
			kept = append(kept, k)
		}
	}
	f.all = kept
	f.spread()
	return f
}

// spread is how well the sizes of noise are known.
func (f *fitted) spread() {
	for i := range f.span {
		m, v := 0.0, 0.0
		for _, k := range f.all {
			m += k.weight * k.noise[i]
		}
		for _, k := range f.all {
			v += k.weight * square(k.noise[i]-m)
		}
		f.span[i] = math.Sqrt(v)
	}
}
