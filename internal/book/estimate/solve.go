package estimate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// Runs is how often the whole is drawn.
const Runs = 20000

// Twenty is how many jobs stand for all that may come.
const Twenty = 20

// middleOf is the middle of the i-th of twenty even parts of all that may
// come.
func middleOf(i int) float64 { return (float64(i) + 0.5) / Twenty }

// Answer is the range of the whole.
type Answer struct {
	Query     Query                        `json:"query"`
	Range     meas.Interval[unit.Duration] `json:"range"`      // what to quote; Value is the middle, as likely too much as too little
	From      string                       `json:"range_from"` // "tasks" or "finished jobs"
	Level     float64                      `json:"level"`      // the share of such jobs that lie in the range
	Drawn     meas.Interval[unit.Duration] `json:"drawn"`      // the range from the tasks alone
	DrawnU    unit.Duration                `json:"drawn_u"`    // standard uncertainty of its limits from the drawing
	Mean      unit.Duration                `json:"mean"`       // of the tasks, exact
	Likely    unit.Duration                `json:"likely"`     // the sum of the likely hours: not to be quoted
	Chance    float64                      `json:"chance"`     // that the work takes no more than that, from the tasks
	Classical Classical                    `json:"classical"`
	Learned   *Learned                     `json:"learned"` // null where too few jobs are finished
	Jobs      []unit.Duration              `json:"jobs"`    // Twenty such jobs in order, evenly likely: what each takes, seconds; by where the range is from
	Working   []cite.Step                  `json:"working"`
	Findings  []meas.Finding               `json:"findings"`
	Complete  bool                         `json:"complete"`
}

// Classical is the sum of means and variances of independent tasks.
type Classical struct {
	Mean  unit.Duration `json:"mean"`
	Sigma unit.Duration `json:"sigma"`
}

// Where the range is from.
const (
	FromTasks    = "tasks"
	FromFinished = "finished jobs"
)

// Solve reckons the range. The error is a meas.Faults with every mistake; the
// answer then holds the query alone.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	tasks := included(q.Tasks)
	a.Level = usualLevel.V
	if q.Level.Set {
		a.Level = float64(q.Level.Value)
	}
	a.Classical = sum(tasks)
	a.Mean = a.Classical.Mean
	for _, t := range tasks {
		a.Likely += t.Likely.Value
	}
	if len(tasks) == 0 {
		return a, nil
	}
	a.draw(tasks)
	a.Range, a.From = a.Drawn, FromTasks
	a.Complete = true
	a.show()
	a.learn()
	return a, nil
}

// included is the tasks that count.
func included(all []Task) []Task {
	return slices.DeleteFunc(slices.Clone(all), func(t Task) bool { return t.LeftOut })
}

// sum is the classical sum.
func sum(tasks []Task) Classical {
	var c Classical
	v := 0.0
	for _, t := range tasks {
		c.Mean += t.Mean()
		v += float64(t.Sigma()) * float64(t.Sigma())
	}
	c.Sigma = unit.Duration(math.Sqrt(v))
	return c
}

// correlation is that of the normal scores of every two tasks.
func (q Query) correlation() float64 {
	if q.Correlation.Set {
		return float64(q.Correlation.Value)
	}
	return usualCorrelation.V
}

// draw draws the whole and reads its range off.
func (a *Answer) draw(tasks []Task) {
	totals := draws(tasks, a.Query.correlation(), a.Query.Seed)
	slices.Sort(totals)
	mean, square := 0.0, 0.0
	for _, x := range totals {
		mean += x
		square += x * x
	}
	mean /= Runs
	low, high := (1-a.Level)/2, (1+a.Level)/2
	a.Drawn = meas.Interval[unit.Duration]{
		Value: quantile(totals, 0.5), Low: quantile(totals, low), High: quantile(totals, high),
		U: unit.Duration(math.Sqrt(max(0, square/Runs-mean*mean))), Set: true,
	}
	for i := range Twenty {
		a.Jobs = append(a.Jobs, quantile(totals, middleOf(i)))
	}
	a.DrawnU = max(orderDoubt(totals, low), orderDoubt(totals, high))
	at, _ := slices.BinarySearch(totals, float64(a.Likely)*(1+1e-12))
	a.Chance = float64(at) / Runs
}

