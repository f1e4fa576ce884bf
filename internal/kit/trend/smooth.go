package trend

import "math"

// State is level and slope, of what the noises have done alone or with what
// the columns push, and their covariance.
type State struct {
	Level, Slope                 float64
	VarLevel, VarSlope, VarCross float64
}

// Look is what all rows together say of one.
type Look struct {
	State            // with the columns' share in the level; of the slope only the noise's (see [Run.At])
	Against  float64 // what was observed less what all others say
	AgainstU float64 // its standard deviation; 0 where nothing was observed
	// The size of a shock of level and of slope just before this row in its
	// standard deviations, if there was one, and that deviation; 0 where it
	// cannot be told.
	ShockLevel, ShockLevelU float64
	ShockSlope, ShockSlopeU float64
	weights                 []float64 // of the coefficients in level and slope
	score                   []float64 // of level, slope and mark, for y and each column
	info, infoLevel         float64   // of slope and level
}

// End is level and slope after the last row, without the columns' share: they
// are those of y, less for each column its coefficient times DLevel and
// DSlope.
type End struct {
	State
	DLevel, DSlope []float64
}

// End gives the end by the filter. With what the columns push there, the
// level is Level + Σ B·(push − DLevel), its variance VarLevel + w' Cov w with
// w = push − DLevel, and likewise the slope.
func (r *Run) End() End {
	e := End{State: State{Level: r.a[0], Slope: r.a[1], VarLevel: r.p.ll, VarSlope: r.p.ss, VarCross: r.p.ls}}
	for j := 1; j < r.wide; j++ {
		e.DLevel = append(e.DLevel, r.a[3*j])
		e.DSlope = append(e.DSlope, r.a[3*j+1])
	}
	return e
}

// back is the sums that go backwards: for y and each column the score of
// level, slope and mark, and their information.
type back struct {
	r []float64 // 3 for each of wide
	n cov
}

// Smooth goes backwards over the rows that a filter with keep has passed. look is
// called for each row, the last first; what it is given holds until the next
// call.
func (r *Run) Smooth(look func(row int, l *Look)) {
	w := r.wide
	b := back{r: make([]float64, 3*w)}
	l := Look{weights: make([]float64, 2*w)}
	u := make([]float64, w)
	for i := len(r.keep) - 1; i >= 0; i-- {
		st := &r.keep[i]
		if r.s.Rows[i].Mark {
			b.unmark()
		}
		l.Against, l.AgainstU = 0, 0
		if st.g > 0 {
			r.against(i, st, &b, u, &l)
			b.unobserve(st, r.vs[i*w:(i+1)*w])
		}
		r.state(i, st, &b, &l)
		r.shocks(&b, &l)
		l.score, l.info, l.infoLevel = b.r, b.n.ss, b.n.ll
		look(i, &l)
		b.unpredict(st.dt)
	}
}

// unmark takes a mark back: level and mark were one.
func (b *back) unmark() {
	for j := 0; j < len(b.r); j += 3 {
		b.r[j] += b.r[j+2]
		b.r[j+2] = 0
	}
	n := &b.n
	n.ll += 2*n.lm + n.mm
	n.ls += n.sm
	n.lm, n.sm, n.mm = 0, 0, 0
}

// unpredict takes a step of time back.
func (b *back) unpredict(dt float64) {
	for j := 0; j < len(b.r); j += 3 {
		b.r[j+1] += dt * b.r[j]
	}
	n := &b.n
	n.ss += dt * (2*n.ls + dt*n.ll)
	n.ls += dt * n.ll
	n.sm += dt * n.lm
}

// unobserve takes an observation back: L = I − K h.
func (b *back) unobserve(st *step, v []float64) {
	for j := range v {
		x := b.r[3*j : 3*j+3 : 3*j+3]
		d := v[j]*st.g - st.kl*x[0] - st.ks*x[1] - st.km*x[2]
		x[0] += st.hl * d
		x[2] += st.hm * d
	}
	n := &b.n
	// N K, then h h'/F + L' N L.
	nl := n.ll*st.kl + n.ls*st.ks + n.lm*st.km
	ns := n.ls*st.kl + n.ss*st.ks + n.sm*st.km
	nm := n.lm*st.kl + n.sm*st.ks + n.mm*st.km
	q := st.g + st.kl*nl + st.ks*ns + st.km*nm
	n.ll += st.hl*st.hl*q - 2*st.hl*nl
	n.ls -= st.hl * ns
	n.lm += st.hl*st.hm*q - st.hl*nm - st.hm*nl
	n.sm -= st.hm * ns
	n.mm += st.hm*st.hm*q - 2*st.hm*nm
}

