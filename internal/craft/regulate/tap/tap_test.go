package tap

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestPrinted(t *testing.T) {
	check.All(t, Checks())
}

// Rosner's example: three of 54 are apart, though the first two steps alone
// would not say so.
func TestRosner(t *testing.T) {
	at := make([]int, len(rosner))
	for i := range at {
		at[i] = i
	}
	n := 0
	left := at
	for step := 1; step <= 10; step++ {
		f := meanOf(left)
		j, far := f.farthest()
		if far > critical(len(left), f.freedom, 0.05) {
			n = step
		}
		left = append(left[:j:j], left[j+1:]...)
	}
	if n != 3 {
		t.Errorf("%d apart, printed 3", n)
	}
}

var start = time.Date(2026, 3, 4, 9, 13, 55, 0, time.FixedZone("", 3600))

// taps makes taps at the marks of a clock that is wrong by e at the start and
// gains rate.
func taps(n int, every, e, rate, lag, scatter float64, r *rand.Rand) Query {
	q := Query{Start: start, Way: Seconds, Every: unit.Duration(every)}
	from := 9*3600.0 + 13*60 + 55
	first := math.Ceil((from+e)/every+0.2) * every // dial at the first mark
	for k := range n {
		d := first + float64(k)*every
		at := (d - from - e) / (1 + rate)
		q.Taps = append(q.Taps, unit.Duration(at+lag+scatter*r.NormFloat64()))
	}
	q.Shown = meas.Exactly(unit.Duration(math.Mod(first+dial, dial)))
	return q
}

func solved(t testing.TB, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Without scatter and habit the error comes out as it is.
func TestExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for _, e := range []float64{0, 12.25, -29, 75, -3600, 5*3600 + 1799} {
		q := taps(6, 60, e, 0, 0, 0, r)
		q.Lag = meas.Exactly(unit.Duration(0))
		a := solved(t, q)
		check.Near(t, "error", float64(a.Error.Value), e, 1e-6)
		if !a.Complete {
			t.Errorf("%v: not complete", e)
		}
	}
	q := taps(6, 60, 12, 100/86400.0, 0, 0, r)
	q.Lag = meas.Exactly(unit.Duration(0))
	a := solved(t, q)
	check.Near(t, "rate", float64(a.Rate.Value)*86400, 100, 1e-6)
	check.Near(t, "error at the mean instant", float64(a.Error.Value), 12+100/86400.0*a.At.Sub(start).Seconds(), 1e-6)
}

// Each 95 % limit holds in 95 of 100 readings: what is true is drawn anew for
// each, the habit of the person with it.
func TestLimitsHold(t *testing.T) {
	for i, c := range []struct {
		name    string
		n       int
		every   float64
		scatter float64
		rate    float64
	}{
		{"three taps", 3, 60, 0.1, 0},
		{"three wide taps", 3, 60, 1, 0},
		{"five a minute apart", 5, 60, 0.1, 60},
		{"ten a minute apart, far from right", 10, 60, 0.5, 300},
		{"twenty of every beat", 20, 1, 0.03, 20},
		{"ninety of every beat", 90, 1, 0.15, 20},
	} {
		held, rated := 0, 0
		const seeds = 1000
		for seed := range seeds {
			r := rand.New(rand.NewPCG(uint64(seed), uint64(100+i)))
			e, lag := 40*r.NormFloat64(), 0.11+0.07*r.NormFloat64()
			host := 0.02 * r.NormFloat64()
			q := taps(c.n, c.every, e, c.rate/86400, lag+host, c.scatter, r)
			q.Host = 0.02
			a := solved(t, q)
			at := a.At.Sub(start).Seconds()
			if a.Error.Has(unit.Duration(e + c.rate/86400*at)) {
				held++
			}
			if !a.Rate.Set || a.Rate.Has(unit.Rate(c.rate/86400)) {
				rated++
			}
		}
		t.Logf("%s: %d of %d limits of the error hold, %d of the rate", c.name, held, seeds, rated)
		if held < 930 || held > 982 {
			t.Errorf("%s: %d of %d limits hold", c.name, held, seeds)
		}
		if rated < 925 {
			t.Errorf("%s: %d of %d limits of the rate hold", c.name, rated, seeds)
		}
	}
}

// An odd tap is found, and the limits hold with it among the rest.
func TestOddTapsAreFound(t *testing.T) {
	found, held := 0, 0
	const seeds = 1000
	for seed := range seeds {
		r := rand.New(rand.NewPCG(uint64(seed), 9))
		lag := 0.11 + 0.07*r.NormFloat64()
		q := taps(9, 60, 3, 0, lag, 0.08, r)
		at := r.IntN(9)
		q.Taps[at] += 0.9
		a := solved(t, q)
		if a.Taps[at].Odd == Apart {
			found++
		}
		if a.Error.Has(3) {
			held++
		}
	}
	t.Logf("%d of %d found, %d limits hold", found, seeds, held)
	if found < 960 || held < 930 {
		t.Errorf("%d of %d found, %d limits hold", found, seeds, held)
	}
}

