package tap

import (
	"math"
	"slices"
)

// fit is a least-squares fit of mark less tap: a constant at the mean instant,
// a slope where taps span enough, and one half-beat against the other.
type fit struct {
	at         float64 // mean instant
	b          []float64
	norm       []float64 // of each column, square to the others
	s          float64   // standard deviation of one tap
	freedom    int
	rate, half int // which of b; 0 for none
	resid      []float64
	lever      []float64 // how far each pulls the fit to itself, 0 to 1
}

// row is a tap as the fit sees it.
type row struct {
	t, y, sign float64
}

// row is a tap: mark less instant, and which half-beat its mark is.
func (w *work) row(i int) row {
	t := w.a.Taps[i]
	sign := 1.0
	if w.beats()*t.Mark%2 != 0 {
		sign = -1
	}
	return row{float64(t.At), float64(t.Mark)*float64(w.q.Every) - float64(t.At), sign}
}

// beats is how many beats there are from mark to mark; 0 where not known, or
// where the marks do not fall on beats.
func (w *work) beats() int {
	if w.q.Beat <= 0 {
		return 0
	}
	n := float64(w.q.Every / w.q.Beat)
	if math.Abs(n-math.Round(n)) > 0.02 || n > 1e6 {
		return 0
	}
	return int(math.Round(n))
}

// fit fits the taps named by their indices.
func (w *work) fit(of []int) fit {
	rows := make([]row, len(of))
	var f fit
	for i, j := range of {
		rows[i] = w.row(j)
		f.at += rows[i].t / float64(len(of))
	}
	n := len(rows)
	if n == 0 {
		return f
	}
	cols := [][]float64{column(rows, func(row) float64 { return 1 })}
	if span := rows[n-1].t - rows[0].t; n >= 5 && span >= 60 {
		f.rate = len(cols)
		cols = append(cols, column(rows, func(r row) float64 { return r.t - f.at }))
	}
	plus, minus := 0, 0
	for _, r := range rows {
		if r.sign > 0 {
			plus++
		} else {
			minus++
		}
	}
	if min(plus, minus) >= 4 && w.q.Way == InBeat {
		f.half = len(cols)
		cols = append(cols, column(rows, func(r row) float64 { return r.sign }))
	}
	f.solve(cols, column(rows, func(r row) float64 { return r.y }))
	return f
}

func column(rows []row, of func(row) float64) []float64 {
	out := make([]float64, len(rows))
	for i, r := range rows {
		out[i] = of(r)
	}
	return out
}

// solve finds each coefficient by the part of its column that is square to
// the other columns: there are three at the most.
func (f *fit) solve(cols [][]float64, y []float64) {
	for j := range cols {
		var others [][]float64
		for i := range cols {
			if i != j {
				others = append(others, cols[i])
			}
		}
		c := square(cols[j], others)
		norm := dot(c, c)
		f.norm = append(f.norm, norm)
		f.b = append(f.b, dot(c, y)/norm)
	}
	f.freedom = len(y) - len(cols)
	f.resid = slices.Clone(y)
	for j, c := range cols {
		for i := range y {
			f.resid[i] -= f.b[j] * c[i]
		}
	}
	f.levers(cols, len(y))
	if f.freedom > 0 {
		f.s = math.Sqrt(dot(f.resid, f.resid) / float64(f.freedom))
	}
}

// square is x less its part along the others.
func square(x []float64, others [][]float64) []float64 {
	var basis [][]float64
	for _, o := range others {
		o = less(o, basis)
		basis = append(basis, o)
	}
	return less(x, basis)
}

// less takes from x its part along columns that are square to each other.
func less(x []float64, basis [][]float64) []float64 {
	x = slices.Clone(x)
	for _, b := range basis {
		if n := dot(b, b); n > 0 {
			k := dot(x, b) / n
			for i := range x {
				x[i] -= k * b[i]
			}
		}
	}
	return x
}

func dot(a, b []float64) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// u is the standard uncertainty of coefficient j.
func (f fit) u(j int) float64 { return f.s / math.Sqrt(f.norm[j]) }

// residual is a tap's mark less instant, less what the fit has for it.
func (f fit) residual(r row) float64 {
	if len(f.b) == 0 {
		return 0
	}
	v := r.y - f.b[0]
	if f.rate > 0 {
		v -= f.b[f.rate] * (r.t - f.at)
	}
	if f.half > 0 {
		v -= f.b[f.half] * r.sign
	}
	return v
}

// farthest is the tap with the greatest residual in its own standard
// deviations, −1 where there is none.
func (f fit) farthest() (int, float64) {
	at, far := -1, 0.0
	for i, r := range f.resid {
		if room := 1 - f.lever[i]; room > 1e-9 {
			if x := math.Abs(r) / (f.s * math.Sqrt(room)); x > far {
				at, far = i, x
			}
		}
	}
	return at, far
}

func (f *fit) levers(cols [][]float64, n int) {
	f.lever = make([]float64, n)
	var basis [][]float64
	for _, c := range cols {
		c = less(c, basis)
		basis = append(basis, c)
		norm := dot(c, c)
		for i := range c {
			f.lever[i] += c[i] * c[i] / norm
		}
	}
}

// median is the lower of the middle ones; 0 of none.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	x = slices.Clone(x)
	slices.Sort(x)
	return x[(len(x)-1)/2]
}
