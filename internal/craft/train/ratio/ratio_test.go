package ratio

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestPrinted(t *testing.T) { check.All(t, Checks()) }

func wanted(t testing.TB, s string) Wanted {
	t.Helper()
	var w Wanted
	if err := w.UnmarshalText([]byte(s)); err != nil {
		t.Fatal(err)
	}
	return w
}

// lunation is a mean one in days.
const lunation = "29.530588853"

func words(all []Fraction) string {
	var out []string
	for _, f := range all {
		out = append(out, Written(f.Ratio))
	}
	return strings.Join(out, " ")
}

func TestConvergents(t *testing.T) {
	for _, c := range []struct{ ratio, begins string }{
		{lunation, "29 30 59/2 443/15 502/17 1447/49 25101/850 "},
		{"20929/86400", "0 1/4 7/29 8/33 31/128 39/161 "},
		{"77708431/2640858", "29 59/2 147/5 206/7 "},
		{"191/23", "8 25/3 83/10 191/23 "},
		{"12", "12 "},
	} {
		r := wanted(t, c.ratio).R
		got := Convergents(r)
		if !strings.HasPrefix(words(got)+" ", c.begins) {
			t.Errorf("%s: %s, want %s…", c.ratio, words(got), c.begins)
		}
		if got[len(got)-1].Ratio.Cmp(r) != 0 {
			t.Errorf("%s does not end at itself", c.ratio)
		}
	}
	if all := words(WithBetween(wanted(t, lunation).R)); !strings.Contains(all, " 23654/801 ") {
		t.Errorf("the intermediate 23654/801 is not in %s", all)
	}
}

func TestBrocotsWalk(t *testing.T) {
	r := big.NewRat(191, 23)
	if got := words(Walk(r, 99)); got != "8 9 17/2 25/3 33/4 58/7 83/10 108/13 191/23" {
		t.Error(got)
	}
	var over []string
	for _, f := range Walk(r, 99) {
		over = append(over, Over(f, r).String())
	}
	if got := strings.Join(over, " "); got != "-7 16 9 2 -5 -3 -1 1 0" {
		t.Error(got)
	}
	if len(WalkSteps(r, 99)) != 9 || WalkSteps(r, 99)[1].Result != "off by +16" {
		t.Error(WalkSteps(r, 99)[1])
	}
}

// The list of best fractions, against all denominators tried one by one.
func TestWithBetweenIsAllOfThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := big.NewRat(rapid.Int64Range(1, 4000).Draw(t, "a"), rapid.Int64Range(1, 400).Draw(t, "b"))
		if r.Denom().Int64() == 2 { // halves have two whole numbers as near
			return
		}
		var want []string
		var best *big.Rat
		for d := int64(1); d <= r.Denom().Int64(); d++ {
			n := nearestWhole(new(big.Rat).Mul(r, big.NewRat(d, 1)))
			x := new(big.Rat).SetFrac(n, big.NewInt(d))
			miss := new(big.Rat).Sub(x, r)
			if miss.Abs(miss); best == nil || miss.Cmp(best) < 0 {
				best = miss
				want = append(want, x.RatString())
			}
		}
		var got []string
		for _, f := range WithBetween(r) {
			got = append(got, f.Ratio.RatString())
		}
		// The whole number under the ratio comes first, also where the one above is nearer.
		if strings.Join(got, " ") != strings.Join(want, " ") && strings.Join(got[1:], " ") != strings.Join(want, " ") {
			t.Fatalf("%v: %v, want %v", r, got, want)
		}
	})
}

func TestLostWheelWorking(t *testing.T) {
	teeth, steps := Lost(big.NewRat(5400, 1), 30, []Pair{{72, 8}}, 8)
	if teeth.RatString() != "80" || len(steps) != 3 || steps[0].Result != "90" || steps[1].Result != "10" {
		t.Errorf("%v %v", teeth, steps)
	}
	if x, _ := Lost(big.NewRat(1, 1), 0, nil, 8); x != nil {
		t.Error("an escape wheel without teeth")
	}
	if x, _ := Lost(big.NewRat(1, 1), 30, []Pair{{}}, 8); x != nil {
		t.Error("a pair without teeth")
	}
}

func TestVariations(t *testing.T) {
	if got := fmt.Sprint(Variations(288, 8, 36)); got != "[[36 8] [32 9] [24 12] [18 16]]" {
		t.Error(got)
	}
	if got := FactorWords(big.NewInt(14027)); got != "13² · 83" {
		t.Error(got)
	}
}

