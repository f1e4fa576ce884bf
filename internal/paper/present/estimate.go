package present

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/proposal"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Worked is what was worked so far on what is estimated.
type Worked struct {
	Total time.Duration
	On    func(task string) time.Duration // nil where nothing is to be shown
}

// on is the hours on a task, 0 where nothing is to be shown.
func (w Worked) on(task string) time.Duration {
	if w.On == nil {
		return 0
	}
	return w.On(task)
}

// Estimate sets out the range of the whole work, and beside it what was
// worked.
func Estimate(a estimate.Answer, w Worked) doc.Doc {
	d := doc.Doc{Title: "Estimate"}
	open := doc.Section{}
	if !a.Range.Set {
		open.Body = []doc.Block{doc.Para{Text: "Nothing is estimated yet. Low, likely and high hours of each task give the range of the whole."}}
		d.Sections = append(d.Sections, open)
		return d
	}
	facts := estimateFacts(a)
	if w.Total > 0 {
		facts = append(facts, doc.Fact{Label: "Worked so far", Value: inHours(unit.Duration(w.Total.Seconds())), Unit: "h", Note: "on this clock, all tasks"})
	}
	open.Body = []doc.Block{doc.Say{Text: fmt.Sprintf("From %s to %s hours.", inHours(a.Range.Low), inHours(a.Range.High))}, facts}
	if len(a.Jobs) > 0 {
		open.Body = append(open.Body, jobsFigure(a, w))
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Title: "Working", Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open, doc.Section{Heading: "Tasks", Body: []doc.Block{tasksFigure(a.Query.Tasks, w)}})
	if len(a.Query.Finished) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Finished jobs", Body: []doc.Block{finishedTable(a.Query.Finished)}})
	}
	return d
}

func inHours(d unit.Duration) string { return unit.Number(unit.In(d, "h"), 1) }

func estimateFacts(a estimate.Answer) doc.Facts {
	within := fmt.Sprintf("%.0f jobs of 100 like it lie within, by the tasks", 100*a.Level)
	if a.From == estimate.FromFinished {
		within = fmt.Sprintf("%.0f jobs of 100 like it lie within, by %d finished jobs", 100*a.Level, a.Learned.Jobs)
	}
	f := doc.Facts{
		{Label: "Middle", Value: inHours(a.Range.Value), Unit: "h", Note: within},
		{Label: "Sum of the likely", Value: inHours(a.Likely), Unit: "h", Note: "not to be quoted"},
	}
	if a.Learned != nil {
		f = append(f, doc.Fact{Label: "Actual over estimated", Value: unit.Number(a.Learned.Ratio, 2), Note: fmt.Sprintf("%s to %s, from this shop's own jobs", unit.Number(a.Learned.Low, 2), unit.Number(a.Learned.High, 2))})
	}
	return f
}

func taskTable(tasks []estimate.Task, w Worked) doc.Table {
	t := doc.Table{Caption: "Hours of each task", Columns: []doc.Column{{Head: "Task"}, {Head: "Low", Unit: "h", Number: true}, {Head: "Likely", Unit: "h", Number: true}, {Head: "High", Unit: "h", Number: true}, {Head: "Decision"}, {Head: "Reason"}, {Head: "Can be undone"}}}
	for _, x := range tasks {
		decision := string(x.Decision)
		if x.LeftOut {
			decision = "not included"
		}
		row := []string{x.What, hoursOf(x.Low), hoursOf(x.Likely), hoursOf(x.High), decision, x.Why, x.CanUndo}
		if w.On != nil {
			row = slices.Insert(row, 4, unit.Number(w.on(x.What).Hours(), 1))
		}
		t.Rows = append(t.Rows, row)
	}
	if w.On != nil {
		t.Columns = slices.Insert(t.Columns, 4, doc.Column{Head: "Worked", Unit: "h", Number: true})
	}
	return t
}

// finishedTable holds hours against estimates.
func finishedTable(jobs []estimate.Finished) doc.Table {
	t := doc.Table{Caption: "Hours against estimate, of this shop’s own jobs", Columns: []doc.Column{{Head: "Clock"}, {Head: "Estimated", Unit: "h", Number: true}, {Head: "Worked", Unit: "h", Number: true}, {Head: "Worked over estimated", Number: true}, {Head: "Left out"}},
		Note: "Estimated is the mean of the tasks of the version that the owner agreed to."}
	for _, j := range jobs {
		t.Rows = append(t.Rows, []string{j.Job, inHours(j.Estimated), inHours(j.Actual), unit.Number(float64(j.Actual/j.Estimated), 2), j.LeftOut})
	}
	return t
}

