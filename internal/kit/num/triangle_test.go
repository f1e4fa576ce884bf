package num_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"seatboard/internal/kit/num"
)

// TestTriangleAgainstDense sets the triangle beside a dense decomposition.
func TestTriangleAgainstDense(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := 1 + r.IntN(12)
		n := p + r.IntN(40)
		tri := num.NewTriangle(p)
		x, y := mat.NewDense(n, p, nil), mat.NewVecDense(n, nil)
		for i := range n {
			row := make([]float64, p)
			for j := range row {
				if r.IntN(4) > 0 || n == p {
					row[j] = r.NormFloat64() * math.Pow(10, float64(j%5)-2)
				}
			}
			x.SetRow(i, row)
			y.SetVec(i, r.NormFloat64())
			tri.Add(row, y.AtVec(i))
		}
		var b mat.VecDense
		if err := b.SolveVec(x, y); err != nil {
			continue // too near to dependent to say
		}
		got, inv, rss, err := tri.Solve()
		if err != nil || tri.Count() != n || tri.Rank() != p {
			t.Fatal(err, tri.Count(), tri.Rank())
		}
		var res, xtx, one mat.Dense
		res.Mul(x, &b)
		want := 0.0
		for i := range n {
			want += (y.AtVec(i) - res.At(i, 0)) * (y.AtVec(i) - res.At(i, 0))
		}
		if math.Abs(rss-want) > 1e-9*(1+want) {
			t.Errorf("seed %d: residuals %v, want %v", seed, rss, want)
		}
		xtx.Mul(x.T(), x)
		one.Mul(&xtx, mat.NewDense(p, p, flat(inv)))
		cond := tri.Condition()
		for j := range p {
			if math.Abs(got[j]-b.AtVec(j)) > 1e-13*cond*(1+math.Abs(b.AtVec(j))) {
				t.Errorf("seed %d: b%d is %v, want %v", seed, j, got[j], b.AtVec(j))
			}
			if math.Abs(one.At(j, j)-1) > 1e-12*cond*cond {
				t.Errorf("seed %d: the inverse times R'R has %v at %d", seed, one.At(j, j), j)
			}
		}
	}
}

func flat(rows [][]float64) []float64 {
	var out []float64
	for _, r := range rows {
		out = append(out, r...)
	}
	return out
}

func TestTriangleWarns(t *testing.T) {
	tri := num.NewTriangle(3)
	if _, _, _, err := tri.Solve(); !errors.Is(err, num.Dependent{Column: 0}) {
		t.Error("without a row:", err)
	}
	for i := range 20 {
		x := float64(i)
		tri.Add([]float64{1, x, 3 - 2*x}, x*x)
	}
	_, _, _, err := tri.Solve()
	if !errors.Is(err, num.Dependent{Column: 2}) || tri.Rank() != 2 || !math.IsInf(tri.Condition(), 1) || tri.New(2) > 1e-14 {
		t.Error("a sum of the others:", err, tri.Rank(), tri.Condition(), tri.New(2))
	}
	tri.Reset()
	for i, far := range []float64{1e200, 1, 1e-200} { // beyond what may be squared
		row := make([]float64, 3)
		row[i] = far
		tri.Add(row, row[i])
	}
	if b, _, rss, err := tri.Solve(); err != nil || b[0] != 1 || b[1] != 1 || b[2] != 1 || rss != 0 || math.Abs(tri.Condition()-3) > 1e-12 {
		t.Error("three that have nothing in common:", b, rss, err, tri.Condition())
	}
	tri.Add([]float64{1, math.NaN(), 0}, 1)
	if _, _, _, err := tri.Solve(); !errors.Is(err, num.ErrRow) {
		t.Error("a row with a number that is none:", err)
	}
	tri.Reset()
	tri.Add([]float64{1, 2}, 1)
	if _, _, _, err := tri.Solve(); !errors.Is(err, num.ErrRow) {
		t.Error("a short row:", err)
	}
}

func TestTriangleTakesNoMemory(t *testing.T) {
	tri, row := num.NewTriangle(8), make([]float64, 8)
	if n := testing.AllocsPerRun(100, func() {
		for j := range row {
			row[j] = float64(j + 1)
		}
		tri.Add(row, 1)
	}); n != 0 {
		t.Error("a row takes memory:", n)
	}
}

func BenchmarkTriangleAdd(b *testing.B) {
	tri, row := num.NewTriangle(10), make([]float64, 10)
	for i := 0; b.Loop(); i++ {
		for j := range row {
			row[j] = float64((i*7+j*j)%13) - 6
		}
		tri.Add(row, 1)
	}
}
