package sampleclock

import (
	"math"
	"slices"
)

// line is a straight line through minima, with a constant for each piece.
type line struct {
	slope   float64
	limit   float64 // 95 %, of the slope
	n, left int
	length  float64
	scatter float64
	wander  float64
}

// middleSlope is a slope that single steps and late blocks cannot move: the
// median of the slopes between neighbours.
func middleSlope(b []block) float64 {
	if len(b) < 2 {
		return 0
	}
	s := make([]float64, len(b)-1)
	for i := range s {
		s[i] = (b[i+1].y - b[i].y) / (b[i+1].x - b[i].x)
	}
	return median(s)
}

// median reorders its argument.
func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	if n == 0 {
		return math.NaN()
	}
	return (v[n/2] + v[(n-1)/2]) / 2
}

// piece is a run of blocks without a step; late ones are marked.
type piece struct {
	blocks []block
	late   []bool
}

func minima(p []piece) int {
	n := 0
	for _, q := range p {
		n += len(q.blocks)
	}
	return n
}

// used calls f for each minimum that counts, with the number of its piece.
func used(p []piece, f func(i int, b block)) {
	for i, q := range p {
		for j, b := range q.blocks {
			if !q.late[j] {
				f(i, b)
			}
		}
	}
}

// means are the mean place and delay of each piece.
func means(p []piece) (n, x, y []float64) {
	n, x, y = make([]float64, len(p)), make([]float64, len(p)), make([]float64, len(p))
	used(p, func(i int, b block) { n[i]++; x[i] += b.x; y[i] += b.y })
	for i := range p {
		x[i] /= max(n[i], 1)
		y[i] /= max(n[i], 1)
	}
	return n, x, y
}

// slopeOf is the common slope by least squares and Σ(x−x̄)².
func slopeOf(p []piece) (s, sxx float64) {
	_, mx, my := means(p)
	var sxy float64
	used(p, func(i int, b block) {
		sxx += (b.x - mx[i]) * (b.x - mx[i])
		sxy += (b.x - mx[i]) * (b.y - my[i])
	})
	return sxy / sxx, sxx
}

// finest is the finest difference of delays that is believed, s: the
// host's reading of its clock.
const finest = 0.3e-6

// fitLine fits a common slope to the pieces and reckons its limit: least
// squares first, to find what is late and how much scatters anew in each
// minimum, then with the weights that suit that scatter and the stated wander.
func fitLine(p []piece, host Host) line {
	s, sxx := slopeOf(p)
	for range 3 {
		if !markLate(p, s) {
			break
		}
		s, sxx = slopeOf(p)
	}
	m := residuals(p, s, sxx)
	l := line{slope: s, n: len(m.x), length: m.x[len(m.x)-1] - m.x[0], left: minima(p) - len(m.x)}
	for _, d := range m.r {
		l.scatter += d * d / float64(l.n)
	}
	l.scatter = math.Sqrt(l.scatter)
	w := m.w
	if host.Wander > 0 {
		white, _, _, _ := m.noise(float64(host.Wander), host.settle())
		w = m.weights(white/float64(host.Wander*host.Wander), host.settle())
		l.slope = 0
		for i, wi := range w {
			l.slope += wi * m.y[i]
		}
	}
	var ww float64
	for _, wi := range w {
		ww += wi * wi
	}
	read := k95 * math.Sqrt(12) * finest / l.length
	for _, longer := range []float64{1, 3, 10} {
		tau := longer * host.settle()
		white, wander, dof, more := m.noise(float64(host.Wander), tau)
		tw := student(dof)
		limit := math.Sqrt(tw*tw*white*ww + k95*k95*wander*carry(m.x, w, tau) + read*read)
		if limit > l.limit {
			l.limit, l.wander = limit, math.Sqrt(wander)
		}
		if !more {
			break // the wander is as stated; else how long it lasts is not known either, and the worst counts
		}
	}
	return l
}

