package rate

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
)

// clock is a clock with known faults; times in seconds.
type clock struct {
	seed      uint64
	n         int
	beat      float64
	pm, fm    float64 // scatter, wander
	beatError float64
	silent    float64 // share of beats not heard
	wild      float64 // share of beats some ms off
	drift     float64 // each beat is longer than the last by this
	walk      float64 // the beat itself walks by this
	runs      int     // 0 is one
}

// truth is what an estimate is held against.
type truth struct {
	mean float64 // interval from the first to the last beat heard, walk included, scatter not
	next float64 // mean interval of the next stretch as long
	wild int
}

// beats makes the clock tick.
func (c clock) beats() ([]beat.Beat, truth) {
	rng := rand.New(rand.NewPCG(c.seed, 0x5ea7b0a4d))
	var out []beat.Beat
	var t truth
	at, count, slow := 0.3, 0.0, 0.0
	for run := range max(c.runs, 1) {
		first, last, from := 0, 0, 0.0
		began := false
		for k := range c.n {
			if k > 0 {
				at += c.beat + slow + c.drift*float64(k) + c.fm*rng.NormFloat64()
				if c.walk > 0 {
					slow += c.walk * rng.NormFloat64()
				}
			}
			x := at + c.pm*rng.NormFloat64() + c.beatError/2*(float64((k+run)&1)-0.5)
			if c.silent > 0 && rng.Float64() < c.silent {
				continue
			}
			if c.wild > 0 && rng.Float64() < c.wild {
				x += (0.002 + 0.006*rng.Float64()) * float64(1-2*rng.IntN(2))
				t.wild++
			}
			if !began {
				first, from, began = k, at, true
			}
			last = k
			out = append(out, beat.Beat{At: unit.Duration(x), N: int64(k), Run: run})
			t.next = at - from // so far: the mean below
			_ = last
		}
		t.mean += t.next
		count += float64(last - first)
		at += 17.3 + rng.Float64()
	}
	t.mean /= count
	t.next = c.beat + c.fm*rng.NormFloat64()/math.Sqrt(count)
	for range int(count * min(1, c.walk*1e300)) {
		slow += c.walk * rng.NormFloat64()
		t.next += slow / count
	}
	return out, t
}

