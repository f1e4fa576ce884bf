package shop

import (
	"context"

	"seatboard/internal/book/making"
)

// Worked works out the values of a calculation, by its name on the desk.
type Worked func(ctx context.Context, calculation string, values map[string][]string) making.Sheet

// demoMaking keeps what was worked out for the lost third wheel of the
// demonstration.
func (s *Shop) demoMaking(ctx context.Context, clock int64, sheet Worked) error {
	is := sheet(ctx, "train", values("going", "96/8 60/8 60?/7 30", "going-barrel-turns", "16", "hour-arbor", "2", "motion", "36/36 72/6", "pendulum", "994 mm ± 2 mm"))
	is.Title, is.Note = "third wheel of 60: what it would come to", "Too slow by far for the pendulum that came with it."
	_, err := s.KeepSheet(ctx, DemoName, clock, is)
	return err
}
