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

// fitLine fits a common slope to the pieces and reckons its limit.
func fitLine(p []piece, host Host) line {
	s, sxx := slopeOf(p)
	for range 3 {
		if !markLate(p, s) {
			break
		}
		s, sxx = slopeOf(p)
	}
	l := line{slope: s}
	x, w, r, own := l.residuals(p, sxx)
	for _, q := range p {
		for _, late := range q.late {
			if late {
				l.left++
			}
		}
	}
	l.n = len(x)
	read := k95 * math.Sqrt(12) * finest / l.length
	for _, longer := range []float64{1, 3, 10} {
		tau := longer * host.settle()
		white, wander, dof, more := noise(x, w, r, own, float64(host.Wander), tau)
		tw := student(dof)
		limit := math.Sqrt(tw*tw*white/sxx + k95*k95*wander*carry(x, w, tau) + read*read)
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

// residuals lists of each minimum its place, its weight in the slope, its
// distance from the line and the number of its piece.
func (l *line) residuals(p []piece, sxx float64) (x, w, r []float64, own []int) {
	_, mx, my := means(p)
	var ss float64
	lo, hi := math.Inf(1), math.Inf(-1)
	used(p, func(i int, b block) {
		d := b.y - my[i] - l.slope*(b.x-mx[i])
		x, w, r, own = append(x, b.x), append(w, (b.x-mx[i])/sxx), append(r, d), append(own, i)
		ss += d * d
		lo, hi = min(lo, b.x), max(hi, b.x)
	})
	l.length, l.scatter = hi-lo, math.Sqrt(ss/float64(max(len(x), 1)))
	return x, w, r, own
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
func noise(x, w, r []float64, own []int, stated, tau float64) (white, wander, dof float64, more bool) {
	n, pieces := float64(len(x)), float64(own[len(own)-1]+1)
	dof = max(n-pieces-1, 1)
	var diff, gone, pairs, ss float64
	for i := range x {
		ss += r[i] * r[i]
		if i > 0 && own[i] == own[i-1] {
			d := r[i] - r[i-1]
			diff += d * d / 2
			gone += 1 - math.Exp(-(x[i]-x[i-1])/tau)
			pairs++
		}
	}
	diff, gone = diff/max(pairs, 1), gone/max(pairs, 1)
	left := n - carry(x, w, tau)*sxxOf(w) - levels(x, own, tau) // what of a wander of variance 1 stays in the residuals
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
func levels(x []float64, own []int, tau float64) float64 {
	var sum float64
	for i := 0; i < len(x); {
		j := i
		for j < len(x) && own[j] == own[i] {
			j++
		}
		ones := make([]float64, j-i)
		for k := range ones {
			ones[k] = 1
		}
		sum += carry(x[i:j], ones, tau) / float64(j-i)
		i = j
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
