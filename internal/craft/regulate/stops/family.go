package stops

import (
	"math"
	"math/rand/v2"
	"slices"
)

// The seed of the simulation is fixed, so that the same stops say the same.
const (
	seedA, seedB = 1715, 1656
	mostDraws    = 4999
	fewestDraws  = 1999
	work         = 30000 // draws times stops
)

// family is the chances of all that is looked at, held against stops that
// came by chance alone: the least of all the scores of such a set, drawn
// again and again.
type family struct {
	least []float64 // sorted
	pairs float64   // chances that the least is taken of
}

// draws is how many sets are drawn for n stops.
func draws(n int) int { return min(mostDraws, max(fewestDraws, work/max(n, 1))) }

// simulate draws the sets.
func simulate(w *world, count int, rings []*ring, tests []*test) family {
	f := family{least: make([]float64, count)}
	for _, g := range rings {
		f.pairs += g.pairs()
	}
	f.pairs += float64(len(tests))
	r := rand.New(rand.NewPCG(seedA, seedB))
	for d := range f.least {
		w.draw(r)
		low := 1.0
		for _, g := range rings {
			for i := range w.place {
				w.place[i] = g.turn(i, w.dial[i], w.turns[i], w.second[i])
			}
			low = min(low, g.score(w.place, w.room))
		}
		for _, t := range tests {
			low = min(low, t.null(w))
		}
		f.least[d] = low
	}
	slices.Sort(f.least)
	return f
}

// newWorld is for so many stops on a dial of that turn whose hands are read in whole steps, in s.
func newWorld(turn float64, stops, airs int, step, secondStep float64) *world {
	w := &world{turn: turn, step: step, secondStep: secondStep, dial: make([]float64, stops), turns: make([]float64, stops), second: make([]float64, stops), wound: make([]float64, stops),
		chance: make([]float64, stops), place: make([]float64, stops), room: make([]float64, 0, stops), pick: make([]int, airs)}
	for i := range w.pick {
		w.pick[i] = i
	}
	return w
}

// draw lays the stops down anew, read in the steps of those that were found.
func (w *world) draw(r *rand.Rand) {
	for i := range w.dial {
		w.dial[i], w.turns[i], w.second[i] = stepped(r.Float64()*w.turn, w.step), float64(r.IntN(1000)), stepped(r.Float64()*60, w.secondStep)
		w.wound[i], w.chance[i] = r.Float64(), r.Float64()
	}
	for i := range min(len(w.dial), len(w.pick)) {
		k := i + r.IntN(len(w.pick)-i)
		w.pick[i], w.pick[k] = w.pick[k], w.pick[i]
	}
}

func stepped(x, step float64) float64 {
	if step == 0 {
		return x
	}
	return math.Floor(x/step) * step
}

// chance is that of a score at least as telling among all that was looked at;
// scores that differ by rounding alone are alike. Where the simulation is too
// coarse the sum of all the chances bounds it.
func (f family) chance(score float64) float64 {
	below, _ := slices.BinarySearch(f.least, score*(1+1e-9))
	return min(1, f.pairs*score, float64(below+1)/float64(len(f.least)+1))
}
