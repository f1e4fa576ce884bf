package shop

import (
	"context"

	"seatboard/internal/book/condition"
	"seatboard/internal/craft/clean"
)

// demoCondition writes down invented observations of the clocks of the
// demonstration, of which i is the number from 0.
func (s *Shop) demoCondition(ctx context.Context, i int, clock int64) error {
	day := s.now().AddDate(0, 0, -8).Format("2006-01-02")
	all := map[int][]condition.Observation{
		0: {{Area: "pendulum", Seen: "grey, soft filling under the lacquer of the bob", Thought: "lead, as the record says", Severity: condition.Sound, Hazards: []string{clean.LeadHazard}}},
		1: {
			{Area: "hood", Seen: "glass is float, set in putty that is still soft", Thought: "replaced within living memory", Severity: condition.Slight},
			{Area: "mouldings", Seen: "front plinth moulding in three pieces, two more wanting", Severity: condition.Marked},
			{Area: "dial", Seen: "paint lifting at VII, an area of 12 mm by 5 mm; white ground under it", Thought: "white lead ground, lifting because the iron rusts", Severity: condition.AtRisk, Hazards: []string{clean.LeadHazard}},
			{Area: "weights", Seen: "hook of the going weight opened by 4 mm", Thought: "it will let go when it is wound", Severity: condition.Urgent, Hazards: []string{clean.WeightHazard}},
		},
	}
	for n, o := range all[i] {
		o.Day = day
		if err := s.Observe(ctx, DemoName, clock, n, o); err != nil {
			return err
		}
	}
	return nil
}
