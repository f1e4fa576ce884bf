package missing

import (
	"fmt"
	"math"

	"seatboard/internal/craft/train"
)

// practice is what the makers of printed trains did, counted. The points of a
// choice are -log₂ of how often it was made, so that one point halves its
// odds. A choice that the tables do not have is not impossible: √N made-up
// observations, spread evenly, are added to every N that were counted.
type practice struct {
	name                   string
	leaves, teeth, escapes tally
	factors                [len(factorNames)]float64 // wheels by their largest prime factor
	same                   pair                      // a pinion has the leaves of the one before it
	falls                  [3]float64                // a wheel has fewer teeth than the one before it, as many, more
	hunts                  [2]pair                   // a mesh hunts as the one before it does: [hunting before]
}

// tally counts how often each count occurs.
type tally struct {
	n     map[int]int
	total int
}

func (t *tally) add(n int) {
	if t.n == nil {
		t.n = map[int]int{}
	}
	t.n[n]++
	t.total++
}

// pair counts a yes among all.
type pair struct{ yes, all float64 }

func (p *pair) add(yes bool) {
	p.all++
	if yes {
		p.yes++
	}
}

// share is the odds of yes with the made-up observations.
func (p pair) share() float64 { return smooth(p.yes, p.all, 0.5) }

// smooth is the frequency of what was counted n times among all, with √all
// observations made up that have it by the share even.
func smooth(n, all, even float64) float64 {
	if all == 0 {
		return even
	}
	s := math.Sqrt(all)
	return (n + s*even) / (all + s)
}

// factorNames says the largest prime factor of a count, by class.
var factorNames = [...]string{"5 at most", "7", "11", "13", "17 and more"}

func factorClass(n int) int {
	largest := 1
	for f := 2; n > 1; f++ {
		for n%f == 0 {
			largest, n = f, n/f
		}
	}
	switch {
	case largest <= 5:
		return 0
	case largest == 7:
		return 1
	case largest == 11:
		return 2
	case largest == 13:
		return 3
	}
	return 4
}

// classSizes is how many counts from 20 to 160 there are of each class.
func classSizes() (n [len(factorNames)]float64) {
	for w := usualWheels.V.Low; w <= usualWheels.V.High; w++ {
		n[factorClass(w)]++
	}
	return n
}

// goingPractice counts trains; what is not a whole train of two meshes and
// more counts as far as it goes.
func goingPractice(name string, trains []train.Query) *practice {
	p := &practice{name: name}
	for _, q := range trains {
		rows := q.Trains[0].Rows()
		for i, a := range rows {
			if i == len(rows)-1 {
				if a.Wheel.Known() {
					p.escapes.add(int(a.Wheel.Teeth))
				}
				break
			}
			p.mesh(int(a.Wheel.Teeth), int(rows[i+1].Pinion.Teeth))
			if i > 0 {
				p.follow(int(rows[i-1].Wheel.Teeth), int(a.Pinion.Teeth), int(a.Wheel.Teeth), int(rows[i+1].Pinion.Teeth))
			}
		}
	}
	return p
}

// chainPractice counts motion works.
func chainPractice(name string, chains []train.Chain) *practice {
	p := &practice{name: name}
	for _, c := range chains {
		rows := c.Arbors()
		for i := range len(rows) - 1 {
			p.mesh(int(rows[i].Wheel.Teeth), int(rows[i+1].Pinion.Teeth))
		}
	}
	return p
}

func (p *practice) mesh(wheel, pinion int) {
	p.teeth.add(wheel)
	p.leaves.add(pinion)
	p.factors[factorClass(wheel)]++
}

// follow counts what a mesh does after another.
func (p *practice) follow(wheelBefore, pinionBefore, wheel, pinion int) {
	p.same.add(pinion == pinionBefore)
	p.falls[order(wheelBefore, wheel)]++
	before := hunting(wheelBefore, pinionBefore)
	p.hunts[before].add(hunting(wheel, pinion) == before)
}

// order is 0 where the second wheel has fewer teeth, 1 as many, 2 more.
func order(first, second int) int {
	switch {
	case second < first:
		return 0
	case second == first:
		return 1
	}
	return 2
}

// hunting is 1 where every tooth meets every leaf.
func hunting(wheel, pinion int) int {
	for pinion != 0 {
		wheel, pinion = pinion, wheel%pinion
	}
	if wheel == 1 {
		return 1
	}
	return 0
}

func points(share float64) float64 { return -math.Log2(share) }

// ofLeaves is the odds of a pinion by itself.
func (p *practice) ofLeaves(n int) float64 {
	return smooth(float64(p.leaves.n[n]), float64(p.leaves.total), 1/float64(usualPinions.V.High-usualPinions.V.Low+1))
}

// afterLeaves is the odds of a pinion after another.
func (p *practice) afterLeaves(before, n int) float64 {
	same := p.same.share()
	if n == before {
		return same + (1-same)*p.ofLeaves(n)
	}
	return (1 - same) * p.ofLeaves(n)
}

// ofTeeth is the odds of a wheel: counts that the tables have, and those of
// the same largest prime factor, which the same circles of a plate divide.
func (p *practice) ofTeeth(n int) float64 {
	c := factorClass(n)
	all := float64(p.teeth.total)
	class := smooth(p.factors[c], all, 1/float64(len(factorNames)))
	return smooth(float64(p.teeth.n[n]), all, class/classSizes()[c])
}

// ofEscape is the odds of an escape wheel.
func (p *practice) ofEscape(n int) float64 {
	return smooth(float64(p.escapes.n[n]), float64(p.escapes.total), 1/float64(usualEscapes.V.High-usualEscapes.V.Low+1))
}

// ofOrder is the odds of a wheel's size after the one before it, by [order].
func (p *practice) ofOrder(is int) float64 {
	all := p.falls[0] + p.falls[1] + p.falls[2]
	return smooth(p.falls[is], all, 1.0/3)
}

// ofHunting is the odds of a mesh after another that hunts or does not.
func (p *practice) ofHunting(before, now int) float64 {
	same := p.hunts[before].share()
	if now == before {
		return same
	}
	return 1 - same
}

// said is "112 of 158" of a count in a tally.
func (t tally) said(n int) string { return fmt.Sprintf("%d of %d", t.n[n], t.total) }