func hoursOf(r meas.Reading[unit.Duration]) string {
	if !r.Set {
		return ""
	}
	return inHours(r.Value)
}

// Proposal sets out a version of a proposal for the owner: the range, what is
// to be done and why, what is not included, and what the owner has said to
// it, or a line to sign on. What the shop has learned it from, and other
// owners' clocks, are left out.
func Proposal(v proposal.Version, consents []work.Consent, deposits []proposal.Deposit) doc.Doc {
	a := v.Answer
	d := doc.Doc{Title: fmt.Sprintf("Proposal, version %d", v.N), Lead: fmt.Sprintf("Of %s, by %s.", v.When.Local().Format(time.DateOnly), v.Who)}
	open := doc.Section{Body: []doc.Block{
		doc.Say{Text: fmt.Sprintf("From %s to %s hours.", inHours(a.Range.Low), inHours(a.Range.High))},
		doc.Para{Text: fmt.Sprintf("Of a hundred clocks like this one %.0f would take no less and no more than that; the middle is %s hours. What it will take is known only when it is done.", 100*a.Level, inHours(a.Range.Value))},
	}}
	if len(a.Jobs) > 0 {
		open.Body = append(open.Body, jobsFigure(a, Worked{}))
	}
	open.Margin = []doc.Block{doc.Working{Title: "Working", Steps: a.Working}, sources(a.Working, nil)}
	d.Sections = append(d.Sections, open)
	var in []estimate.Task
	var out []string
	for _, t := range a.Query.Tasks {
		if t.LeftOut {
			out = append(out, strings.TrimSuffix(t.What+": "+t.Why, ": "))
			continue
		}
		in = append(in, t)
	}
	drawn := tasksFigure(in, Worked{})
	drawn.Numbers = nil // the table stands above it
	d.Sections = append(d.Sections, doc.Section{Heading: "What is to be done", Body: []doc.Block{taskTable(in, Worked{}), drawn}})
	out = append(out, linesOf(v.NotIncluded)...)
	if len(out) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Not included", Body: []doc.Block{doc.List{Items: out}}})
	}
	if terms := linesOf(v.Terms); len(terms) > 0 {
		s := doc.Section{Heading: "Limits and terms"}
		for _, l := range terms {
			s.Body = append(s.Body, doc.Para{Text: l})
		}
		d.Sections = append(d.Sections, s)
	}
	d.Sections = append(d.Sections, ownersWord(v.N, consents, deposits))
	return d
}

// linesOf lists the lines of a text in which anything stands.
func linesOf(text string) []string {
	var out []string
	for _, l := range strings.Split(text, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// ownersWord is what was said to a version and paid for it, or a line to sign
// on.
func ownersWord(version int, consents []work.Consent, deposits []proposal.Deposit) doc.Section {
	s := doc.Section{Heading: "The owner’s word"}
	for _, c := range consents {
		if c.Version == version {
			s.Body = append(s.Body, doc.Para{Text: c.When.Local().Format(time.DateOnly) + ": " + consentWords(c)})
		}
	}
	if len(s.Body) == 0 {
		s.Body = append(s.Body, doc.Para{Text: "None is written down yet. It should be, before the first work on it."}, doc.Blanks{Rows: [][]string{{"Agreed (name and signature)", "Day"}}})
	}
	for _, d := range deposits {
		if d.Version == version {
			s.Body = append(s.Body, doc.Para{Text: d.When.Local().Format(time.DateOnly) + ": a deposit came, " + strings.Trim(d.Amount+", "+d.How, ", ") + "."})
		}
	}
	return s
}

func consentWords(c work.Consent) string {
	words := c.Name + " has agreed, " + c.How
	if c.Refused {
		words = c.Name + " has refused, " + c.How
	}
	if c.Words != "" {
		words += ": " + c.Words
	}
	if c.Deposit != "" {
		words += ". Deposit agreed: " + c.Deposit
	}
	return words + ". Written down by " + c.Who + "."
}
