package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

const hour = 3600

func TestPrintedFigures(t *testing.T) { check.All(t, Checks()) }

func TestSourcesAreKnown(t *testing.T) {
	for _, e := range Sources() {
		if _, ok := cite.Find(e.Ref.Source); e.Ref.Source != "" && !ok {
			t.Errorf("%s: %q", e.Name, e.Ref.Source)
		}
	}
}

func hours(low, likely, high float64) Task { return threePointTask(low*hour, likely*hour, high*hour) }

func solve(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func ratio(x float64) meas.Reading[unit.Ratio] { return meas.Of(unit.Ratio(x)) }

// One task is its own PERT beta: mean (a+4m+b)/6 and variance (μ−a)(b−μ)/7.
func TestOneTaskIsItsBeta(t *testing.T) {
	a := solve(t, Query{Tasks: []Task{hours(4, 6, 12)}})
	mu := 40.0 / 6
	check.Near(t, "mean", float64(a.Mean)/hour, mu, 1e-9)
	check.Near(t, "spread", float64(a.Drawn.U)/hour, math.Sqrt((mu-4)*(12-mu)/7), 0.02)
	if !(a.Drawn.Low < a.Drawn.Value && a.Drawn.Value < a.Drawn.High) || a.Drawn.Low < 4*hour || a.Drawn.High > 12*hour {
		t.Errorf("%+v", a.Drawn)
	}
}

// Independent tasks add their variances; tasks that go together add their
// deviations; the range lies between and grows with the correlation.
func TestCorrelationWidensTheRange(t *testing.T) {
	var tasks []Task
	for range 16 {
		tasks = append(tasks, hours(2, 4, 6))
	}
	one := math.Sqrt(2.0 * 2 / 7) // hours, of one task
	u := func(rho float64) float64 {
		return float64(solve(t, Query{Tasks: tasks, Correlation: ratio(rho)}).Drawn.U) / hour
	}
	check.Near(t, "independent", u(0), 4*one, 0.06)
	check.Near(t, "nearly together", u(0.99), 16*one, 0.25)
	check.Near(t, "in between, ρ = 0.5", u(0.5), one*math.Sqrt(16+16*15*0.49), 0.25) // the scores' 0.5 is about 0.49 of the times
	if !(u(0) < u(0.3) && u(0.3) < u(0.6)) {
		t.Error("the range does not grow with the correlation")
	}
}

func TestTheWholeIsMoreThanTheSumOfLikelies(t *testing.T) {
	a := solve(t, Query{Tasks: []Task{hours(2, 3, 8), hours(1, 2, 7), hours(4, 5, 12)}})
	if a.Likely != 10*hour || a.Drawn.Value <= a.Likely || a.Chance > 0.2 {
		t.Errorf("likely %v, middle %v, chance %v", a.Likely, a.Drawn.Value, a.Chance)
	}
}

func TestSameSeedSameAnswer(t *testing.T) {
	q := Query{Tasks: []Task{hours(2, 3, 8), hours(1, 2, 7)}, Seed: 7}
	a, b := solve(t, q), solve(t, q)
	if a.Range != b.Range {
		t.Errorf("%v and %v", a.Range, b.Range)
	}
	q.Seed = 8
	c := solve(t, q)
	if c.Range == a.Range || math.Abs(float64(c.Drawn.High-a.Drawn.High)) > 6*float64(a.DrawnU) {
		t.Errorf("another seed: %v, doubt %v", c.Drawn, a.DrawnU)
	}
}

func TestTasksWithoutWidth(t *testing.T) {
	a := solve(t, Query{Tasks: []Task{hours(3, 3, 3)}})
	if a.Drawn.Low != 3*hour || a.Drawn.High != 3*hour || a.Chance != 1 {
		t.Errorf("%+v %v", a.Drawn, a.Chance)
	}
	if a := solve(t, Query{}); a.Complete || a.Range.Set {
		t.Errorf("of nothing: %+v", a)
	}
	left := hours(3, 3, 3)
	left.LeftOut = true
	if a := solve(t, Query{Tasks: []Task{left, hours(1, 1, 1)}}); a.Mean != hour {
		t.Errorf("a task left out counts: %v", a.Mean)
	}
}

func TestLearning(t *testing.T) {
	q := Query{Tasks: []Task{hours(10, 10, 10)}}
	for _, r := range []float64{1.1, 1.3} {
		q.Finished = append(q.Finished, Finished{Job: "x", Estimated: 10 * hour, Actual: unit.Duration(r * 10 * hour)})
	}
	if a := solve(t, q); a.Learned != nil || a.From != FromTasks {
		t.Error("two jobs are enough to learn from")
	}
	q.Finished = append(q.Finished, Finished{Job: "y", Estimated: 20 * hour, Actual: 24 * hour}, Finished{Job: "z", Estimated: 1, Actual: 100, LeftOut: "the case came in later"})
	a := solve(t, q)
	want := math.Cbrt(1.1 * 1.3 * 1.2)
	if a.Learned == nil || a.Learned.Jobs != 3 || a.From != FromFinished {
		t.Fatalf("%+v", a.Learned)
	}
	check.Near(t, "ratio", a.Learned.Ratio, want, 1e-12)
	check.Near(t, "middle", float64(a.Range.Value)/hour, 10*want, 1e-9)
	// t of 2 degrees of freedom at 90 % of one side: 1.8856.
	s := a.Learned.Spread
	check.Near(t, "upper limit", float64(a.Range.High)/hour, 10*want*math.Exp(1.8856*s*math.Sqrt(4.0/3)), 1e-3)
	for i := range q.Finished {
		q.Finished[i].Actual = q.Finished[i].Estimated
	}
	if solve(t, q).Learned != nil {
		t.Error("jobs that all took exactly their estimate give a range of no width")
	}
}

// The range learned from n jobs holds as many of the next ones as it says,
// over many made-up shops of known ratio and scatter.
func TestCoverageOfTheLearnedRange(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		jobs  int
		level float64
	}{{3, 0.8}, {3, 0.95}, {12, 0.8}, {12, 0.95}} {
		const shops = 4000
		inside := 0
		for range shops {
			job := func() float64 { return math.Exp(0.2 + 0.3*random.NormFloat64()) }
			var done []Finished
			for range c.jobs {
				done = append(done, Finished{Estimated: 10 * hour, Actual: unit.Duration(10 * hour * job())})
			}
			r := Learn(done, c.level).Next(10*hour, c.level)
			if x := unit.Duration(10 * hour * job()); r.Low <= x && x <= r.High {
				inside++
			}
		}
		got := float64(inside) / shops
		check.Near(t, "coverage", got, c.level, 4*math.Sqrt(c.level*(1-c.level)/shops))
	}
}

