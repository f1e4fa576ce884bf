package shop

import (
	"context"
	"time"

	"seatboard/internal/book/work"
)

// demoOriginality writes down invented interventions on a clock of the
// demonstration.
func (s *Shop) demoOriginality(ctx context.Context, clock int64) error {
	day := s.now().AddDate(0, 0, -5)
	for _, v := range []work.Intervention{
		{Found: "back hole of the fusee arbor worn oval by 0.4 mm towards the centre", Done: "hole opened from the outside and bushed", Why: "the mesh bottomed when fully wound",
			Added: "bush of bronze CuSn8, 3 mm bore, pressed in without solder", Removed: "brass of the plate, about 0.3 g", Undo: work.Partly, How: "the bush can be pressed out; the hole stays larger", KeptAt: "turnings in the bag 2026 fusee", Hours: 195 * time.Minute},
		{Found: "gut line frayed at the hook", Done: "new gut line", Why: "it would have parted", Added: "natural gut, 1.4 mm, 2.6 m", Removed: "the old gut line", Undo: work.Freely},
	} {
		v.Who, v.When = DemoName, day
		if _, err := s.Intervene(ctx, DemoName, clock, 0, v, ""); err != nil {
			return err
		}
	}
	return nil
}
