package trend

import (
	"fmt"
	"math"

	"seatboard/internal/kit/num"
)

// solve finds the coefficients from the whitened rows and what was held
// beforehand.
func (r *Run) solve() error {
	m, w := r.s.Columns, r.wide
	s := make([]float64, m*m) // information
	b := make([]float64, m)
	rss := r.cross[0]
	logPrior := 0.0
	for j := range m {
		b[j] = r.cross[(j+1)*w]
		for k := range j + 1 {
			s[j*m+k] = r.cross[(j+1)*w+k+1]
		}
		if u := r.s.Prior[j].U; u > 0 {
			g := 1 / (u * u)
			s[j*m+j] += g
			b[j] += g * r.s.Prior[j].Value
			rss += g * r.s.Prior[j].Value * r.s.Prior[j].Value
			logPrior -= math.Log(g)
		}
	}
	logDet, ok := cholesky(s, m)
	if !ok {
		return ErrUnknown
	}
	inv := invert(s, m)
	r.B, r.Cov = make([]float64, m), inv
	for j := range m {
		for k := range m {
			r.B[j] += inv[j*m+k] * b[k]
		}
	}
	for j := range m {
		rss -= r.B[j] * b[j]
	}
	r.RSS = max(rss, 0)
	n := float64(r.seen - r.flat())
	r.LogLik = -(n*math.Log(2*math.Pi) + r.logF + logDet + logPrior + r.RSS) / 2
	return nil
}

// Refine finds the coefficients of a pass that keeps once more from the
// whitened rows themselves, without squaring them: sizes of noise are searched
// with sums of products, what is told in the end does not lose their digits.
func (r *Run) Refine() error {
	if r.s.Columns == 0 {
		return nil
	}
	m, w := r.s.Columns, r.wide
	t := num.NewTriangle(m)
	row := make([]float64, m)
	for i := range r.keep {
		if r.keep[i].g == 0 {
			continue
		}
		root := math.Sqrt(r.keep[i].g)
		v := r.vs[i*w : (i+1)*w]
		for j := range row {
			row[j] = v[j+1] * root
		}
		t.Add(row, v[0]*root)
	}
	for j, p := range r.s.Prior {
		if p.U > 0 {
			clear(row)
			row[j] = 1 / p.U
			t.Add(row, p.Value/p.U)
		}
	}
	b, inv, rss, err := t.Solve()
	if err != nil {
		return fmt.Errorf("%w: %w", ErrUnknown, err)
	}
	r.B, r.RSS = b, rss
	for j := range m {
		copy(r.Cov[j*m:], inv[j])
	}
	return nil
}

// flat is how many coefficients nothing is held of.
func (r *Run) flat() int {
	n := 0
	for _, p := range r.s.Prior {
		if p.U == 0 {
			n++
		}
	}
	return n
}

// cholesky takes the lower half of a symmetric matrix to its root, in place,
// and gives the logarithm of its determinant. Rows are scaled by their
// diagonal for the judgement of what is nought.
func cholesky(s []float64, m int) (logDet float64, ok bool) {
	const least = 1e-13
	for j := range m {
		d := s[j*m+j]
		whole := d
		for k := range j {
			d -= s[j*m+k] * s[j*m+k]
		}
		if !(d > least*whole) {
			return 0, false
		}
		root := math.Sqrt(d)
		logDet += 2 * math.Log(root)
		s[j*m+j] = root
		for i := j + 1; i < m; i++ {
			x := s[i*m+j]
			for k := range j {
				x -= s[i*m+k] * s[j*m+k]
			}
			s[i*m+j] = x / root
		}
	}
	return logDet, true
}

// invert gives the inverse of the matrix whose root is given.
func invert(root []float64, m int) []float64 {
	l := make([]float64, m*m) // inverse of the root
	for j := range m {
		l[j*m+j] = 1 / root[j*m+j]
		for i := j + 1; i < m; i++ {
			x := 0.0
			for k := j; k < i; k++ {
				x -= root[i*m+k] * l[k*m+j]
			}
			l[i*m+j] = x / root[i*m+i]
		}
	}
	out := make([]float64, m*m)
	for i := range m {
		for j := range i + 1 {
			x := 0.0
			for k := i; k < m; k++ {
				x += l[k*m+i] * l[k*m+j]
			}
			out[i*m+j], out[j*m+i] = x, x
		}
	}
	return out
}