func solved(t testing.TB, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// A clock without any scatter is told to the last digits.
func TestExactClock(t *testing.T) {
	for _, n := range []int{4, 5, 9, 60, 600} {
		b, want := clock{n: n, beat: 0.5, beatError: 0.004}.beats()
		a := solved(t, Query{Beats: b, Nominal: 0.5001})
		if math.Abs(float64(a.Beat.Value)-want.mean) > 1e-12 || !a.Beat.Has(unit.Duration(want.mean)) || a.Beat.Half() > 1e-9 {
			t.Errorf("%d beats: %+v", n, a.Beat)
		}
		if math.Abs(a.Mean.Value.PerDay()-17.28) > 1e-4 {
			t.Errorf("%d beats: the clock gains 17.28 s/d, got %v", n, a.Mean.Value.PerDay())
		}
		if math.Abs(float64(a.BeatError.Value)-0.004) > 1e-10 {
			t.Errorf("%d beats: beat error %v", n, a.BeatError.Value)
		}
		if a.Used != n || math.Abs(float64(a.PerHour.Value)-7200) > 1e-6 {
			t.Errorf("%d beats: used %d, %v an hour", n, a.Used, a.PerHour.Value)
		}
	}
}

func TestBadInput(t *testing.T) {
	five, _ := clock{n: 5, beat: 1}.beats()
	nan := append([]beat.Beat{}, five...)
	for i := range nan {
		nan[i].At = unit.Duration(math.NaN())
	}
	same := append([]beat.Beat{}, five...)
	for i := range same {
		same[i].N = 7
	}
	scattered := append([]beat.Beat{}, five...)
	for i := range scattered {
		scattered[i].Run = i
	}
	for name, b := range map[string][]beat.Beat{"none": nil, "three": five[:3], "no numbers": nan, "one number": same, "each its own run": scattered} {
		if _, err := Solve(Query{Beats: b}); !errors.Is(err, ErrTooFew) {
			t.Errorf("%s: %v", name, err)
		}
	}
	odd := append([]beat.Beat{}, five...)
	odd[2].At, odd[4].N = unit.Duration(math.Inf(1)), math.MaxInt64
	odd[0].U, odd[1].U = unit.Duration(math.NaN()), -3
	if a, err := Solve(Query{Beats: odd, Nominal: 1}); err == nil && math.IsNaN(float64(a.Beat.Value)) {
		t.Errorf("%+v", a.Beat)
	}
}

// A count that no clock reaches does not count, and spoils nothing.
func TestCountOutOfReach(t *testing.T) {
	b, _ := clock{n: 30, beat: 1, pm: 1e-4}.beats()
	b[17].N = -140737488361359
	a := solved(t, Query{Beats: b, Nominal: 1})
	if a.Used != 29 || !(a.Beat.Low <= 1 && 1 <= a.Beat.High) {
		t.Errorf("%d beats, %+v", a.Used, a.Beat)
	}
}

// Whatever the beats, there is an error or an answer whose limits enclose it.
func TestNonsense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 40).Draw(t, "n")
		b := make([]beat.Beat, n)
		wild := rapid.OneOf(rapid.Float64Range(-5, 40), rapid.Float64(), rapid.SampledFrom([]float64{0, 1, math.NaN(), math.Inf(1), 1e300}))
		number := rapid.OneOf(rapid.Int64Range(-3, 40), rapid.Int64())
		for i := range b {
			b[i] = beat.Beat{At: unit.Duration(i), N: int64(i)}
			if rapid.IntRange(0, 3).Draw(t, "is wild") == 0 {
				b[i] = beat.Beat{At: unit.Duration(wild.Draw(t, "at")), U: unit.Duration(wild.Draw(t, "u")), N: number.Draw(t, "number"), Run: rapid.IntRange(-1, 2).Draw(t, "run")}
			}
		}
		a, err := Solve(Query{Beats: b, Nominal: unit.Duration(wild.Draw(t, "nominal")), Runs: make([]beat.Run, 1)})
		if err != nil {
			if !errors.Is(err, ErrTooFew) {
				t.Fatal(err)
			}
			return
		}
		if v := a.Beat; !(v.Low <= v.Value && v.Value <= v.High) && v.Set {
			t.Fatalf("beat %+v", v)
		}
		if v := a.Scatter; v.Set && !(v.Low <= v.Value && v.Value <= v.High) {
			t.Fatalf("scatter %+v", v)
		}
		for _, r := range a.Residuals {
			if math.IsNaN(float64(r.Off + r.Smooth + r.Band)) {
				t.Fatalf("residual %+v", r)
			}
		}
	})
}

func TestNominalUnknown(t *testing.T) {
	b, _ := clock{n: 20, beat: 1, pm: 1e-4}.beats()
	if a := solved(t, Query{Beats: b}); a.Mean.Set || a.Expect.Set || !a.Beat.Set {
		t.Errorf("%+v", a)
	}
}

// Every other beat silent: no beat error can be told, the beat can.
func TestOneSideOnly(t *testing.T) {
	var one []beat.Beat
	b, want := clock{n: 61, beat: 1, pm: 1e-4, beatError: 0.01}.beats()
	for _, x := range b {
		if !x.Tock() {
			one = append(one, x)
		}
	}
	a := solved(t, Query{Beats: one})
	if a.BeatError.Set || a.BeatErrorChange.Set {
		t.Errorf("beat error %+v", a.BeatError)
	}
	if math.Abs(float64(a.Beat.Value)-want.mean) > 2e-5 {
		t.Errorf("beat %v, want %v", a.Beat.Value, want.mean)
	}
}

