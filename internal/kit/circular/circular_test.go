package circular

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// roulette is the first example of Mardia & Jupp, in degrees.
var roulette = []float64{43, 45, 52, 61, 75, 88, 88, 279, 357}

func turns(degrees []float64) []float64 {
	out := make([]float64, len(degrees))
	for i, d := range degrees {
		out[i] = d / 360
	}
	return out
}

func TestRoulette(t *testing.T) {
	direction, length := Mean(turns(roulette))
	if math.Abs(direction*360-51) > 0.5 || math.Abs(length-0.711) > 0.0005 {
		t.Errorf("mean %v°, %v; printed 51°, 0.711", direction*360, length)
	}
	if a := Shortest(Sorted(turns(roulette)), 9); math.Abs(a.Width*360-169) > 1e-9 {
		t.Errorf("range %v°, printed 169°", a.Width*360)
	}
}

// TestHoldClosedForms: two of three by elementary geometry, all of n (the
// range), and any number in a half turn (Hodges and Ajne).
func TestHoldClosedForms(t *testing.T) {
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	for _, w := range []float64{0.01, 0.1, 0.2, 0.33} {
		got, exact := Hold(3, 2, w)
		near("two of three", got, 1-(1-3*w)*(1-3*w))
		if !exact {
			t.Error("two of three is exact")
		}
		got, _ = Hold(6, 6, w)
		near("six of six", got, 6*math.Pow(w, 5))
	}
	for n := 4; n <= 12; n++ {
		for m := 0; 3*m < n; m++ {
			got, exact := Hold(n, n-m, 0.5)
			near("half a turn", got, float64(n-2*m)*math.Exp(LogBinomial(n, m)-float64(n-1)*math.Ln2))
			if !exact {
				t.Errorf("%d of %d in a half turn is exact", n-m, n)
			}
		}
	}
}

// TestHoldAgainstSimulation: exact ones within four standard deviations,
// bounds not below.
func TestHoldAgainstSimulation(t *testing.T) {
	const draws = 40000
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct {
		n, k int
		w    float64
	}{{3, 2, 0.05}, {4, 3, 0.25}, {4, 3, 0.45}, {5, 3, 0.2}, {5, 4, 0.4}, {6, 4, 0.3}, {7, 5, 0.48}, {8, 5, 0.3}, {9, 7, 0.45}, {6, 3, 0.1}, {9, 4, 0.15}, {12, 4, 0.05}} {
		hits := 0
		for range draws {
			p := make([]float64, c.n)
			for i := range p {
				p[i] = r.Float64()
			}
			slices.Sort(p)
			if Shortest(p, c.k).Width <= c.w {
				hits++
			}
		}
		got, exact := Hold(c.n, c.k, c.w)
		seen := float64(hits) / draws
		sd := math.Sqrt(seen*(1-seen)/draws) + 1e-4
		if exact && math.Abs(got-seen) > 4*sd || !exact && got < seen-4*sd {
			t.Errorf("%d of %d in %v: %v (exact %v), simulated %v ± %v", c.k, c.n, c.w, got, exact, seen, sd)
		}
	}
}

func TestHoldAtTheEdge(t *testing.T) {
	for _, c := range []struct {
		n, k int
		w    float64
		want float64
	}{{0, 2, 0.1, 1}, {3, 1, 0.1, 1}, {3, 4, 0.1, 1}, {5, 5, 0, 0}, {5, 2, 0.9, 1}, {3, 3, math.NaN(), 1}} {
		if got, _ := Hold(c.n, c.k, c.w); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

func TestRayleigh(t *testing.T) {
	data := turns([]float64{130, 90, 0, 145})
	_, length := Mean(data)
	if p := Rayleigh(len(data), length); math.Abs(p-0.2563487733797317) > 1e-12 {
		t.Errorf("chance %v, printed 0.2563487733797317", p)
	}
	r := rand.New(rand.NewPCG(3, 4))
	const draws, n = 40000, 6
	hits := 0
	for range draws {
		p := make([]float64, n)
		for i := range p {
			p[i] = r.Float64()
		}
		if _, l := Mean(p); Rayleigh(n, l) <= 0.05 {
			hits++
		}
	}
	if seen := float64(hits) / draws; math.Abs(seen-0.05) > 0.005 {
		t.Errorf("a chance of 0.05 came in %v", seen)
	}
}

func TestArc(t *testing.T) {
	a := Shortest([]float64{0.02, 0.1, 0.5, 0.97}, 3)
	if math.Abs(a.Width-0.13) > 1e-12 || a.From != 0.97 {
		t.Errorf("arc %+v", a)
	}
	for turn, want := range map[float64]bool{0.97: true, 0.1: true, 0: true, 0.5: false, 0.96: false, 1.05: true, -0.01: true} {
		if a.Has(turn) != want {
			t.Errorf("%v in %+v: %v", turn, a, !want)
		}
	}
	if Wrap(-1e-18) != 0 || Wrap(2.25) != 0.25 {
		t.Error("wrap")
	}
}
