package present

import (
	"fmt"
	"time"

	"seatboard/internal/book/work"
	"seatboard/internal/kit/doc"
)

// Hours sets out the hours of a clock by chapter and task; clock is its
// number, or words for work that is for none yet.
func Hours(clock string, sums work.Sums) doc.Doc {
	d := doc.Doc{Title: "Hours of " + clock}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: hoursWords(sums)}}}
	if n := len(sums.Asked); n > 0 {
		text := "One stretch stands in no sum: its true end is asked for."
		if n > 1 {
			text = fmt.Sprintf("%d stretches stand in no sum: their true ends are asked for.", n)
		}
		open.Body = append(open.Body, doc.Notice{Kind: doc.DoubtNotice, Text: text, Next: "Say when the work ended."})
	}
	if len(sums.Lines) > 0 {
		t := doc.Table{Caption: "By chapter and task", Columns: []doc.Column{{Head: "Chapter"}, {Head: "Task"}, {Head: "Hours", Unit: "h:min", Number: true}},
			Note: "Each stretch is reckoned from instant to instant and counts for the day it began; what is shown is rounded to the minute."}
		for _, l := range sums.Lines {
			t.Rows = append(t.Rows, []string{orNot(l.Chapter), orNot(l.Task), work.Clocked(l.Length)})
		}
		open.Body = append(open.Body, t)
	}
	d.Sections = append(d.Sections, open)
	return d
}

func orNot(s string) string {
	if s == "" {
		return "not said"
	}
	return s
}

func hoursWords(s work.Sums) string {
	switch {
	case len(s.Runs) > 0 && s.Total == 0:
		return "Work has begun; no hours are written down yet."
	case s.Total == 0:
		return "No hours are written down yet."
	}
	text := work.Clocked(s.Total) + " hours"
	if s.Total < time.Hour {
		text = fmt.Sprintf("%d minutes", int(s.Total.Round(time.Minute)/time.Minute))
	}
	if len(s.Runs) > 0 {
		return text + ", without what is running."
	}
	return text + "."
}

// Stretches lists hours stretch by stretch, with all that is known of each.
func Stretches(all []work.Stretch, r work.Rule, now time.Time) doc.Table {
	t := doc.Table{Caption: "Stretch by stretch", Columns: []doc.Column{{Head: "Day"}, {Head: "From–to"}, {Head: "Hours", Unit: "h:min", Number: true}, {Head: "Who"}, {Head: "Clock"}, {Head: "Chapter"}, {Head: "Task"}, {Head: "Note"}, {Head: "Billed with"}}}
	for _, x := range all {
		when, lasted := "", Clocked(x, r, now)
		if !x.DayOnly {
			when = x.Typed(r.Zone)
		}
		t.Rows = append(t.Rows, []string{x.Day(r.Zone), when, lasted, x.Who, x.Clock, x.Chapter, x.Task, x.Note, x.Billed})
	}
	return t
}

// Clocked is the length of a stretch in words: what is asked about has none,
// and what runs is told as it is now.
func Clocked(x work.Stretch, r work.Rule, now time.Time) string {
	if _, asked := r.Asks(x, now, time.Time{}); asked {
		return "asked"
	}
	if x.Running() {
		return work.Clocked(now.Sub(x.Start)) + "…"
	}
	return work.Clocked(x.Length())
}