// Wild beats are marked, hardly any other is, and the answer stays.
func TestWildBeats(t *testing.T) {
	const seeds = 40
	for _, n := range []int{60, 600} {
		marked, wild, wrong, held := 0, 0, 0, 0
		for seed := range uint64(seeds) {
			c := clock{seed: seed, n: n, beat: 0.5, pm: 1e-4, fm: 2e-6, beatError: 0.02, wild: 0.05, silent: 0.03}
			b, want := c.beats()
			a := solved(t, Query{Beats: b, Nominal: 0.5})
			odd := 0
			for _, r := range a.Residuals {
				if r.Odd {
					odd++
				}
				if r.Odd && math.Abs(float64(r.Off)) < 0.0015 {
					wrong++
				}
			}
			wild, marked = wild+want.wild, marked+odd
			if a.Beat.Has(unit.Duration(want.mean)) {
				held++
			}
			if float64(a.Scatter.Value) > 1.7e-4 || a.Used != len(b)-odd {
				t.Errorf("%d beats, seed %d: scatter %v, used %d of %d, %d odd, %d wild", n, seed, a.Scatter.Value, a.Used, len(b), odd, want.wild)
			}
		}
		t.Logf("%d beats: %d of %d wild marked, %d others, %d of %d hold", n, marked-wrong, wild, wrong, held, seeds)
		if float64(marked-wrong) < 0.99*float64(wild) || wrong > 3 || held < seeds*85/100 {
			t.Errorf("%d beats: %d of %d wild marked, %d others, %d of %d hold", n, marked-wrong, wild, wrong, held, seeds)
		}
	}
}

// Runs share period and noise and may begin with either side.
func TestSeveralRuns(t *testing.T) {
	const seeds = 100
	held, sides := 0, 0
	for seed := range uint64(seeds) {
		c := clock{seed: seed, n: 50, beat: 0.8, pm: 2e-4, fm: 1e-5, beatError: 0.006, runs: 3}
		b, want := c.beats()
		runs := make([]beat.Run, 3)
		a := solved(t, Query{Beats: b, Runs: runs})
		if a.Beat.Has(unit.Duration(want.mean)) {
			held++
		}
		if a.BeatErrorChange.Has(0.006) || a.BeatErrorChange.Has(-0.006) {
			sides++
		}
		if a.Used < 148 || len(a.Residuals) != 150 {
			t.Fatalf("used %d, %d residuals", a.Used, len(a.Residuals))
		}
	}
	if held < 88 || sides < 88 {
		t.Errorf("of %d the beat holds in %d, the beat error in %d", seeds, held, sides)
	}
}

// The doubt of the two sounds' places is in the beat error, not in its change.
func TestOffsetDoubt(t *testing.T) {
	b, _ := clock{n: 100, beat: 1, pm: 1e-5}.beats()
	a := solved(t, Query{Beats: b, Runs: []beat.Run{{OffsetU: 3e-5}}})
	if h := float64(a.BeatError.Half()); h < 1.9*6e-5 || h > 2.2*6e-5 {
		t.Errorf("half width %v", h)
	}
	if h := float64(a.BeatErrorChange.Half()); h > 2e-5 {
		t.Errorf("half width of the change %v", h)
	}
}

// Scatter and wander come out, and wander that cannot be told has no lower limit.
func TestNoiseLevels(t *testing.T) {
	for _, c := range []clock{
		{n: 1200, beat: 1, pm: 1e-4, fm: 0},
		{n: 1200, beat: 1, pm: 1e-4, fm: 2e-5},
		{n: 1200, beat: 1, pm: 1e-6, fm: 2e-5},
		{n: 1200, beat: 1, pm: 1e-4, fm: 2e-5, silent: 0.2},
	} {
		b, _ := c.beats()
		a := solved(t, Query{Beats: b})
		name := fmt.Sprintf("%.0f and %.0f µs", c.pm*1e6, c.fm*1e6)
		if !a.Wander.Has(unit.Duration(c.fm)) || (c.fm == 0) != (a.Wander.Low == 0) || a.Wander.High > unit.Duration(1.3*c.fm+2e-6) {
			t.Errorf("%s: wander %+v", name, a.Wander)
		}
		if !a.Scatter.Has(unit.Duration(c.pm)) || c.pm < c.fm && a.Scatter.Low != 0 {
			t.Errorf("%s: scatter %+v", name, a.Scatter)
		}
	}
}