// The range drawn from the tasks holds as many made-up jobs as it says.
func TestCoverageOfTheDrawnRange(t *testing.T) {
	tasks := []Task{hours(2, 3, 8), hours(1, 2, 7), hours(4, 5, 12), hours(0.5, 1, 1.5)}
	for _, level := range []float64{0.8, 0.95} {
		a := solve(t, Query{Tasks: tasks, Level: ratio(level), Seed: 1})
		inside := 0
		for _, x := range draws(tasks, usualCorrelation.V, 99) {
			if float64(a.Drawn.Low) <= x && x <= float64(a.Drawn.High) {
				inside++
			}
		}
		check.Near(t, "coverage", float64(inside)/Runs, level, 0.012)
	}
}

func TestCheckNamesAllMistakes(t *testing.T) {
	bad := Task{Low: meas.Of[unit.Duration](5), Likely: meas.Of[unit.Duration](4), High: meas.Of[unit.Duration](-1), Decision: Replace}
	q := Query{Tasks: []Task{bad, {What: "x", Decision: "burn"}}, Correlation: ratio(1), Level: ratio(0.2), Finished: []Finished{{Job: "a", Actual: -1}}}
	_, err := Solve(q)
	f, _ := err.(meas.Faults)
	if len(f) != 12 {
		t.Errorf("%d: %v", len(f), f)
	}
}

// The range contains its middle, lies within the sums of lows and highs, and
// nothing panics.
func TestRangeIsInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var q Query
		var low, high float64
		for range rapid.IntRange(1, 4).Draw(t, "tasks") {
			x := rapid.SliceOfN(rapid.Float64Range(0, 100), 3, 3).Draw(t, "hours")
			slices.Sort(x)
			q.Tasks = append(q.Tasks, hours(x[0], x[1], x[2]))
			low, high = low+x[0]*hour, high+x[2]*hour
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		r := a.Range
		if !(r.Low <= r.Value && r.Value <= r.High) || float64(r.Low) < low-1e-6 || float64(r.High) > high+1e-6 {
			t.Fatalf("%+v of %v to %v", r, low, high)
		}
	})
}

func BenchmarkSolve30Tasks(b *testing.B) {
	var q Query
	for i := range 30 {
		q.Tasks = append(q.Tasks, hours(1, 2+float64(i)/30, 5))
	}
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}

// The twenty jobs lie about the range as its level says, in order, and in the
// limits of what the range is from.
func TestTwentyJobsAgreeWithTheRange(t *testing.T) {
	q := Query{Tasks: []Task{hours(2, 4, 9), hours(1, 2, 6), hours(10, 12, 30)}}
	check := func(a Answer) {
		t.Helper()
		if len(a.Jobs) != Twenty || !slices.IsSorted(a.Jobs) {
			t.Fatalf("%v", a.Jobs)
		}
		within := 0
		for _, j := range a.Jobs {
			if j >= a.Range.Low && j <= a.Range.High {
				within++
			}
		}
		if within != 16 || a.Jobs[9] > a.Range.Value || a.Jobs[10] < a.Range.Value {
			t.Errorf("%d of 20 within an 80 %% range, middle %v of %v", within, a.Range.Value, a.Jobs)
		}
	}
	check(solve(t, q))
	for i, x := range []float64{0.8, 1.1, 1.3, 1.6} {
		q.Finished = append(q.Finished, Finished{Job: string(rune('a' + i)), Estimated: 10 * hour, Actual: unit.Duration(10 * hour * x)})
	}
	check(solve(t, q))
}
