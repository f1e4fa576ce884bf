package shop

import (
	"context"
	"strconv"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/proposal"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// demoHours writes down invented work on a clock of the demonstration.
func (s *Shop) demoHours(ctx context.Context, number string) error {
	for _, x := range []struct {
		ago                       int // days
		span, chapter, task, note string
	}{
		{6, "9:10–11:45", "Taking down", "taking down", ""},
		{6, "13:05–14:20", "Cleaning", "cleaning", ""},
		{5, "9:00–12:15", "Movement", "bushing the fusee arbor", "the back hole is worn oval"},
		{4, "1:40", "Movement", "gut line", ""},
		{4, "14:00–16:30", "Movement", "anchor and pallets", ""},
		{3, "45 min", "Papers", "talk with the owner", "by telephone"},
	} {
		ask := WorkAsk{Who: DemoName, Clock: number, Chapter: x.chapter, Task: x.task, Note: x.note, Day: s.now().AddDate(0, 0, -x.ago).Format(time.DateOnly), Span: x.span}
		if _, err := s.AddWork(ctx, DemoName, ask); err != nil {
			return err
		}
	}
	return nil
}

// demoEstimate proposes invented work on a clock of the demonstration, and the
// owner agrees.
func (s *Shop) demoEstimate(ctx context.Context, clock int64) error {
	task := func(what, chapter string, low, likely, high float64, d estimate.Decision, why, undo string) estimate.Task {
		h := func(x float64) meas.Reading[unit.Duration] {
			r := meas.Of(unit.Duration(x * 3600))
			r.Entered = strconv.FormatFloat(x, 'f', -1, 64)
			return r
		}
		return estimate.Task{What: what, Chapter: chapter, Low: h(low), Likely: h(likely), High: h(high), Decision: d, Why: why, CanUndo: undo}
	}
	d := proposal.Draft{Terms: "Holds for three months. Asked again before anything beyond the high hours of a task.", NotIncluded: "carriage"}
	d.Query.Tasks = []estimate.Task{
		task("taking down", "Taking down", 2, 2.5, 4, "", "", ""),
		task("cleaning", "Cleaning", 1.5, 2, 4, "", "", ""),
		task("bushing the fusee arbor", "Movement", 2, 3, 6, estimate.Mend, "back hole worn oval", "no; the hole is opened"),
		task("gut line", "Movement", 1, 1.5, 2, estimate.Replace, "frayed at the fusee", "freely, the old one is kept"),
		task("anchor and pallets", "Movement", 2, 4, 9, estimate.Mend, "pallets pitted", "partly"),
		task("putting together and setting up", "Putting together", 3, 4, 7, "", "", ""),
		{What: "back to the verge", LeftOut: true, Why: "the alteration is part of its history", Decision: estimate.Keep, Low: meas.Of(unit.Duration(0)), Likely: meas.Of(unit.Duration(0)), High: meas.Of(unit.Duration(0))},
	}
	for i := range d.Query.Tasks {
		d.Query.Tasks[i].N = i + 1
	}
	if err := s.SaveEstimate(ctx, DemoName, clock, 0, d); err != nil {
		return err
	}
	n, err := s.FixEstimate(ctx, DemoName, clock, 1)
	if err != nil {
		return err
	}
	c := work.Consent{Version: n, Name: "Mrs I. Vanterpole", How: "by letter", Words: "the anchor is to stay", Deposit: "£150"}
	return s.SayOwner(ctx, DemoName, clock, c, s.now().Format(time.DateOnly))
}
