package culprit

import (
	"math"
	"slices"
)

// pairsShare is the share of the teeth's chance given to teeth at both
// pallets; the rest is for teeth at one, tried where no span is found.
const pairsShare = 0.75

// sure is how much more likely, as a natural logarithm, the best span must be
// than the next.
const sure = 2.5

// ringed judges the escape wheel: waves that go round with it, the span of
// the anchor, and single teeth. A lateness is laid to a wave or to a tooth,
// whichever says more with what is taken already, one at a time: so a wheel
// out of centre is not thirty odd teeth, and one odd tooth is no wheel out of
// centre.
func (s *search) ringed(a *Answer) {
	g := s.newRing()
	if g == nil {
		return
	}
	g.smoothFirst()
	g.findSpan()
	places, tries := g.pairs(g.span), float64(len(g.spans))
	if len(g.spans) > 1 {
		tries /= pairsShare
	}
	if g.span == 0 {
		places, tries, g.singles = g.alone(), 2/(1-pairsShare), true
	}
	w := g.wheel(places)
	chosen := g.forward(w, tries, s.runs[0].ring/6)
	g.record(w, a, chosen, tries)
	s.shareRing(g)
}

// pairs are the places of each tooth at the two pallets.
func (g *ring) pairs(span int) [][]int {
	out := make([][]int, g.places/2)
	for i := range out {
		out[i] = []int{2 * i, (2*i + span) % g.places}
	}
	return out
}

// alone has each place by itself.
func (g *ring) alone() [][]int {
	out := make([][]int, g.places)
	for i := range out {
		out[i] = []int{i}
	}
	return out
}

// smoothFirst finds waves that stand out beside single places, whatever the
// span; they are marked as in.
func (g *ring) smoothFirst() {
	for _, c := range g.smooth {
		c.in = false
	}
	g.forward(g.wheel(g.alone()), 2, g.places/6)
}

// forward takes waves and teeth into a wheel, the strongest first, until
// chance would do as well; at most so many teeth. The waves taken are marked;
// the answer is the teeth, with those waves that were in before kept.
func (g *ring) forward(w *wheel, tries float64, most int) []int {
	for i, c := range g.smooth {
		if c.in {
			g.takeWave(w, i)
		}
	}
	var chosen []int
	for len(chosen) <= most {
		best, wave, tooth := nominal, -1, -1
		for i, c := range g.smooth {
			if w.in[w.wave[i]] {
				continue
			}
			x, _ := g.weighWave(w, i)
			if p := g.waveChance(c, x); p < best {
				best, wave = p, i
			}
		}
		if len(chosen) < most {
			for i, k := range w.teeth {
				if !w.in[k] {
					if p := g.toothChance(w.evidence(k), tries, len(chosen)); p < best {
						best, wave, tooth = p, -1, i
					}
				}
			}
		}
		switch {
		case tooth >= 0:
			w.take(w.teeth[tooth])
			chosen = append(chosen, tooth)
		case wave >= 0:
			g.smooth[wave].in = true
			g.takeWave(w, wave)
		default:
			return g.review(w, chosen, tries)
		}
	}
	return g.review(w, chosen, tries)
}

func (g *ring) takeWave(w *wheel, i int) {
	for j := range g.waveColumns(i) {
		w.take(w.wave[i] + j)
	}
}

// review drops waves and teeth that those taken later made needless.
func (g *ring) review(w *wheel, chosen []int, tries float64) []int {
	for i, c := range g.smooth {
		if c.in {
			if x, _ := g.weighWave(w, i); g.waveChance(c, x) > nominal {
				c.in = false
				for j := range g.waveColumns(i) {
					w.drop(w.wave[i] + j)
				}
			}
		}
	}
	return slices.DeleteFunc(chosen, func(i int) bool {
		needless := g.toothChance(w.evidence(w.teeth[i]), tries, len(chosen)-1) > nominal
		if needless {
			w.drop(w.teeth[i])
		}
		return needless
	})
}

func (g *ring) waveChance(c *candidate, x float64) float64 {
	return familywise(g.s.noise.chance(c.dof, c.f, x), g.s.tries(c.harmonic))
}

// toothChance is that of an evidence among all teeth; the spans that were
// tried count until one tooth has shown which it is.
func (g *ring) toothChance(x, tries float64, found int) float64 {
	n := float64(g.places) / 2
	if found == 0 || g.singles {
		n *= tries
	}
	return familywise(g.chance1(x), n/teethShare)
}

