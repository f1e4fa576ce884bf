package stops

import (
	"fmt"
	"slices"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/unit"
)

// heightRead is how well the place of the weight is known, in parts of the run,
// both ways together: a centimetre or two of a fall of a metre, or the hour in
// which it was wound.
const heightRead = 0.02

// heightTest: stops with the weight at one height, wherever that is.
func (s *solver) heightTest() *test {
	at := s.shares()
	if len(at) < least {
		return nil
	}
	for i, x := range at {
		at[i] = min(x, 1)
	}
	raw := func(w *world) float64 {
		_, _, _, p := bunch(append(w.room[:0], w.wound[:len(at)]...))
		return p
	}
	// A turn holds every stretch of a line, and more: its chances bound those here.
	chances := drawOwn(newWorld(s.turn, len(s.spots), 0, 0, 0), s.count(), looks(len(at)), raw)
	from, to, held, p := bunch(slices.Clone(at))
	sus := Suspect{Kind: Height, Names: []string{"the weight at one height"}, Stops: len(at), Hold: held, Width: min(1, to-from+heightRead),
		Words: counted(held, len(at)) + " came with the weight at the same height, " + s.heights(from, to),
		Next:  "Wind it to just above that height and watch it go past with the power on it: whether the line climbs over itself on the barrel or out of its groove, whether weight or pulley touches case, door or pendulum; then feel along the line that is on the barrel there for a kink, a splice or a frayed place."}
	if z := s.driven; z != nil && z.Swing != nil && to*s.run() >= float64(z.Swing.From.Value) && from*s.run() <= float64(z.Swing.To.Value) {
		sus.Next = "It hangs there as long as the pendulum: watch first whether it swings with it, and steady the case. " + sus.Next
	}
	return &test{suspect: sus, score: chances.chance(p), null: func(w *world) float64 { return chances.chance(raw(w)) }}
}

// bunch is the most telling stretch of a line that holds some of the places,
// which it sorts.
func bunch(at []float64) (from, to float64, held int, score float64) {
	slices.Sort(at)
	n := len(at)
	score = 1
	for k := fewestHeld(n); k <= n; k++ {
		for i := range n - k + 1 {
			width := at[i+k-1] - at[i] + heightRead
			if width > 0.5 {
				continue
			}
			if p, _ := circular.Hold(n, k, width); p < score || held == 0 {
				from, to, held, score = at[i], at[i+k-1], k, p
			}
		}
	}
	return from, to, held, score
}

// heights says from where to where the weight hung, in parts of the run: above
// the floor where the drive tells it, and how long after winding.
func (s *solver) heights(from, to float64) string {
	run := s.run()
	words := ""
	if s.driven != nil {
		high, ok1 := s.driven.At(unit.Duration(from * run))
		low, ok2 := s.driven.At(unit.Duration(to * run))
		if ok1 && ok2 && high.AboveFloor.Set && low.AboveFloor.Set {
			words = fmt.Sprintf("from %s to %s above the floor of the case, ", unit.Text(max(low.AboveFloor.Value, 0), "mm", 0), unit.Text(max(high.AboveFloor.Value, 0), "mm", 0))
		}
	}
	return words + fmt.Sprintf("%s to %s after winding", drive.Span(unit.Duration(from*run)), drive.Span(unit.Duration(to*run)))
}

// count is how many sets are drawn.
func (s *solver) count() int {
	if s.draws > 0 {
		return s.draws
	}
	return draws(len(s.spots))
}