func (h Host) settle() float64 {
	if h.Settle > 0 {
		return float64(h.Settle)
	}
	return 1000
}

// points are the minima that count: place, delay less its piece's mean, weight
// in the slope by least squares, distance from the line, number of the piece.
type points struct {
	x, y, w, r []float64
	own        []int
}

func residuals(p []piece, slope, sxx float64) (m points) {
	_, mx, my := means(p)
	used(p, func(i int, b block) {
		d := b.x - mx[i]
		m.x, m.y = append(m.x, b.x), append(m.y, b.y-my[i])
		m.w, m.r = append(m.w, d/sxx), append(m.r, b.y-my[i]-slope*d)
		m.own = append(m.own, i)
	})
	return m
}

// end is one past the last point of the piece that begins at i.
func (m points) end(i int) int {
	j := i
	for j < len(m.own) && m.own[j] == m.own[i] {
		j++
	}
	return j
}

// weights are those of the slope by generalised least squares, each piece by
// itself, where white is the variance that is new in each point over that of
// a wander forgotten in tau.
func (m points) weights(white, tau float64) []float64 {
	w := make([]float64, len(m.x))
	var total float64
	for i := 0; i < len(m.x); i = m.end(i) {
		j := m.end(i)
		x := m.x[i:j]
		h, ones := make([]float64, j-i), make([]float64, j-i)
		for k := range h {
			h[k], ones[k] = x[k]-x[0], 1
		}
		a, b := unwander(ones, x, white, tau), unwander(h, x, white, tau)
		var aa, ab float64
		for k := range h {
			aa, ab = aa+a[k], ab+b[k]
		}
		for k := range h {
			w[i+k] = b[k] - ab/aa*a[k]
			total += w[i+k] * h[k]
		}
	}
	for i := range w {
		w[i] /= total
	}
	return w
}

// unwander solves (K + qI) z = h, K having the elements exp(−|x_i−x_j|/τ). The
// inverse T of K has three diagonals, so (I + qT) z = Th is solved instead,
// in proportion to the number of points.
func unwander(h, x []float64, q, tau float64) []float64 {
	n := len(h)
	diag, off, z := make([]float64, n), make([]float64, n), make([]float64, n) // off[i] joins i−1 and i
	diag[0] = 1
	for i := 1; i < n; i++ {
		r := math.Exp(-(x[i] - x[i-1]) / tau)
		d := max(1-r*r, 1e-12)
		diag[i-1] += r * r / d
		diag[i], off[i] = 1/d, -r/d
	}
	for i := range h {
		z[i] = diag[i] * h[i]
		if i > 0 {
			z[i] += off[i] * h[i-1]
		}
		if i+1 < n {
			z[i] += off[i+1] * h[i+1]
		}
	}
	for i := range diag {
		diag[i], off[i] = 1+q*diag[i], q*off[i]
	}
	for i := 1; i < n; i++ {
		f := off[i] / diag[i-1]
		diag[i] -= f * off[i]
		z[i] -= f * z[i-1]
	}
	for i := n - 1; i >= 0; i-- {
		if i+1 < n {
			z[i] -= off[i+1] * z[i+1]
		}
		z[i] /= diag[i]
	}
	return z
}

// markLate marks minima that lie far above the line: nothing came in time in
// all that block. It tells whether there was one.
func markLate(p []piece, s float64) bool {
	_, mx, my := means(p)
	var r, a []float64
	used(p, func(i int, b block) { r = append(r, b.y-my[i]-s*(b.x-mx[i])) })
	m := median(slices.Clone(r))
	for _, d := range r {
		a = append(a, math.Abs(d-m))
	}
	edge := m + max(8*1.4826*median(a), 0.2e-3)
	found := false
	for i := range p {
		for j, b := range p[i].blocks {
			if !p[i].late[j] && b.y-my[i]-s*(b.x-mx[i]) > edge && len(r) > fewest {
				p[i].late[j], found = true, true
			}
		}
	}
	return found
}