// One tap half a mark off does not shift the count of those after it, and a
// mark that was missed is no matter.
func TestMarksAreCounted(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	q := taps(20, 1, 0.3, 0, 0.11, 0.02, r)
	q.Taps[7] += 0.5
	q.Taps = append(q.Taps[:12:12], q.Taps[14:]...) // two missed
	a := solved(t, q)
	if got := a.Taps[len(a.Taps)-1].Mark; got != 19 {
		t.Errorf("the last mark is %d, want 19", got)
	}
	if a.Taps[7].Odd == "" || !a.Error.Has(0.3) {
		t.Errorf("tap 8 is %q, error %s", a.Taps[7].Odd, a.Error.Text("s"))
	}
	q = taps(5, 60, 0, 0, 0.11, 0.02, r)
	q.Taps = append(q.Taps[:3:3], append([]unit.Duration{q.Taps[2] + 0.2}, q.Taps[3:]...)...)
	if a = solved(t, q); a.Used() != 5 || a.Taps[3].Odd != Twice {
		t.Errorf("a tap twice: %+v", a.Taps)
	}
}

func TestTooFew(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for n := 1; n < 3; n++ {
		a := solved(t, taps(n, 60, 5, 0, 0.1, 0.05, r))
		if a.Complete || a.Error.Set || a.Findings[0].Code != "few" {
			t.Errorf("%d taps: %+v", n, a)
		}
	}
	q := taps(1, 3600, -14, 0, 0.16, 0, r)
	q.Way = Blow
	a := solved(t, q)
	check.Near(t, "one blow", float64(a.Error.Value), -14, 0.001)
	check.Near(t, "its doubt", float64(a.U), math.Hypot(0.0707, 0.05), 0.001)
}

// Without the dial the nearest mark is taken, to right or to what the clock
// was lately wrong by, and it is asked where that does not tell.
func TestWhichMark(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	q := taps(5, 60, 50, 0, 0.11, 0.01, r)
	q.Shown = meas.Result[unit.Duration]{}
	check.Near(t, "nearest to right", float64(solved(t, q).Error.Value), -10, 0.1)
	q.Near = meas.Result[unit.Duration]{Value: 47, U: 3, HasU: true, Set: true}
	check.Near(t, "nearest to the last", float64(solved(t, q).Error.Value), 50, 0.1)
	q.Near.U, q.Near.Value = 15, 25
	a := solved(t, q)
	if !has(a, "which-mark") {
		t.Error("it is not asked which mark it was")
	}
}

// The two halves of an uneven beat are told apart, and their limits hold.
func TestHalves(t *testing.T) {
	held := 0
	const seeds = 1000
	for seed := range seeds {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		q := taps(24, 1, 0.1, 0, 0.05, 0.03, r)
		q.Way, q.Beat, q.Lag = InBeat, 1, meas.Result[unit.Duration]{Value: 0.05, Set: true}
		for i := 1; i < len(q.Taps); i += 2 {
			q.Taps[i] += 0.06 // the first beat is longer by twice this than the next
		}
		a := solved(t, q)
		if !a.BeatError.Set {
			t.Fatal("no beat error")
		}
		if a.BeatError.Has(0.12) {
			held++
		}
	}
	if held < 930 || held > 970 {
		t.Errorf("%d of %d limits of the beat error hold", held, seeds)
	}
	r := rand.New(rand.NewPCG(1, 11))
	q := taps(10, 2, 0.1, 0, 0.05, 0.03, r)
	q.Way, q.Beat = InBeat, 1
	if a := solved(t, q); a.BeatError.Set || !has(a, "half") {
		t.Error("taps of one half tell a beat error, or do not say that they are of one half")
	}
}

func has(a Answer, code string) bool {
	for _, f := range a.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

// Taps that have nothing to do with the marks are not taken for a reading
// without a word.
func TestWrongSpacing(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	q := taps(16, 0.8, 0, 0, 0.1, 0.01, r)
	q.Every = 1
	if a := solved(t, q); !has(a, "spacing") {
		t.Errorf("marks 0.8 s apart pass for 1 s: %s", a.Error.Text("s"))
	}
}

func TestFaults(t *testing.T) {
	_, err := Solve(Query{Taps: []unit.Duration{5, 3}, Every: 0.7, Beat: -1, Lag: meas.Exactly(unit.Duration(math.NaN()))})
	if err == nil {
		t.Fatal("nothing is wrong")
	}
	for _, want := range []string{"Tap 2 comes before", "time of the taps", "do not divide twelve hours", "A beat must", "late the taps"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not said: %v", want, err)
		}
	}
}

func FuzzSolve(f *testing.F) {
	f.Add([]byte{60, 61, 60, 59, 60, 60}, 60.0, uint8(0), 0.0, true)
	f.Add([]byte{0, 0, 0, 0}, 1.0, uint8(1), 1.0, false)
	f.Fuzz(func(t *testing.T, steps []byte, every float64, way uint8, beat float64, shown bool) {
		q := Query{Start: start, Way: Ways()[int(way)%4], Every: unit.Duration(every), Beat: unit.Duration(beat)}
		at := unit.Duration(0)
		for _, s := range steps {
			at += unit.Duration(s) * unit.Duration(math.Abs(every)) / 60
			q.Taps = append(q.Taps, at)
		}
		if shown {
			q.Shown = meas.Exactly(unit.Duration(9 * 3600))
		}
		a, err := Solve(q)
		if err != nil {
			return
		}
		if a.Complete != a.Error.Set || a.Error.Set && !(a.Error.Low <= a.Error.Value && a.Error.Value <= a.Error.High && a.U > 0) {
			t.Errorf("%+v", a.Error)
		}
		if a.Error.Set && (a.Used() < 3 && q.Way != Blow || math.Abs(float64(a.Error.Value)) > 6*3600+3600) {
			t.Errorf("%d taps: %v", a.Used(), a.Error)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Error(err)
		}
	})
}
