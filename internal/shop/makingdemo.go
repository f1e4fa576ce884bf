package shop

import (
	"context"

	"seatboard/internal/book/making"
)

// Worked works out the values of a calculation, by its name on the desk.
type Worked func(ctx context.Context, calculation string, values map[string][]string) making.Sheet

// demoMaking keeps what was worked out for the lost third wheel of the
// demonstration: a guess that was wrong, what it must have been, and what is to
// be cut.
func (s *Shop) demoMaking(ctx context.Context, clock int64, sheet Worked) error {
	guess := sheet(ctx, "train", values("going", "96/8 60/8 60?/7 30", "going-barrel-turns", "16", "hour-arbor", "2", "motion", "36/36 72/6", "pendulum", "994 mm ± 2 mm"))
	guess.Title, guess.Note = "third wheel of 60: what it would come to", "Too slow by far for the pendulum that came with it."
	found := sheet(ctx, "missing", values("going", "96/8 60/8 ?/7 30", "going-barrel-turns", "16", "hour-arbor", "2", "motion", "36/36 72/6", "pendulum", "994 mm ± 2 mm"))
	found.Title, found.Note = "the lost third wheel", "56 it is: nothing else beats seconds with the wheels that are left."
	cut := sheet(ctx, "tooth", values("wheel", "56", "leaves", "7", "distance", "21.4 ± 0.1 mm", "hole", "4 mm", "crossings", "4"))
	cut.Title, cut.Note = "third wheel of 56 and the leaves it meets", "Distance of the holes by two pins in the plate."
	for _, is := range []making.Sheet{guess, found, cut} {
		if _, err := s.KeepSheet(ctx, DemoName, clock, is); err != nil {
			return err
		}
	}
	return nil
}