// carry is Σ w_i w_j exp(−|x_i−x_j|/τ): what a wander of variance 1 that
// forgets in τ adds to the variance of Σ w_i y_i.
func carry(x, w []float64, tau float64) float64 {
	var sum, back float64
	for i := range x {
		if i > 0 {
			back = (back + w[i-1]) * math.Exp(-(x[i]-x[i-1])/tau)
		}
		sum += w[i]*w[i] + 2*w[i]*back
	}
	return sum
}

// noise separates what scatters anew in each minimum from the wander of the
// host. The stated wander stands unless the residuals are clearly more than
// it explains: three times the expected sum of squares.
func (m points) noise(stated, tau float64) (white, wander, dof float64, more bool) {
	n, pieces := float64(len(m.x)), float64(m.own[len(m.own)-1]+1)
	dof = max(n-pieces-1, 1)
	var diff, gone, pairs, ss float64
	for i := range m.x {
		ss += m.r[i] * m.r[i]
		if i > 0 && m.own[i] == m.own[i-1] {
			d := m.r[i] - m.r[i-1]
			diff += d * d / 2
			gone += 1 - math.Exp(-(m.x[i]-m.x[i-1])/tau)
			pairs++
		}
	}
	diff, gone = diff/max(pairs, 1), gone/max(pairs, 1)
	left := n - carry(m.x, m.w, tau)*sxxOf(m.w) - m.levels(tau) // what of a wander of variance 1 stays in the residuals
	wander = stated * stated
	white = max(diff-wander*gone, 0)
	if ss > 3*(white*dof+wander*left) && left > dof*gone {
		more = true
		wander = max(wander, (ss-dof*diff)/(left-dof*gone))
		white = max(diff-wander*gone, 0)
	}
	// The least white noise that the differences cannot exclude.
	white = max(white, diff*0.05)
	return white, wander, dof, more
}

// sxxOf is Σ(x−x̄)² from the weights, which are (x−x̄)/Σ(x−x̄)².
func sxxOf(w []float64) float64 {
	var s float64
	for _, v := range w {
		s += v * v
	}
	return 1 / s
}

// levels is what the constants of the pieces take of a wander of variance 1.
func (m points) levels(tau float64) float64 {
	var sum float64
	for i := 0; i < len(m.x); i = m.end(i) {
		j := m.end(i)
		ones := make([]float64, j-i)
		for k := range ones {
			ones[k] = 1
		}
		sum += carry(m.x[i:j], ones, tau) / float64(j-i)
	}
	return sum
}

// student is the 97.5 % point of Student's t, within 1 % from 3 degrees up
// (Cornish-Fisher expansion, from memory).
func student(dof float64) float64 {
	z := k95
	z3, z5 := z*z*z, z*z*z*z*z
	return z + (z3+z)/(4*dof) + (5*z5+16*z3+3*z)/(96*dof*dof) + (3*z5*z*z+19*z5+17*z3-15*z)/(384*dof*dof*dof)
}

// hullSlope is the slope of the line below all minima of the longest piece
// that lies nearest to them: the edge of their lower hull over their middle.
func hullSlope(p []piece) float64 {
	var best piece
	for _, q := range p {
		if len(q.blocks) > len(best.blocks) {
			best = q
		}
	}
	if len(best.blocks) < 2 {
		return math.NaN()
	}
	var hull []block
	var middle float64
	for _, b := range best.blocks {
		middle += b.x / float64(len(best.blocks))
		for len(hull) >= 2 {
			a, c := hull[len(hull)-2], hull[len(hull)-1]
			if (c.y-a.y)*(b.x-a.x) < (b.y-a.y)*(c.x-a.x) {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, b)
	}
	for i := 1; i < len(hull); i++ {
		if hull[i].x >= middle {
			return (hull[i].y - hull[i-1].y) / (hull[i].x - hull[i-1].x)
		}
	}
	return math.NaN()
}
