// Package desk is the list of calculations that need no clock: each a form,
// a use case of the shop and a document. One entry gives a page under /desk,
// a part of a clock's survey and a command of the same name.
package desk

import (
	"context"
	"errors"
	"slices"
	"time"

	"seatboard/internal/front/form"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
)

// Calculation is one thing that can be worked out.
type Calculation struct {
	Name     string    // command and address: "train"
	Job      string    // stretch of the work that it belongs to
	Title    string    // "Wheel trains"
	Lead     string    // one sentence: what it answers
	Arg      string    // what the plain arguments are called, "" where there are none
	Examples []Example // for the command's help and the page
	Apart    bool      // it is no part of a survey
	Draws    bool      // its answers make drawings at true size
	// Lend says what a clock's survey fills in of one that is apart, each field
	// by its place there: "pendulum/latitude", "train/going".
	Lend  map[string]string
	Begin func() Sitting
	// Onward lists what an answer leads to on the desk; nil where it leads
	// nowhere.
	Onward func(answer any) []Onward
	// Takes lists what of an answer may go back into a clock's survey; nil where
	// nothing may.
	Takes func(answer any) []Taking
	// Chosen shows an answer with a choice of one of its figures; nil where
	// there is none.
	Chosen func(answer any, choice string) doc.Doc
	// Tidy lays typed values out as the form shows them; nil keeps them.
	Tidy func(map[string][]string) map[string][]string
}

// Example is a set of values with what it shows.
type Example struct {
	Args string // as typed after the command
	Says string
}

// Sitting is one use of a calculation: a form that points into a fresh query,
// and the answer to it.
type Sitting struct {
	Form form.Form
	// Solve answers the query as the form filled it. Its error may be
	// meas.Faults, whose fields are the form's.
	Solve func(context.Context) (Outcome, error)
	// SoFar says, from beside it, how far Solve has come; nil where every answer
	// comes at once.
	SoFar func() SoFar
}

// SoFar is how far a calculation has come that takes long.
type SoFar struct {
	Share float64 // done, 0 to 1; 0 where the size is not known
	Found int64
	Doc   doc.Doc // the best until now; empty where there is nothing
}

// Onward is another calculation with values filled in.
type Onward struct {
	Words  string // "Cut the wheel of 56 teeth with its pinion of 7"
	Name   string // of the calculation
	Values map[string][]string
}

// Outcome is an answer with the document made of it.
type Outcome struct {
	Answer  any
	Doc     doc.Doc
	Stopped bool             // it was stopped before its end, and has what it had
	Log     func() doc.Table // all that it rests on, line by line; nil where the figures' tables say it
}

// The stretches of the work that the desk is laid out by.
const (
	survey = "Survey"
	work   = "Work"
	trial  = "Trial"
)

// Job is a stretch of the work with what is worked out in it.
type Job struct {
	Words string // "Survey"
	Of    []Calculation
}

// Jobs lists the calculations by the stretches of the work, in its order.
func Jobs() []Job {
	jobs := []Job{{Words: survey}, {Words: work}, {Words: trial}}
	for _, c := range listed() {
		i := slices.IndexFunc(jobs, func(j Job) bool { return j.Words == c.Job })
		jobs[i].Of = append(jobs[i].Of, c)
	}
	return jobs
}

// All lists the calculations in the order of the work.
func All() []Calculation {
	var all []Calculation
	for _, j := range Jobs() {
		all = append(all, j.Of...)
	}
	return all
}

// Find looks a calculation up by its name.
func Find(name string) (Calculation, bool) {
	for _, c := range All() {
		if c.Name == name {
			return c, true
		}
	}
	return Calculation{}, false
}

// Choose shows an outcome with a choice of one of its figures.
func (c Calculation) Choose(o Outcome, choice string) Outcome {
	if c.Chosen != nil && choice != "" {
		o.Doc = c.Chosen(o.Answer, choice)
	}
	return o
}

// LongestAtOnce is how long a calculation is let run whose answer somebody
// waits for who cannot see how far it is; what it has by then is its answer.
const LongestAtOnce = 5 * time.Second

// Long tells whether an answer may take long, so that it is worth showing how
// far it is.
func (c Calculation) Long() bool { return c.Begin().SoFar != nil }

// Work fills the form with typed values and answers, within LongestAtOnce.
// Mistakes of the form and of the query come back together as meas.Faults.
func (c Calculation) Work(ctx context.Context, values map[string][]string) (Outcome, error) {
	s := c.Begin()
	if s.SoFar != nil {
		within, done := context.WithTimeout(ctx, LongestAtOnce)
		defer done()
		ctx = within
	}
	return s.Work(ctx, values)
}

// Work is that of a calculation, for as long as ctx lasts.
func (s Sitting) Work(ctx context.Context, values map[string][]string) (Outcome, error) {
	if faults := s.Form.Fill(values); len(faults) > 0 {
		return Outcome{}, s.all(ctx, faults)
	}
	return s.Solve(ctx)
}

// all adds to the mistakes of a form those that the query finds in the other
// fields, so that a person sees all of them at once.
func (s Sitting) all(ctx context.Context, faults meas.Faults) meas.Faults {
	seen := map[string]bool{}
	for _, f := range faults {
		seen[f.Field] = true
	}
	ctx, stop := context.WithCancel(ctx)
	stop() // the mistakes are wanted, and no answer
	_, err := s.Solve(ctx)
	var more meas.Faults
	errors.As(err, &more)
	for _, f := range more {
		if !seen[f.Field] {
			faults = append(faults, f)
		}
	}
	return faults
}

// Tidy prepares typed values for keeping: what can be laid out in the tables
// of a form is laid out there.
func Tidy(c Calculation, values map[string][]string) map[string][]string {
	if c.Tidy == nil {
		return values
	}
	return c.Tidy(values)
}
