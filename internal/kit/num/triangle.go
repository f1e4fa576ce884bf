package num

import (
	"errors"
	"fmt"
	"math"
)

// Triangle is a problem of least squares, y = x·b + error of scatter one,
// whose rows are taken one at a time and kept as the triangle R of their
// orthogonal decomposition. Normal equations are never made, so that no
// digits are lost by squaring: what columns that nearly say the same can
// tell apart, it tells apart.
//
// The cost of a row is about 2p² multiplications for p columns, less where
// the row begins with noughts, and no memory; a year of rows weighs no more
// than one.
//
// Method: rotations of Givens, row by row; G. H. Golub & C. F. Van Loan,
// Matrix Computations, 5.2 (from memory). Checked against the NIST reference
// datasets of linear regression.
type Triangle struct {
	p   int
	n   int
	r   []float64 // R by rows, each from its diagonal on with Qᵀy at its end: p+1, p, …, 2 numbers
	rss float64
	bad bool // a row had no value
}

// NewTriangle begins a problem with so many columns, one or more.
func NewTriangle(columns int) *Triangle {
	p := max(columns, 1)
	return &Triangle{p: p, r: make([]float64, p*(p+3)/2)}
}

// Add takes one row with its right side, both divided by the scatter of y
// where that is not one. The row must have as many numbers as there are
// columns; it is used as scratch, and what is in it afterwards means nothing.
func (t *Triangle) Add(row []float64, y float64) {
	t.n++
	if len(row) != t.p {
		t.bad = true
		return
	}
	at := 0
	for j := range row {
		width := t.p - j + 1
		r := t.r[at : at+width]
		at += width
		b := row[j]
		if b == 0 {
			continue
		}
		a := r[0]
		h := math.Sqrt(a*a + b*b)
		if !(h > 1e-140 && h < 1e140) {
			h = math.Hypot(a, b)
		}
		s, tau := b/h, b/(h+a)
		r[0] = h
		x := row[j+1:]
		q := r[1 : 1+len(x)]
		for k, v := range x {
			u := q[k]
			q[k] = u + s*(v-tau*u)
			x[k] = v - s*(u+tau*v)
		}
		u := r[width-1]
		r[width-1] = u + s*(y-tau*u)
		y -= s * (u + tau*y)
	}
	t.rss += y * y
	if math.IsNaN(t.rss) || math.IsInf(t.rss, 0) {
		t.bad = true
	}
}

// Count is how many rows were taken.
func (t *Triangle) Count() int { return t.n }

// Reset takes all rows away.
func (t *Triangle) Reset() {
	clear(t.r)
	t.n, t.rss, t.bad = 0, 0, false
}

// at is R[i][j] for i ≤ j; column p is the right side.
func (t *Triangle) at(i, j int) float64 { return t.r[t.row(i)+j-i] }

// row is where row i begins.
func (t *Triangle) row(i int) int { return i*(t.p+1) - i*(i-1)/2 }

// length is that of column j, of the rows taken.
func (t *Triangle) length(j int) float64 {
	l := 0.0
	for i := 0; i <= j; i++ {
		l = math.Hypot(l, t.at(i, j))
	}
	return l
}

// New tells how much of column j is new: the share, 0 to 1, of its length
// that is no combination of the columns before it. Nought where it says
// nothing that they do not say.
func (t *Triangle) New(j int) float64 {
	l := t.length(j)
	if l == 0 {
		return 0
	}
	return math.Abs(t.at(j, j)) / l
}

// Rank is how many columns say something that those before them do not, as
// far as the digits of the arithmetic can tell.
func (t *Triangle) Rank() int {
	rank := 0
	for j := range t.p {
		if t.New(j) > t.least() {
			rank++
		}
	}
	return rank
}

// least is the share below which a column is counted as nothing new.
func (t *Triangle) least() float64 { return 4 * epsilon * float64(t.p) }

// Condition is by how much a relative error of the rows can be magnified in
// the answer at worst: the product of the Frobenius norms of R and of its
// inverse, its columns first made equally long, so that units do not matter.
// It is p where the columns have nothing in common, +Inf where one is nothing
// new.
func (t *Triangle) Condition() float64 {
	if t.Rank() < t.p {
		return math.Inf(1)
	}
	inv := t.inverse()
	sum := 0.0
	for j := range t.p {
		l := t.length(j)
		for k := j; k < t.p; k++ {
			v := inv[j][k] * l
			sum += v * v
		}
	}
	return math.Sqrt(sum * float64(t.p))
}

// Dependent is the error of columns that cannot be told apart: Column is the
// first that is a combination of those before it.
type Dependent struct{ Column int }

func (d Dependent) Error() string {
	return fmt.Sprintf("num: column %d is a combination of those before it, or nothing", d.Column)
}

// ErrRow is returned by Solve where a row had a wrong length or a number in
// it that is none.
var ErrRow = errors.New("num: a row had another length, or a number that is none")

// Solve is the answer of least squares from the rows taken so far, of which
// more may follow: b, the inverse of R'R (its diagonal holds the variances of
// b where the rows were divided by their scatter; where they were not,
// multiply by rss/(Count − columns)), and the sum of the squared residuals.
// It fails with [Dependent] or [ErrRow].
func (t *Triangle) Solve() (b []float64, inv [][]float64, rss float64, err error) {
	if t.bad {
		return nil, nil, 0, ErrRow
	}
	least := t.least()
	for j := range t.p {
		if !(t.New(j) > least) {
			return nil, nil, 0, Dependent{j}
		}
	}
	b = make([]float64, t.p)
	for i := t.p - 1; i >= 0; i-- {
		r := t.r[t.row(i):t.row(i+1)]
		v := r[t.p-i]
		for k := i + 1; k < t.p; k++ {
			v -= r[k-i] * b[k]
		}
		b[i] = v / r[0]
	}
	return b, square(t.inverse()), t.rss, nil
}

// inverse is that of R, upper right.
func (t *Triangle) inverse() [][]float64 {
	w := make([][]float64, t.p)
	for i := range w {
		w[i] = make([]float64, t.p)
	}
	for j := range t.p {
		w[j][j] = 1 / t.at(j, j)
		for i := j - 1; i >= 0; i-- {
			s := 0.0
			for k := i + 1; k <= j; k++ {
				s += t.at(i, k) * w[k][j]
			}
			w[i][j] = -s / t.at(i, i)
		}
	}
	return w
}

// square is w wᵀ of an upper triangle.
func square(w [][]float64) [][]float64 {
	out := make([][]float64, len(w))
	for i := range w {
		out[i] = make([]float64, len(w))
	}
	for i := range w {
		for j := i; j < len(w); j++ {
			s := 0.0
			for k := j; k < len(w); k++ {
				s += w[i][k] * w[j][k]
			}
			out[i][j], out[j][i] = s, s
		}
	}
	return out
}
