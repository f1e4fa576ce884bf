package estimate

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Decision is what is to become of a thing.
type Decision string

// The decisions.
const (
	Keep    Decision = "keep"
	Mend    Decision = "mend"
	Replace Decision = "replace"
)

// Decisions lists them.
func Decisions() []Decision { return []Decision{Keep, Mend, Replace} }

// Task is one task of a proposal.
type Task struct {
	N        int                         `json:"n"`       // number within the proposal, from 1
	Chapter  string                      `json:"chapter"` // "Movement", "Case"
	What     string                      `json:"what"`
	Low      meas.Reading[unit.Duration] `json:"low"` // hours it takes at the very least
	Likely   meas.Reading[unit.Duration] `json:"likely"`
	High     meas.Reading[unit.Duration] `json:"high"` // and at the very most
	Decision Decision                    `json:"decision,omitempty"`
	Why      string                      `json:"why"`      // the reason of the decision
	CanUndo  string                      `json:"can_undo"` // whether and how it can be undone, in words
	LeftOut  bool                        `json:"left_out"` // named, and not included
}

// Query is what is to be estimated.
type Query struct {
	Tasks       []Task                   `json:"tasks"`
	Correlation meas.Reading[unit.Ratio] `json:"correlation"` // 0 to 0.99; 0.3 where not stated
	Level       meas.Reading[unit.Ratio] `json:"level"`       // of the range, 0.5 to 0.99; 0.8 where not stated
	Seed        uint64                   `json:"seed"`
	Finished    []Finished               `json:"finished"` // the shop's own jobs
}

// Finished is a job that is done.
type Finished struct {
	Job       string        `json:"job"`       // the clock's number
	Estimated unit.Duration `json:"estimated"` // mean of the tasks that were agreed to
	Actual    unit.Duration `json:"actual"`
	LeftOut   string        `json:"left_out"` // why it does not count, "" where it does
}

// The figures that stand where nothing was stated.
var (
	usualCorrelation = cite.Value[float64]{V: 0.3, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "a clock that is worse than it looks is worse in every task; the figure is a choice"}}
	usualLevel       = cite.Value[float64]{V: 0.8, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "eight jobs of ten within"}}
)

// The bounds of a query, and of learning.
const (
	mostTasks    = 500
	mostFinished = 5000
	LeastJobs    = 3 // finished jobs from which on something is learned
)

// Check returns every mistake in the query.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if len(q.Tasks) > mostTasks {
		add("tasks", "There are %d tasks; %d are the most", len(q.Tasks), mostTasks)
		return f
	}
	if len(q.Finished) > mostFinished {
		add("finished", "There are %d finished jobs; the last %d are enough", len(q.Finished), mostFinished)
		return f
	}
	if c := q.Correlation; c.Set && !(c.Value >= 0 && c.Value <= 0.99) {
		add("correlation", "The correlation between tasks must be between 0 and 0.99; “%s” was entered", c)
	}
	if l := q.Level; l.Set && !(l.Value >= 0.5 && l.Value <= 0.99) {
		add("level", "The level must be between 50 %% and 99 %%; “%s” was entered", l)
	}
	for i, t := range q.Tasks {
		f = append(f, t.check(fmt.Sprintf("tasks.%d.", i+1))...)
	}
	for i, j := range q.Finished {
		if !(j.Estimated > 0) || !(j.Actual > 0) || math.IsInf(float64(j.Estimated+j.Actual), 0) {
			add(fmt.Sprintf("finished.%d", i+1), "%s: estimated and actual hours must be more than nought", j.Job)
		}
	}
	return f
}

// check lists what is wrong with a task; at is the head of its fields.
func (t Task) check(at string) meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: at + field, Text: fmt.Sprintf(format, a...)})
	}
	name := meas.Clip(strings.TrimSpace(t.What))
	if name == "" {
		add("what", "Say what is to be done")
		name = "This task"
	}
	for _, x := range [][2]string{{"what", t.What}, {"chapter", t.Chapter}, {"why", t.Why}, {"can_undo", t.CanUndo}} {
		f = append(f, ledger.CheckText(at+x[0], x[1])...)
	}
	const most = 10000 * 3600
	for _, h := range []struct {
		field string
		r     meas.Reading[unit.Duration]
	}{{"low", t.Low}, {"likely", t.Likely}, {"high", t.High}} {
		switch {
		case !h.r.Set:
			add(h.field, "%s: enter the %s hours", name, h.field)
		case !(h.r.Value >= 0 && h.r.Value <= most):
			add(h.field, "%s: the %s hours must be between 0 and 10 000; “%s” was entered", name, h.field, h.r)
		}
	}
	if t.Low.Set && t.Likely.Set && t.Low.Value > t.Likely.Value {
		add("low", "%s: low is %s and likely only %s", name, t.Low, t.Likely)
	}
	if t.High.Set && t.Likely.Set && t.High.Value < t.Likely.Value {
		add("high", "%s: high is %s and likely already %s", name, t.High, t.Likely)
	}
	switch t.Decision {
	case "", Keep:
	case Mend, Replace:
		if strings.TrimSpace(t.Why) == "" {
			add("why", "%s: write why it is to be %s", name, map[Decision]string{Mend: "mended", Replace: "replaced"}[t.Decision])
		}
	default:
		add("decision", "%s: the decision is keep, mend or replace", name)
	}
	return f
}

// Mean is the expected time of the task, (low + 4 likely + high)/6.
func (t Task) Mean() unit.Duration { return (t.Low.Value + 4*t.Likely.Value + t.High.Value) / 6 }

// Sigma is the classical standard deviation of the task, (high − low)/6.
func (t Task) Sigma() unit.Duration { return (t.High.Value - t.Low.Value) / 6 }
