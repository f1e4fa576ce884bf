package divide

import (
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func plates(t testing.TB, s string) Plates {
	t.Helper()
	var p Plates
	if err := p.UnmarshalText([]byte(s)); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return p
}

const bench = "plate A: 60 72 96 120\nplate wheel engine: 84 90 100 128\nhead 40:1 with 15 16 17 18 19 20 / 21 23 27 29 31 33\nhead small 60:1 with 20 22 23 27 33"

func TestChecks(t *testing.T) { check.All(t, Checks()) }

func TestPlatesReadAndWritten(t *testing.T) {
	p := plates(t, bench)
	if len(p.Direct) != 2 || len(p.Heads) != 2 || p.Direct[1].Name != "wheel engine" || p.Heads[0].Ratio != 40 || len(p.Heads[0].Plates) != 2 || p.Heads[1].Name != "small" {
		t.Errorf("%+v", p)
	}
	if p.String() != bench {
		t.Errorf("written as\n%s", p)
	}
	for in, want := range map[string]string{
		"60, 72, 96":                            "plate: 60 72 96",
		"60":                                    "plate: 60",
		"A 60 72":                               "plate A: 60 72",
		"plate 2: 60 and 72; head 90:1 with 20": "plate 2: 60 72\nhead 90:1 with 20",
		"head 180 with 30":                      "head 180:1 with 30",
		"Head 40: with 15":                      "head 40:1 with 15",
	} {
		if got := plates(t, in).String(); got != want {
			t.Errorf("%q read as %q", in, got)
		}
	}
}

func TestPlatesNameEveryMistake(t *testing.T) {
	for in, want := range map[string][]string{
		"plate A: 60 7x 1; head with 15\nhead 40:1": {"“7x” is not a number", "1 holes: rings have from 2", "has no ratio", "has no circle"},
		"plate A:":                 {"names no ring"},
		"head 40:1 with 15 15":     {"the ring of 15 holes stands twice"},
		"head 4000:1 with 15":      {"from 1 to 720"},
		"plate B: 4000":            {"from 2 to 3600"},
		strings.Repeat("60 ", 4e3): {"letters were typed"},
		strings.Repeat("60;", 60):  {"more than 40 plates"},
	} {
		var p Plates
		err := p.UnmarshalText([]byte(in))
		for _, w := range want {
			if err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%.40q: %v, wanted %q", in, err, w)
			}
		}
		if !p.Empty() {
			t.Errorf("%.40q left %+v", in, p)
		}
	}
}

func FuzzPlates(f *testing.F) {
	f.Add(bench)
	f.Add("head 40:1 with / / 3")
	f.Fuzz(func(t *testing.T, s string) {
		var p, back Plates
		if p.UnmarshalText([]byte(s)) != nil {
			return
		}
		if err := back.UnmarshalText([]byte(p.String())); err != nil || back.String() != p.String() {
			t.Fatalf("%q was read as %q and that as %q, %v", s, p, back, err)
		}
	})
}

// turnsOf is one move of a way as turns of the arbor, exactly.
func turnsOf(w Way) *big.Rat {
	if w.Ratio == 0 {
		return big.NewRat(int64(w.Holes), int64(w.Circle))
	}
	sum := big.NewRat(int64(w.Turns), 1)
	sum.Add(sum, big.NewRat(int64(w.Holes), int64(w.Circle)))
	if w.Second > 0 {
		sum.Add(sum, big.NewRat(int64(w.SecondHoles), int64(w.Second)))
	}
	return sum.Quo(sum, big.NewRat(int64(w.Ratio), 1))
}

// Every way of every count is exact; the table closes; and where there is no
// way, trying every number of holes finds none either.
func TestEveryCountInWholeNumbers(t *testing.T) {
	p := plates(t, bench)
	for n := Fewest; n <= 400; n++ {
		for _, two := range []bool{false, true} {
			a, err := Solve(Query{Count: n, Plates: p, Compound: two})
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range a.Ways {
				if turnsOf(w).Cmp(big.NewRat(1, int64(n))) != 0 {
					t.Fatalf("%d by %+v", n, w)
				}
				if w.Holes < 0 || w.Holes >= w.Circle || w.Turns < 0 || w.Second > 0 && (w.SecondHoles == 0 || w.SecondHoles > w.Second || w.SecondHoles < -w.Second) {
					t.Fatalf("%d by %+v", n, w)
				}
			}
			if a.Complete != (reaches(p, n, two) != "") || a.Complete != tried(p, n, two) {
				t.Fatalf("%d, two circles %v: complete %v, tried %v", n, two, a.Complete, tried(p, n, two))
			}
			if len(a.Moves) != n && len(a.Ways)+len(a.Close) > 0 {
				t.Fatalf("%d has %d moves", n, len(a.Moves))
			}
			if a.Complete {
				closes(t, n, a)
			}
		}
	}
}

