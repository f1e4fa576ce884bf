package mesh

import (
	"math"

	"seatboard/internal/kit/num"
)

// Depth is what a pair does at one distance of its centres.
type Depth struct {
	Distance  float64 `json:"distance_mm"`
	Lead      float64 `json:"lead"`    // of the pinion, before the line of centres, radians; negative: behind it
	After     float64 `json:"after"`   // after it
	Slowest   float64 `json:"slowest"` // least and most of the ratio over that of the counts while a tooth drives
	Fastest   float64 `json:"fastest"`
	Weakest   float64 `json:"weakest"`   // least torque passed on, over that of an even pair without friction
	Strongest float64 `json:"strongest"` // the greatest
	Mean      float64 `json:"mean"`      // work passed on, of that put in, over the pitch
	Drop      float64 `json:"drop"`      // radians that the wheel runs free
	Butts     float64 `json:"butts"`     // radians
	Play      float64 `json:"play"`      // radians of the pinion, the least; negative: they bind
	Bottom    float64 `json:"bottom_mm"`
	State     State   `json:"state"`
}

// State is whether a pair works.
type State string

// The states.
const (
	Works State = "works"
	Apart State = "apart" // the teeth do not reach one another
	Butts State = "butts" // a tooth comes against the end of a leaf
	Binds State = "binds" // there is no room left between the teeth, or tips stand on bottoms
	Locks State = "locks" // friction holds the leaf before the line of centres
)

// Sum is a turn in figures.
func Sum(t Turn) Depth {
	d := Depth{Distance: t.Distance, State: Works}
	if t.Apart {
		d.State = Apart
		return d
	}
	d.Lead, d.After, d.Drop, d.Butts, d.Play, d.Bottom = t.Lead(), t.After(), t.Drop, t.Butts, t.Play, t.Bottom
	d.Slowest, d.Fastest, d.Weakest, d.Strongest = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i, m := range t.Moments {
		if i > 0 {
			before := t.Moments[i-1]
			d.Mean += (m.Wheel - before.Wheel) * (m.Passed*m.Ratio + before.Passed*before.Ratio) / 2
		}
		if m.Ratio == 0 {
			continue
		}
		d.Slowest, d.Fastest = min(d.Slowest, m.Ratio), max(d.Fastest, m.Ratio)
		d.Weakest, d.Strongest = min(d.Weakest, m.Passed), max(d.Strongest, m.Passed)
	}
	d.Mean /= t.Pitch()
	switch {
	case d.Play <= 0 || d.Bottom <= 0:
		d.State = Binds
	case d.Butts > 0:
		d.State = Butts
	case !(d.Weakest > 0):
		d.State = Locks
	}
	return d
}

// sweep turns a shape at distances from one to another, mm.
func (s shape) sweep(from, to float64, n int, friction float64) []Depth {
	out := make([]Depth, n)
	for i := range out {
		out[i] = s.depthAt(from+(to-from)*float64(i)/float64(n-1), friction)
	}
	return out
}

func (s shape) depthAt(distance, friction float64) Depth {
	g := s.at(distance, friction, sweepParts)
	return Sum(g.turn(s))
}

// sweepParts are the steps in a pitch where many distances are turned.
const sweepParts = 200

// Even is how evenly torque is passed on: the weakest moment of a pitch over
// the strongest, 0 where the pair does not run.
func (d Depth) Even() float64 {
	if d.State != Works {
		return 0
	}
	return d.Weakest / d.Strongest
}

// best is the distance at which torque is passed on most evenly, between the
// neighbours of the best of a sweep.
func (s shape) best(swept []Depth, friction float64) (Depth, bool) {
	k := 0
	for i, d := range swept {
		if d.Even() > swept[k].Even() {
			k = i
		}
	}
	if swept[k].Even() <= 0 {
		return Depth{}, false
	}
	from, to := swept[max(k-1, 0)].Distance, swept[min(k+1, len(swept)-1)].Distance
	x := num.Least(func(c float64) float64 { return -s.depthAt(c, friction).Even() }, from, to, (to-from)/500)
	if d := s.depthAt(x, friction); d.Even() > swept[k].Even() {
		return d, true
	}
	return swept[k], true
}
