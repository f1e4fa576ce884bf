package shop

import (
	"context"
	"time"
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
