package estimate

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// Learned is what the shop's finished jobs say about its estimates.
type Learned struct {
	Jobs   int     `json:"jobs"`  // that count
	Ratio  float64 `json:"ratio"` // actual over estimated hours, the middle (geometric mean)
	Low    float64 `json:"low"`   // limits of that middle, at the level of the answer
	High   float64 `json:"high"`
	Spread float64 `json:"spread"` // standard deviation of the logarithm, from job to job
}

var prediction = cite.Ref{Grade: cite.Exact, Place: "limits for one more draw from a normal population, Student's t"}

// Learn finds the ratio of actual to estimated hours and how it scatters, from
// the jobs that count. It is nil with fewer than LeastJobs of them, and where
// all ratios are the same, which no honest set of estimates is.
func Learn(jobs []Finished, level float64) *Learned {
	var logs []float64
	for _, j := range jobs {
		if j.LeftOut == "" && j.Estimated > 0 && j.Actual > 0 {
			logs = append(logs, math.Log(float64(j.Actual)/float64(j.Estimated)))
		}
	}
	n := float64(len(logs))
	if len(logs) < LeastJobs {
		return nil
	}
	m, v := 0.0, 0.0
	for _, x := range logs {
		m += x / n
	}
	for _, x := range logs {
		v += (x - m) * (x - m) / (n - 1)
	}
	s := math.Sqrt(v)
	if !(s > 1e-9) {
		return nil
	}
	half := num.StudentQuantile((1+level)/2, n-1) * s / math.Sqrt(n)
	return &Learned{Jobs: len(logs), Ratio: math.Exp(m), Low: math.Exp(m - half), High: math.Exp(m + half), Spread: s}
}

// Next is the range of the next job of that estimate, at a level.
func (l Learned) Next(estimated unit.Duration, level float64) meas.Interval[unit.Duration] {
	n := float64(l.Jobs)
	half := num.StudentQuantile((1+level)/2, n-1) * l.Spread * math.Sqrt(1+1/n)
	middle := float64(estimated) * l.Ratio
	return meas.Interval[unit.Duration]{
		Value: unit.Duration(middle), Low: unit.Duration(middle * math.Exp(-half)), High: unit.Duration(middle * math.Exp(half)),
		U: unit.Duration(middle * l.Spread * math.Sqrt(1+1/n)), Set: true,
	}
}

// at is what the next job of that estimate takes with a chance of p or less.
func (l Learned) at(estimated unit.Duration, p float64) unit.Duration {
	n := float64(l.Jobs)
	return unit.Duration(float64(estimated) * l.Ratio * math.Exp(num.StudentQuantile(p, n-1)*l.Spread*math.Sqrt(1+1/n)))
}

// learn puts what was learned in place of the drawn range.
func (a *Answer) learn() {
	a.Learned = Learn(a.Query.Finished, a.Level)
	if a.Learned == nil {
		text := fmt.Sprintf("Nothing is learned from finished jobs yet: %d of the %d that it takes.", a.counting(), LeastJobs)
		if a.counting() >= LeastJobs {
			text = "Nothing is learned from the finished jobs: each took exactly the same share of its estimate."
		}
		a.Findings = append(a.Findings, meas.Finding{Level: meas.Note, Code: "not-learned", Text: text, Next: "Write down the hours of each job; the range learns from them.", Ref: prediction})
		return
	}
	l := *a.Learned
	a.Range, a.From = l.Next(a.Mean, a.Level), FromFinished
	for i := range a.Jobs {
		a.Jobs[i] = l.at(a.Mean, middleOf(i))
	}
	a.Working = append(a.Working,
		cite.Step{Name: "Actual over estimated", Formula: "exp of the mean logarithm", Numbers: fmt.Sprintf("%d finished jobs", l.Jobs), Result: fmt.Sprintf("%.2f, %.2f to %.2f", l.Ratio, l.Low, l.High), Ref: prediction},
		cite.Step{Name: "Range from finished jobs", Formula: "mean · ratio · exp(± t s √(1 + 1/n))", Numbers: fmt.Sprintf("s = %.2f, n = %d", l.Spread, l.Jobs),
			Result: unit.Text(a.Range.Low, "h", 1) + " to " + unit.Text(a.Range.High, "h", 1), Ref: prediction})
}

// counting is how many finished jobs count.
func (a *Answer) counting() int {
	n := 0
	for _, j := range a.Query.Finished {
		if j.LeftOut == "" {
			n++
		}
	}
	return n
}