// Trains for the moon on a 24-hour arbor: Beckett's, and the best there is.
func TestMoonTrains(t *testing.T) {
	r := new(big.Rat).SetFrac64(255144288, 8640000)
	all := Search(r, Limits{2, 20, 182, 6, 30}, 1e-3, 60)
	at := map[string]Train{}
	for _, x := range all {
		at[x.Ratio.RatString()] = x
	}
	for _, c := range []struct{ ratio, off string }{{"14027/475", "-5.4"}, {"11074/375", "6.7"}} {
		x, ok := at[c.ratio]
		if !ok {
			t.Errorf("%s is not found", c.ratio)
			continue
		}
		f, _ := new(big.Rat).Mul(x.Miss, big.NewRat(86400, 1)).Float64()
		check.Near(t, c.ratio+" off, s a lunation", f, mustFloat(c.off), .08)
	}
	if p := all[0].Pairs; fmt.Sprint(p) != "[169/25 83/19]" {
		t.Errorf("the best is %v", p)
	}
}

// Every way of making 15/2 with one pair, and 720 with two counted by trial.
func TestWays(t *testing.T) {
	var got []string
	for _, x := range Ways(big.NewRat(15, 2), Limits{1, 20, 144, 6, 20}) {
		got = append(got, x.Pairs[0].String())
	}
	if strings.Join(got, " ") != "45/6 60/8 75/10 90/12 105/14 120/16 135/18" {
		t.Error(got)
	}
	r, l := big.NewRat(90, 1), Limits{2, 48, 96, 6, 10}
	want := 0
	for a := l.WheelFrom; a <= l.WheelTo; a++ {
		for b := a; b <= l.WheelTo; b++ {
			for c := l.LeafFrom; c <= l.LeafTo; c++ {
				for d := c; d <= l.LeafTo; d++ {
					if a*b == 90*c*d {
						want++
					}
				}
			}
		}
	}
	all := Ways(r, l)
	if len(all) != want || want < 5 {
		t.Errorf("%d ways, want %d", len(all), want)
	}
	if best := Search(r, l, 1e-3, 3)[0]; best.Ways != want || best.Teeth != all[0].Teeth {
		t.Errorf("the search counts %d ways of %d teeth, want %d of %d", best.Ways, best.Teeth, want, all[0].Teeth)
	}
}

func mustFloat(s string) float64 {
	r, _ := new(big.Rat).SetString(s)
	return value(r)
}

// Too large by as much as another is too small is as near: 23 and 23 1/9 are
// both 1/18 from 415/18.
func TestAsNearOnTheOtherSide(t *testing.T) {
	l := Limits{Pairs: 2, WheelFrom: 20, WheelTo: 36, LeafFrom: 6, LeafTo: 6}
	for _, g := range Search(big.NewRat(415, 18), l, 1e-2, 5) {
		if few := g.Teeth == 70; g.Miss.Num().CmpAbs(big.NewInt(1)) == 0 && g.Few != few {
			t.Errorf("%v with %d teeth: %v", g.Pairs, g.Teeth, g.Few)
		}
	}
}

// The search against trying everything, and its promise about few teeth.
func TestSearchIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Limits{Pairs: 2, WheelFrom: 20, WheelTo: train.Teeth(rapid.IntRange(20, 45).Draw(t, "to")), LeafFrom: 6, LeafTo: train.Teeth(rapid.IntRange(6, 11).Draw(t, "leaf"))}
		r := big.NewRat(rapid.Int64Range(300, 3000).Draw(t, "a"), rapid.Int64Range(90, 200).Draw(t, "b"))
		if r.Cmp(big.NewRat(1, 1)) < 0 {
			return
		}
		got := Search(r, l, 1e-2, 5)
		type one struct {
			miss  *big.Rat
			teeth train.Teeth
		}
		var all []one
		for a := l.WheelFrom; a <= l.WheelTo; a++ {
			for b := a; b <= l.WheelTo; b++ {
				for c := l.LeafFrom; c <= l.LeafTo; c++ {
					for d := c; d <= l.LeafTo; d++ {
						m := new(big.Rat).Sub(big.NewRat(int64(a*b), int64(c*d)), r)
						all = append(all, one{m.Abs(m), a + b + c + d})
					}
				}
			}
		}
		if len(got) == 0 {
			for _, x := range all {
				if x.miss.Cmp(new(big.Rat).Mul(r, big.NewRat(99, 10000))) < 0 {
					t.Fatalf("%v: a train at %v was not found", r, x.miss)
				}
			}
			return
		}
		nearest := new(big.Rat).Abs(got[0].Miss)
		for _, x := range all {
			if x.miss.Cmp(nearest) < 0 {
				t.Fatalf("%v: %v is nearer than %v", r, x.miss, got[0])
			}
			for _, g := range got {
				m := new(big.Rat).Abs(g.Miss)
				if g.Few && x.teeth < g.Teeth && x.miss.Cmp(m) <= 0 {
					t.Fatalf("%v: %v with %d teeth is beaten by %d teeth", r, g.Pairs, g.Teeth, x.teeth)
				}
				if x.miss.Cmp(m) == 0 && x.teeth < g.Teeth && x.miss.Sign() == 0 {
					t.Fatalf("%v: %v can be made of %d teeth", r, g.Pairs, x.teeth)
				}
			}
		}
		for _, g := range got {
			p := big.NewRat(1, 1)
			for _, x := range g.Pairs {
				p.Mul(p, x.Rat())
			}
			if p.Cmp(g.Ratio) != 0 || new(big.Rat).Sub(p, r).Cmp(g.Miss) != 0 {
				t.Fatalf("%v does not make %v", g.Pairs, g.Ratio)
			}
		}
	})
}