// against is an observation less what all others say of it.
func (r *Run) against(i int, st *step, b *back, u []float64, l *Look) {
	v := r.vs[i*r.wide : (i+1)*r.wide]
	n := &b.n
	d := st.g + st.kl*(n.ll*st.kl+2*n.ls*st.ks+2*n.lm*st.km) + st.ks*(n.ss*st.ks+2*n.sm*st.km) + n.mm*st.km*st.km
	for j := range u {
		x := b.r[3*j : 3*j+3]
		u[j] = v[j]*st.g - st.kl*x[0] - st.ks*x[1] - st.km*x[2]
	}
	score, info := r.reduced(u[0], d, u[1:])
	if info > 1e-12*d {
		l.Against, l.AgainstU = score/info, 1/math.Sqrt(info)
	}
}

// reduced takes what the coefficients can take of a score and its information:
// the columns' scores are those in columns.
func (r *Run) reduced(score, info float64, columns []float64) (float64, float64) {
	m := r.s.Columns
	for j, x := range columns {
		score -= r.B[j] * x
		if x == 0 {
			continue
		}
		row := r.Cov[j*m : j*m+m]
		for k, y := range columns {
			info -= x * y * row[k]
		}
	}
	return score, info
}

// shocks tests for a shock of level and of slope just before a row.
func (r *Run) shocks(b *back, l *Look) {
	w := l.weights[:r.wide-1]
	test := func(at int, n float64) (size, u float64) {
		for j := range w {
			w[j] = b.r[3*(j+1)+at]
		}
		score, info := r.reduced(b.r[at], n, w)
		if !(info > 1e-9*n) {
			return 0, 0
		}
		return score / math.Sqrt(info), 1 / math.Sqrt(info)
	}
	l.ShockLevel, l.ShockLevelU = test(0, b.n.ll)
	l.ShockSlope, l.ShockSlopeU = test(1, b.n.ss)
}

// state is the smoothed state before the observation of a row.
func (r *Run) state(i int, st *step, b *back, l *Look) {
	w, m, p, n := r.wide, r.s.Columns, &st.p, &b.n
	a := r.as[i*3*w : (i+1)*3*w]
	push := r.s.Push[i*2*m : (i+1)*2*m]
	at := func(j int) (level, slope float64) {
		x := b.r[3*j : 3*j+3]
		return a[3*j] + p.ll*x[0] + p.ls*x[1] + p.lm*x[2], a[3*j+1] + p.ls*x[0] + p.ss*x[1] + p.sm*x[2]
	}
	l.Level, l.Slope = at(0)
	wl, ws := l.weights[:m], l.weights[m:2*m]
	for j := range m {
		dl, ds := at(j + 1)
		wl[j], ws[j] = push[j]-dl, push[m+j]-ds
		l.Level += r.B[j] * wl[j]
		l.Slope += r.B[j] * ws[j]
	}
	// P − P N P
	nl := [3]float64{n.ll*p.ll + n.ls*p.ls + n.lm*p.lm, n.ls*p.ll + n.ss*p.ls + n.sm*p.lm, n.lm*p.ll + n.sm*p.ls + n.mm*p.lm}
	ns := [3]float64{n.ll*p.ls + n.ls*p.ss + n.lm*p.sm, n.ls*p.ls + n.ss*p.ss + n.sm*p.sm, n.lm*p.ls + n.sm*p.ss + n.mm*p.sm}
	l.VarLevel = p.ll - p.ll*nl[0] - p.ls*nl[1] - p.lm*nl[2] + r.quad(wl, wl)
	l.VarSlope = p.ss - p.ls*ns[0] - p.ss*ns[1] - p.sm*ns[2] + r.quad(ws, ws)
	l.VarCross = p.ls - p.ll*ns[0] - p.ls*ns[1] - p.lm*ns[2] + r.quad(wl, ws)
}

// quad is x' Cov y.
func (r *Run) quad(x, y []float64) float64 {
	m, s := r.s.Columns, 0.0
	for j := range x {
		for k := range y {
			s += x[j] * y[k] * r.Cov[j*m+k]
		}
	}
	return s
}

// Shaken is what a shake of the slope at the row of a look did, with what the
// columns push there added (push is each column's step of the slope), and its
// variance. It is for the look that [Run.Smooth] has just given.
func (r *Run) Shaken(l *Look, shake float64, push []float64) (size, variance float64) {
	return r.shaken(l, 1, l.info, shake, push)
}

// Jumped is what a shake of the level at the row of a look did, and its
// variance, likewise.
func (r *Run) Jumped(l *Look, shake float64) (size, variance float64) {
	return r.shaken(l, 0, l.infoLevel, shake, make([]float64, r.s.Columns))
}

func (r *Run) shaken(l *Look, at int, info, shake float64, push []float64) (size, variance float64) {
	c := make([]float64, len(push))
	size = shake * l.score[at]
	for j := range c {
		c[j] = push[j] - shake*l.score[3*(j+1)+at]
		size += r.B[j] * c[j]
	}
	return size, math.Max(r.quad(c, c)+shake-shake*shake*info, 0)
}
