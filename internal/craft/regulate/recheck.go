package regulate

import (
	"context"
	"math"
	"slices"
)

// recheck looks once more at each change that nobody wrote down. It was found
// with sizes of noise that were only roughly known; a restless clock walks as
// far by itself. Where the sizes that are likeliest without it do nearly as
// well as those with it, it is no change. What is held of a change beforehand
// is in this, for it is a shake of the rate or error by as much as anything
// can be: a change that is small for the clock pays for that.
//
// Long trials are left as they are: they tell the noise before the changes.
func (s *search) recheck(ctx context.Context, best noise, root [3][3]float64, log float64) (noise, [3][3]float64, float64) {
	if len(s.line.rows) > few {
		return best, root, log
	}
	for i := 0; i < len(s.found) && ctx.Err() == nil; {
		o := s.found[i]
		held := map[Doubtful]map[int]bool{SetUnnoted: s.jumps, RateUnnoted: s.bends}[o.about]
		if held == nil {
			i++
			continue
		}
		delete(held, o.reading)
		s.lay()
		without, r, l := s.line.climb(ctx, best)
		if l > log+math.Log(rare) {
			best, root, log = without, r, l
			s.found = slices.Delete(s.found, i, i+1)
			continue
		}
		held[o.reading] = true
		s.lay()
		i++
	}
	return best, root, log
}