func TestSolve(t *testing.T) {
	a, err := Solve(Query{Wanted: wanted(t, "29 d 12 h 44 min 2.88 s / 24 h"), WheelTo: 182, LeafTo: 30})
	if err != nil {
		t.Fatal(err)
	}
	check.Near(t, "a turn of the moon's arbor, s", float64(a.Slow.Value), 2551442.88, 1e-6)
	check.Near(t, "off", float64(a.Trains[0].Off.Turn.Value), -5.4, .08)
	if a.Trains[0].Rate <= 0 {
		t.Error("a moon whose turn is too short must gain")
	}
	few := 0
	for _, x := range a.Trains {
		if x.Few {
			few++
		}
	}
	if few < 5 || !a.Trains[0].Few {
		t.Errorf("%d trains with few teeth", few)
	}
	up, err := Solve(Query{Wanted: wanted(t, "147:170")})
	if err != nil || !up.Turned || up.Ratio.RatString() != "170/147" || !up.Complete {
		t.Errorf("%+v %v", up.Ratio, err)
	}
	far, err := Solve(Query{Wanted: wanted(t, "90000"), Pairs: 1})
	if err != nil || far.Complete || far.Findings[0].Code != "out-of-reach" {
		t.Errorf("%+v %v", far.Findings, err)
	}
}

func TestMistakesAllAtOnce(t *testing.T) {
	_, err := Solve(Query{Turn: meas.Of(unit.Duration(-1)), WheelFrom: 100, WheelTo: 50, LeafTo: 5000})
	var f meas.Faults
	if !errors.As(err, &f) || len(f) != 4 {
		t.Errorf("%v", err)
	}
	if _, err := Solve(Query{Wanted: wanted(t, "3"), Pairs: 3, WheelTo: 900}); err == nil || !strings.Contains(err.Error(), "million ways") {
		t.Error(err)
	}
}

func TestRead(t *testing.T) {
	for s, want := range map[string]string{"191/23": "191/23", "29,530588853": "29530588853/1000000000", "147 : 170": "147/170", "24 h / 1 min": "1440", "0,125": "1/8", "365 d 5 h 48 m 49 s / 1 d": "31556929/86400", "1 d 12 h in 12h": "3"} {
		if got := wanted(t, s).R.RatString(); got != want {
			t.Errorf("%q: %s, want %s", s, got, want)
		}
	}
	for _, s := range []string{"1/0", "0", "-3", "1,234", "29 d", "29 d / 24", "3 h 2 d / 1 h", "1/2/3", "x", "1e9", "999999999999", strings.Repeat("9", 300), "🕰", "1/3 h"} {
		var w Wanted
		if err := w.UnmarshalText([]byte(s)); err == nil {
			t.Errorf("%q was read as %v", s, w.R)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"191/23", "29 d 12 h 44 min 2.8 s / 24 h", "147:170", "1,5", "\xff/2", ". / ,"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var w Wanted
		if err := w.UnmarshalText([]byte(s)); err != nil || w.R == nil {
			return
		}
		if w.R.Sign() <= 0 {
			t.Fatalf("%q: %v", s, w.R)
		}
		if _, err := Solve(Query{Wanted: w, Pairs: 1}); err != nil && w.Turn == 0 {
			t.Fatalf("%q: %v", s, err)
		}
	})
}

func BenchmarkThreePairs(b *testing.B) {
	r := new(big.Rat).SetFrac64(255144288, 8640000)
	for b.Loop() {
		Search(r, Limits{3, 20, 144, 6, 20}, 1e-3, 12)
	}
}

func BenchmarkTwoPairs(b *testing.B) {
	r := new(big.Rat).SetFrac64(255144288, 8640000)
	for b.Loop() {
		Search(r, Limits{2, 20, 144, 6, 20}, 1e-3, 12)
	}
}
