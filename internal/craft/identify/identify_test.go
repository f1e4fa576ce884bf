package identify

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestPrinted(t *testing.T) { check.All(t, Checks()) }

func diameter(mm, u float64) meas.Reading[unit.Length] {
	return meas.OfU(unit.Millimetres(mm), unit.Millimetres(u))
}

func solved(t testing.TB, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// has tells whether a name is among those that are not told apart.
func has(a Answer, name string) bool {
	for _, c := range a.Candidates[:a.Tied] {
		if c.Name == name {
			return true
		}
	}
	return false
}

// Every row, measured with its own values as a caliper reads them and a pitch
// 2 % wrong at the most, comes first or in a tie that is said.
func TestEveryThreadIsFound(t *testing.T) {
	for _, th := range Threads() {
		if th.Major > thickest {
			continue
		}
		what, fit := Screw, under(float64(th.Pitch))/3
		if th.Series == "Wood screw" {
			what, fit = WoodScrew, 0
		}
		for _, wrong := range []float64{-1, 0, 1} {
			d := math.Round((float64(th.Major)-fit)*1e5)/1e5 + wrong*2e-5
			a := solved(t, Query{What: what, Diameter: meas.OfU(unit.Length(d), 2e-5), Pitch: meas.OfU(th.Pitch*unit.Pitch(1+.02*wrong), th.Pitch*.02)})
			if !has(a, th.Name()) || a.none() {
				t.Errorf("%s, %+.0f: first is %s, %d tied, none %.2f", th.Name(), wrong, a.Candidates[0].Name, a.Tied, a.None)
			}
		}
	}
}

func TestEveryGaugeIsFound(t *testing.T) {
	for _, g := range Gauges() {
		for _, what := range []string{Wire, Sheet, Drill, Pin} {
			for _, of := range gaugesOf(what) {
				if of != g.Gauge {
					continue
				}
				u := math.Min(5e-6, .02*float64(g.D))
				a := solved(t, Query{What: what, Diameter: meas.OfU(g.D-unit.Length(u/2), unit.Length(u))})
				if !has(a, g.Name()) {
					t.Errorf("%s %s: first is %s, %d tied", what, g.Name(), a.Candidates[0].Name, a.Tied)
				}
			}
		}
	}
}

// Screws drawn from anywhere are not called a standard too often: of those
// drawn as none, few get a chance under 1 in 10 of being none.
func TestChancesHold(t *testing.T) {
	rows := Threads()
	told := map[int][2]int{} // chance of none by tenths: how many, how many are none
	r := rand.New(rand.NewPCG(1, 2))
	for range 1500 {
		none := r.IntN(2) == 0
		u := 2e-5
		var d, p float64
		if none {
			d = thinnest * math.Pow(thickest/thinnest, r.Float64())
			p = d * finest * math.Pow(coarsest/finest, r.Float64())
		} else {
			th := rows[r.IntN(len(rows))]
			if th.Series == "Wood screw" || th.Major > thickest {
				continue
			}
			d = float64(th.Major) - under(float64(th.Pitch))*r.Float64()
			p = float64(th.Pitch)
		}
		if p < .051e-3 || p > 11.9e-3 || d < .02e-3 {
			continue
		}
		a, err := Solve(Query{What: Screw, Diameter: meas.OfU(unit.Length(d), unit.Length(u)), Pitch: meas.OfU(unit.Pitch(p), unit.Pitch(.005*p))})
		if err != nil {
			t.Fatal(err)
		}
		k := told[min(int(a.None*10), 9)]
		k[0]++
		if none {
			k[1]++
		}
		told[min(int(a.None*10), 9)] = k
	}
	t.Logf("told to be none, by tenths, and how many are: %v", told)
	if told[9][0] < 50 || told[0][0] < 50 {
		t.Fatalf("too few are told nearly for sure: %v", told)
	}
	if k := told[9]; float64(k[1]) < .8*float64(k[0]) {
		t.Errorf("of %d told to be none nearly for sure %d are", k[0], k[1])
	}
	if k := told[0]; float64(k[1]) > .2*float64(k[0]) {
		t.Errorf("of %d told to be a standard nearly for sure %d are none", k[0], k[1])
	}
}

func TestFindings(t *testing.T) {
	tpi := func(n float64) meas.Reading[unit.Pitch] { return meas.Of(unit.From[unit.Pitch](n, "tpi")) }
	code := func(a Answer, c string) bool {
		for _, f := range a.Findings {
			if f.Code == c {
				return true
			}
		}
		return false
	}
	ba := solved(t, Query{What: Screw, Diameter: diameter(4.64, .01), Threads: 10, Over: diameter(8.1, .1), Year: 1780})
	if ba.Candidates[0].Name != "2 BA" || !ba.Candidates[0].Later || !code(ba, "later") {
		t.Errorf("%+v %+v", ba.Candidates[0], ba.Findings)
	}
	check.Near(t, "core of 2 BA", ba.Candidates[0].Make.Core.MM(), 3.73, 1e-9)
	quarter := solved(t, Query{What: Screw, Diameter: diameter(6.28, .02), Pitch: tpi(20)})
	if !has(quarter, "1/4 in BSW") || !has(quarter, "1/4 in Unified coarse") || !strings.Contains(quarter.Next, "only the flanks tell") {
		t.Errorf("%d tied: %s", quarter.Tied, quarter.Next)
	}
	angled := solved(t, Query{What: Screw, Diameter: diameter(6.28, .02), Pitch: tpi(20), Angle: meas.OfU(unit.Deg(60), unit.Deg(1))})
	if angled.Tied != 1 || angled.Candidates[0].Name != "1/4 in Unified coarse" {
		t.Errorf("%d tied, first %s", angled.Tied, angled.Candidates[0].Name)
	}
	old := solved(t, Query{What: Screw, Diameter: diameter(3.41, .01), Pitch: meas.OfU(unit.Pitch(.83e-3), 5e-6), Year: 1760})
	if !old.none() || !code(old, "no-standard") {
		t.Errorf("none %.2f: %+v", old.None, old.Candidates[0])
	}
	bare := solved(t, Query{What: Screw, Diameter: diameter(2.8, .02)})
	if bare.Tied < 2 || !strings.Contains(bare.Next, "ten threads") {
		t.Errorf("%d tied: %s", bare.Tied, bare.Next)
	}
	worn := solved(t, Query{What: Screw, Worn: true, Diameter: diameter(4.33, .02), Pitch: meas.Of(unit.Pitch(.81e-3))})
	if !has(worn, "2 BA") {
		t.Errorf("worn: first %s", worn.Candidates[0].Name)
	}
	nut := solved(t, Query{What: Hole, Diameter: diameter(3.9, .02), Pitch: meas.Of(unit.Pitch(.81e-3))})
	if !has(nut, "2 BA") {
		t.Errorf("hole: first %s", nut.Candidates[0].Name)
	}
}

func typed(t testing.TB, s string) meas.Reading[unit.Length] {
	t.Helper()
	r, err := meas.Parse[unit.Length](s, "mm")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestInchesTypedAsMillimetres(t *testing.T) {
	_, err := Solve(Query{What: Screw, Diameter: typed(t, "0.125")})
	if err == nil || !strings.Contains(err.Error(), "write the unit: 0.125 in is 3.175") {
		t.Error(err)
	}
	a := solved(t, Query{What: Wire, Diameter: typed(t, "0.064")})
	if a.Findings[0].Code != "inches" {
		t.Errorf("%+v", a.Findings)
	}
	if a := solved(t, Query{What: Wire, Diameter: typed(t, "0.064 in")}); !has(a, "16 SWG") {
		t.Errorf("%+v", a.Candidates[0])
	}
}

func TestMistakesAllAtOnce(t *testing.T) {
	p, _ := meas.Parse[unit.Pitch]("40", "mm")
	_, err := Solve(Query{Pitch: p, Year: 12, Angle: meas.Of(unit.Deg(5)), Engagement: meas.Of(unit.Ratio(3))})
	var f meas.Faults
	if !errors.As(err, &f) || len(f) != 6 || !strings.Contains(err.Error(), "40 tpi") {
		t.Errorf("%d: %v", len(f), err)
	}
	for _, q := range []Query{{What: Wire, Diameter: diameter(1, .1), Threads: 3}, {What: Screw, Diameter: diameter(1, .1), Threads: 3}, {What: Screw, Diameter: diameter(3, .1), Threads: 3, Over: diameter(100, 1)}, {What: Screw, Diameter: diameter(-3, .1)}} {
		if _, err := Solve(q); err == nil {
			t.Errorf("%+v was taken", q)
		}
	}
}

// Tapping drills as handbooks give them: 2 BA 4.0, M3 2.5, 1/4 BSW 5.1 mm.
func TestTappingDrills(t *testing.T) {
	for name, want := range map[string]float64{"2 BA": 4.0, "M3": 2.5, "1/4 in BSW": 5.1, "4 BA": 3.0} {
		for _, th := range Threads() {
			if th.Name() != name {
				continue
			}
			m := Query{Engagement: meas.Of(unit.Ratio(.75))}.making(th)
			check.Near(t, name+" tapping, mm", m.Tapping.MM(), want, .12)
			if len(m.Drills) == 0 || m.Clearance.D < th.Major {
				t.Errorf("%s: %+v", name, m)
			}
			check.Near(t, name+" engaged", float64(Engaged(th, m.Tapping)), .75, 1e-9)
		}
	}
}

func FuzzSolve(f *testing.F) {
	f.Add("screw", "2.83 ± 0.01", "0.53 mm", 10, "5.3", 1880)
	f.Add("wire", "0.064", "", 0, "", 0)
	f.Add("hole", "1e-300 mm", "tpi", -4, "3 ft", -1)
	f.Fuzz(func(t *testing.T, what, d, p string, n int, over string, year int) {
		q := Query{What: what, Threads: n, Year: year}
		q.Diameter, _ = meas.Parse[unit.Length](d, "mm")
		q.Pitch, _ = meas.Parse[unit.Pitch](p, "mm")
		q.Over, _ = meas.Parse[unit.Length](over, "mm")
		a, err := Solve(q)
		if err != nil {
			return
		}
		sum := a.None
		for _, c := range a.Candidates {
			sum += c.Chance
		}
		if math.IsNaN(sum) || sum > 1+1e-9 {
			t.Fatalf("%+v: chances make %v", q, sum)
		}
	})
}

func BenchmarkSolve(b *testing.B) {
	q := Query{What: Screw, Diameter: diameter(2.8, .02), Pitch: meas.Of(unit.Pitch(.53e-3))}
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}