// tried looks for a way by trying every number of holes.
func tried(p Plates, n int, two bool) bool {
	for _, d := range p.Direct {
		for _, h := range d.Rings {
			for k := 1; k <= h; k++ {
				if k*n == h {
					return true
				}
			}
		}
	}
	for _, h := range p.Heads {
		for _, plate := range h.Plates {
			for i, c := range plate {
				for k := 1; k <= h.Ratio*c; k++ {
					if k*n == h.Ratio*c {
						return true
					}
				}
				for _, d := range plate[:i] {
					for b := -d; two && b <= d; b++ { // a/c + b/d = K/n
						if over := h.Ratio*c*d - b*c*n; over%(d*n) == 0 {
							return true
						}
					}
				}
			}
		}
	}
	return false
}

func closes(t *testing.T, n int, a Answer) {
	t.Helper()
	w := a.Ways[0]
	seen := map[string]bool{}
	for _, m := range a.Moves {
		at := fmt.Sprint(m.Turns, m.Hole, m.SecondHole)
		if seen[at] {
			t.Fatalf("%d: %+v twice by %+v", n, m, w)
		}
		seen[at] = true
		if m.Off != 0 {
			t.Fatalf("%d: off by %v", n, m.Off)
		}
	}
	if end := w.after(n); w.Second == 0 && (end.Hole != 0 || end.Turns != w.Ratio) {
		t.Fatalf("%d ends at %+v by %+v", n, end, w)
	}
}

// What is said to be off is what the table is off, to the last bit that counts.
func TestNearIsStatedTruly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		circles := rapid.SliceOfNDistinct(rapid.IntRange(12, 60), 1, 5, rapid.ID[int]).Draw(t, "circles")
		p := Plates{Direct: []Plate{{Name: "A", Rings: []int{rapid.IntRange(30, 400).Draw(t, "ring")}}},
			Heads: []Head{{Ratio: rapid.SampledFrom([]int{40, 60, 90, 180}).Draw(t, "ratio"), Plates: [][]int{circles}}}}
		n := rapid.IntRange(2, 400).Draw(t, "count")
		d := meas.OfU(unit.Millimetres(50), unit.Millimetres(0.1))
		a, err := Solve(Query{Count: n, Plates: p, Compound: rapid.Bool().Draw(t, "two"), Diameter: d})
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range a.Close {
			moves := x.moves(n)
			tooth, space := 0.0, 0.0
			for k, m := range moves {
				tooth = max(tooth, math.Abs(float64(m.Off)))
				next := moves[0].Off
				if k+1 < n {
					next = moves[k+1].Off
				}
				space = max(space, math.Abs(float64(next-m.Off)))
			}
			if math.Abs(tooth-float64(x.Tooth)) > 1e-12 || math.Abs(space-float64(x.Space)) > 1e-12 {
				t.Fatalf("%d by %+v: stated %v and %v, in the table %v and %v", n, x, x.Tooth, x.Space, tooth, space)
			}
			if rim := float64(x.Tooth) * 0.025; math.Abs(float64(x.OnRim.Value)-rim) > 1e-15 || !x.OnRim.HasU {
				t.Fatalf("on the rim %+v, wanted %v", x.OnRim, rim)
			}
			if i > 0 && x.Tooth < a.Close[i-1].Tooth {
				t.Fatal("the closest is not first")
			}
		}
		if !a.Complete {
			f := a.Findings[0]
			if f.Code != "does-not-fit" || f.Level != meas.Clash || !strings.Contains(f.Text, "′ of arc") {
				t.Fatalf("%+v", f)
			}
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
	})
}

// A count that does not fit: the nearest on both sides, what would do, and
// that two circles would reach it.
func TestDoesNotFit(t *testing.T) {
	a, err := Solve(Query{Count: 69, Plates: threePlates(), Diameter: meas.Of(unit.Millimetres(50))})
	if err != nil || a.Complete || a.Below != 68 || a.Above != 70 || len(a.Wanted) != 1 || a.Wanted[0].Circle != 69 {
		t.Fatalf("%+v, %v", a, err)
	}
	said := a.Findings[0].Text + a.Findings[0].Next
	for _, want := range []string{"divides 69 exactly", "µm on the rim", "68 and 70", "Two circles of one plate"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in %q", want, said)
		}
	}
	b, _ := Solve(Query{Count: 69, Plates: threePlates(), Compound: true})
	if !b.Complete || b.Ways[0].Kind != Compound {
		t.Errorf("%+v", b.Ways)
	}
	if c, _ := Solve(Query{Count: 127, Plates: threePlates(), Compound: true}); c.Complete || !c.Close[0].SameMove || unit.In(c.Close[0].Tooth, "′") > 1 {
		t.Errorf("%+v", c.Close)
	}
}

func TestRefuses(t *testing.T) {
	_, err := Solve(Query{Count: 1, Diameter: meas.Reading[unit.Length]{Set: true, Entered: "-3 mm", Value: -0.003}})
	for _, want := range []string{"2 to 1200", "Enter the plates", "-3 mm"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v has no %q", err, want)
		}
	}
}

func TestReachOnly(t *testing.T) {
	a, err := Solve(Query{Plates: plates(t, "plate A: 360")})
	if err != nil || len(a.Reached) != 23 || a.Complete {
		t.Errorf("%d, %v", len(a.Reached), err)
	}
}

func BenchmarkSolve(b *testing.B) {
	q := Query{Count: 127, Plates: threePlates(), Compound: true}
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}
