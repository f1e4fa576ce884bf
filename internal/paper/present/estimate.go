package present

import (
	"fmt"

	"seatboard/internal/book/estimate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Estimate sets out the range of the whole work.
func Estimate(a estimate.Answer) doc.Doc {
	d := doc.Doc{Title: "Estimate"}
	open := doc.Section{}
	if !a.Range.Set {
		open.Body = []doc.Block{doc.Para{Text: "Nothing is estimated yet. Low, likely and high hours of each task give the range of the whole."}}
		d.Sections = append(d.Sections, open)
		return d
	}
	open.Body = []doc.Block{doc.Say{Text: fmt.Sprintf("From %s to %s hours.", inHours(a.Range.Low), inHours(a.Range.High))}, estimateFacts(a)}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Title: "Working", Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open, doc.Section{Heading: "Tasks", Body: []doc.Block{taskTable(a.Query.Tasks)}})
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

func taskTable(tasks []estimate.Task) doc.Table {
	t := doc.Table{Caption: "Hours of each task", Columns: []doc.Column{{Head: "Task"}, {Head: "Low", Unit: "h", Number: true}, {Head: "Likely", Unit: "h", Number: true}, {Head: "High", Unit: "h", Number: true}, {Head: "Decision"}, {Head: "Reason"}, {Head: "Can be undone"}}}
	for _, x := range tasks {
		decision := string(x.Decision)
		if x.LeftOut {
			decision = "not included"
		}
		t.Rows = append(t.Rows, []string{x.What, hoursOf(x.Low), hoursOf(x.Likely), hoursOf(x.High), decision, x.Why, x.CanUndo})
	}
	return t
}

func hoursOf(r meas.Reading[unit.Duration]) string {
	if !r.Set {
		return ""
	}
	return inHours(r.Value)
}