// The sound's own doubt is not the clock's scatter; noisy beats weigh less.
func TestSoundDoubt(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	b, want := clock{n: 800, beat: 1, pm: 2e-5}.beats()
	for i := range b {
		u := 5e-6
		if i%3 == 0 {
			u = 3e-4
		}
		b[i].U = unit.Duration(u)
		b[i].At += unit.Duration(u * rng.NormFloat64())
	}
	a := solved(t, Query{Beats: b})
	even := append([]beat.Beat{}, b...)
	for i := range even {
		even[i].U = 0
	}
	plain := solved(t, Query{Beats: even})
	if !a.Beat.Has(unit.Duration(want.mean)) || a.Beat.Half() > 0.5*plain.Beat.Half() {
		t.Errorf("weighed %+v, plain %+v", a.Beat, plain.Beat)
	}
	if a.Scatter.Value > 6e-5 {
		t.Errorf("scatter %v", a.Scatter)
	}
}

// A rate that changes is said, and the rate to expect is stretched to it; a
// clock that only wanders is hardly ever accused.
func TestDrift(t *testing.T) {
	b, want := clock{seed: 1, n: 3600, beat: 1, pm: 2e-5, drift: 1e-5 / 3600}.beats()
	a := solved(t, Query{Beats: b, Nominal: 1})
	if len(a.Findings) != 1 || a.Findings[0].Code != "drifting-rate" {
		t.Fatalf("findings %+v", a.Findings)
	}
	if !a.Beat.Has(unit.Duration(want.mean)) {
		t.Errorf("mean %+v, want %v", a.Beat, want.mean)
	}
	next := 1 + 1.5e-5
	if r := unit.Rate(1/next - 1); !a.Expect.Has(r) {
		t.Errorf("expect %+v, comes %v", a.Expect, r)
	}
	accused := 0
	for seed := range uint64(100) {
		b, _ := clock{seed: seed, n: 300, beat: 1, pm: 1e-4, fm: 2e-5}.beats()
		accused += len(solved(t, Query{Beats: b}).Findings)
	}
	if accused > 2 {
		t.Errorf("%d of 100 accused", accused)
	}
}

// The band holds the clock's true place in most beats, and the line is taken out.
func TestResiduals(t *testing.T) {
	b, _ := clock{seed: 9, n: 400, beat: 1, pm: 1e-4, fm: 2e-5, beatError: 0.01}.beats()
	a := solved(t, Query{Beats: b})
	sum := 0.0
	for i, r := range a.Residuals {
		sum += float64(r.Smooth)
		if r.At != b[i].At || r.N != b[i].N || !(r.Band > 0) || r.Band > 2e-4 || math.Abs(float64(r.Off-r.Smooth)) > 5e-4 {
			t.Fatalf("%d: %+v", i, r)
		}
	}
	if math.Abs(sum/400) > 1e-9 {
		t.Errorf("the mean of the smoothed is %v", sum/400)
	}
	if len(a.Allan) < 7 {
		t.Fatalf("%d in the Allan table", len(a.Allan))
	}
	for _, x := range a.Allan {
		tau := float64(x.Tau)
		if want := math.Sqrt(3e-8/tau/tau + 4e-10/tau); want < 0.7*x.Low || want > 1.4*x.High {
			t.Errorf("at %v s: %v (%v to %v), want %v", tau, x.Dev, x.Low, x.High, want)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{60, 300, 600, 3600, 36000, 864000} {
		beats, _ := clock{n: n, beat: 0.1, pm: 1e-4, fm: 5e-6, beatError: 0.01, wild: 0.01}.beats()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Solve(Query{Beats: beats, Nominal: 0.1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