// findSpan finds the beats from the entry to the exit pallet: the span by
// which the two patterns agree best, as one odd tooth or as a wheel whose
// teeth all differ. It stays 0 where chance would do as well or two spans are
// nearly as good.
func (g *ring) findSpan() {
	if g.s.q.Span > 0 {
		g.span = g.s.q.Span % g.places
		return
	}
	type trial struct {
		span  int
		merit float64
	}
	var all []trial
	gate := 1.0
	for _, span := range g.spans {
		merit, chance := g.trySpan(span)
		all = append(all, trial{span, merit})
		gate = min(gate, familywise(chance, float64(len(g.spans))/teethShare/pairsShare))
	}
	slices.SortFunc(all, func(a, b trial) int {
		if a.merit > b.merit {
			return -1
		}
		return 1
	})
	if gate <= nominal && len(all) > 1 && all[0].merit-all[1].merit > sure {
		g.span = all[0].span
	}
}

// trySpan is the merit of a span, a logarithm of likelihood, and the chance
// of as much among the teeth, the other spans not counted.
func (g *ring) trySpan(span int) (merit, chance float64) {
	w := g.wheel(g.pairs(span))
	for i, c := range g.smooth {
		if c.in {
			g.takeWave(w, i)
		}
	}
	z := float64(len(w.teeth))
	best := 0.0
	for _, k := range w.teeth {
		best = max(best, w.evidence(k))
	}
	before, dof := w.rest(), 0
	for _, k := range w.teeth {
		if w.take(k) {
			dof++
		}
	}
	all, n := before-w.rest(), float64(max(dof, 1))
	if all > n {
		merit = (all-n)/2 - n/2*math.Log(all/n)
	}
	merit = max(merit, best/2-math.Log(z))
	chance = min(familywise(g.chance1(best), z/0.8), g.chanceAll(dof, all)/0.2)
	return merit, min(chance, 1)
}

// chanceAll is that of an evidence for all teeth together.
func (g *ring) chanceAll(dof int, x float64) float64 {
	sum := 0.0
	for i, k := range g.s.noise.nodes {
		sum += k.belief * tail(dof+dof&1, g.s.noise.free, x/g.ratios[i])
	}
	return sum
}

// record writes teeth and waves down.
func (g *ring) record(w *wheel, a *Answer, chosen []int, tries float64) {
	scatter := g.unevenness(w)
	for i, c := range g.smooth {
		c.evidence, c.information = g.weighWave(w, i)
		c.known = c.information > 0
		c.chance = g.waveChance(c, c.evidence)
		if scatter.over > 1 {
			p := tail(c.dof, scatter.free, c.evidence/scatter.over)
			c.chance = max(c.chance, familywise(p, g.s.tries(c.harmonic)))
		}
		if c.known {
			c.latest = g.latest(w, i)
		}
	}
	odd := map[int]bool{}
	for _, i := range chosen {
		odd[i] = true
	}
	late := g.late(w.places, odd)
	chance := make([]float64, len(late))
	for i, k := range w.teeth {
		found := 0
		if n := len(chosen); n > 0 && !(n == 1 && odd[i]) {
			found = n
		}
		chance[i] = g.toothChance(w.evidence(k), tries, found)
	}
	for i := range g.places / 2 {
		j := i
		if g.singles { // the pallet at which it shows more
			if j = 2 * i; chance[j+1] < chance[j] && odd[j+1] {
				j++
			}
		}
		a.Teeth = append(a.Teeth, Tooth{Number: i, Late: late[j], Chance: chance[j]})
		if odd[j] {
			a.Odd = append(a.Odd, i)
		}
	}
	a.Span = g.span
}

// unevenness is how much more the places differ than the noise lets them,
// after all that was taken; over is 1 where they do not.
type unevenness struct{ over, free float64 }

func (g *ring) unevenness(w *wheel) unevenness {
	free := float64(g.places)
	for _, in := range w.in {
		if in {
			free--
		}
	}
	if free < 2 {
		return unevenness{over: 1}
	}
	if g.chanceAll(int(free), w.rest()) > 0.05 {
		return unevenness{over: 1}
	}
	return unevenness{over: w.rest() / free, free: free}
}

// latest is the phase at which the beats of the first side are latest by a
// wave.
func (g *ring) latest(w *wheel, i int) float64 {
	v, ok := w.wave2(w.wave[i])
	if !ok {
		return 0
	}
	return math.Atan2(v.s, v.c)
}

// shareRing gives every other harmonic of as many cycles the same figures.
func (s *search) shareRing(g *ring) {
	for _, c := range s.suspect {
		if !c.inRing {
			continue
		}
		for _, d := range g.smooth {
			if d != c && d.cycles == c.cycles {
				c.evidence, c.information, c.dof, c.latest, c.chance, c.known = d.evidence, d.information, d.dof, d.latest, d.chance, d.known
			}
		}
	}
}