// quantile of sorted draws.
func quantile(sorted []float64, p float64) unit.Duration {
	return unit.Duration(sorted[min(max(int(p*float64(len(sorted))), 0), len(sorted)-1)])
}

// orderDoubt is the standard uncertainty of a quantile that was drawn: half
// the distance of the order statistics one binomial deviation to either side.
func orderDoubt(sorted []float64, p float64) unit.Duration {
	d := math.Sqrt(p * (1 - p) / float64(len(sorted)))
	return (quantile(sorted, p+d) - quantile(sorted, p-d)) / 2
}

// draws draws the whole Runs times, in seconds. The normal score of each task
// is √ρ of one that all share and √(1 − ρ) of its own.
func draws(tasks []Task, rho float64, seed uint64) []float64 {
	random := rand.New(rand.NewPCG(seed, 0x5ea7b0a2d))
	curves := make([]curve, len(tasks))
	for i, t := range tasks {
		curves[i] = curveOf(t)
	}
	shared, own := math.Sqrt(rho), math.Sqrt(1-rho)
	totals := make([]float64, Runs)
	for k := range totals {
		z := random.NormFloat64()
		for i := range curves {
			totals[k] += curves[i].at(shared*z + own*random.NormFloat64())
		}
	}
	return totals
}

// curve is the time of a task at each of a row of normal scores.
type curve [curvePoints]float64

const (
	curvePoints = 81
	curveReach  = 4.0 // the row runs from −4 to 4
)

// curveOf lays the PERT beta of a task over the normal scores.
func curveOf(t Task) curve {
	var c curve
	low, likely, high := float64(t.Low.Value), float64(t.Likely.Value), float64(t.High.Value)
	alpha, beta := 3.0, 3.0 // low and high are the same: any shape does
	if high > low {
		alpha, beta = 1+4*(likely-low)/(high-low), 1+4*(high-likely)/(high-low)
	}
	for i := range c {
		z := -curveReach + 2*curveReach*float64(i)/(curvePoints-1)
		c[i] = low + (high-low)*num.BetaQuantile(num.NormalCDF(z), alpha, beta)
	}
	return c
}

// at reads the curve between its points; beyond its ends it stays.
func (c *curve) at(z float64) float64 {
	x := (z + curveReach) / (2 * curveReach) * (curvePoints - 1)
	i := int(x)
	switch {
	case x <= 0:
		return c[0]
	case i >= curvePoints-1:
		return c[curvePoints-1]
	}
	return c[i] + (x-float64(i))*(c[i+1]-c[i])
}

// show writes the working and what is worth saying.
func (a *Answer) show() {
	h := func(d unit.Duration) string { return unit.Text(d, "h", 1) }
	n := len(included(a.Query.Tasks))
	a.Working = append(a.Working,
		cite.Step{Name: "Mean of the tasks", Formula: "Σ (low + 4 likely + high)/6", Numbers: fmt.Sprintf("%d tasks", n), Result: h(a.Mean), Ref: threePoint},
		cite.Step{Name: "Spread, if the tasks were independent", Formula: "√Σ ((high − low)/6)²", Numbers: fmt.Sprintf("%d tasks", n), Result: h(a.Classical.Sigma), Ref: threePoint},
		cite.Step{Name: "Range from the tasks", Formula: "drawn, normal scores correlated", Numbers: fmt.Sprintf("%d draws, correlation %.2g, seed %d", Runs, a.Query.correlation(), a.Query.Seed), Result: h(a.Drawn.Low) + " to " + h(a.Drawn.High), Ref: usualCorrelation.Ref})
	a.Findings = append(a.Findings, meas.Finding{Level: meas.Note, Code: "likely", Ref: threePoint,
		Text: fmt.Sprintf("The likely hours add up to %s; by these tasks the work stays within that in %.0f cases of 100.", h(a.Likely), 100*a.Chance), Next: "Quote the range of the whole."})
	for _, t := range a.Query.Tasks {
		if t.LeftOut {
			a.Findings = append(a.Findings, meas.Finding{Level: meas.Note, Code: "left-out", Ref: cite.Ref{Grade: cite.CommonPractice}, Text: "Not included: " + t.What + "."})
		}
	}
}

// threePoint is where the three-point formulas are printed.
var threePoint = cite.Ref{Source: "threepoint", Place: "worked examples"}
