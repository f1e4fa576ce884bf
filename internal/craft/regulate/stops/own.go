package stops

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
)

// own is the scores of sets that came by chance, for what no formula fits:
// places that are few, or lie on a line.
type own struct {
	sorted []float64
	bound  float64 // the chance is at most so many times the score; 0 where that is not known
}

// drawOwn draws so many sets by themselves.
func drawOwn(w *world, count int, bound float64, raw func(w *world) float64) *own {
	r := rand.New(rand.NewPCG(seedB, seedA))
	o := &own{make([]float64, count), bound}
	for d := range o.sorted {
		w.draw(r)
		o.sorted[d] = raw(w)
	}
	slices.Sort(o.sorted)
	return o
}

// chance is that of a score at least as telling; those that differ by rounding
// alone are alike.
func (o *own) chance(raw float64) float64 {
	below := sort.SearchFloat64s(o.sorted, math.Nextafter(raw*(1+1e-9), 1))
	p := float64(below+1) / float64(len(o.sorted)+1)
	if o.bound > 0 {
		p = min(p, o.bound*raw)
	}
	return p
}
