package tooth

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/unit"
)

// toothPart is the part of the pitch that the tooth of a wheel takes.
const toothPart = 0.5

// profile is the curve of a wheel's tooth for radial leaves, the module 1 mm;
// thick is the part of the pitch that the tooth takes.
func profile(wheel, leaves train.Teeth, thick float64) Epicycloid {
	return Epicycloid{Base: float64(wheel) / 2, Rolling: float64(leaves) / 4, Begin: thick * math.Pi / float64(wheel)}
}

// PointHeight is how high over the pitch circle the tooth of a wheel that
// drives radial leaves comes to its point, in modules; the tooth is half of
// the pitch wide.
func PointHeight(wheel, leaves train.Teeth) float64 {
	e := profile(wheel, leaves, toothPart)
	return e.out(e.pointed()) - e.Base
}

// after is the angle that a pinion is driven through past the line of centres
// by teeth of a height in modules, no more than to their point.
func after(wheel, leaves train.Teeth, thick, height float64) float64 {
	e := profile(wheel, leaves, thick)
	turn := e.pointed()
	if e.Base+height < e.out(turn) {
		turn = e.reaches(e.Base+height, turn)
	}
	return turn * float64(wheel) / float64(leaves)
}

// AllAfter tells whether a wheel can drive a pinion of radial leaves without
// any action before the line of centres: its teeth, half of the pitch wide,
// run to their point.
func AllAfter(wheel, leaves train.Teeth) bool {
	return after(wheel, leaves, toothPart, math.Inf(1)) >= 2*math.Pi/float64(leaves)
}

// LeastLeaves are the fewest that a wheel drives without action before the
// line of centres.
func LeastLeaves(wheel train.Teeth) train.Teeth {
	for n := train.Teeth(3); n <= 1000; n++ {
		if AllAfter(wheel, n) {
			return n
		}
	}
	return 0
}

// LeastWheel is the smallest wheel that drives so many leaves without action
// before the line of centres; 0 where none of up to 2000 teeth does.
func LeastWheel(leaves train.Teeth) train.Teeth {
	if !AllAfter(2000, leaves) {
		return 0
	}
	low, high := train.Teeth(2), train.Teeth(2000) // the larger a wheel, the longer it drives
	for high-low > 1 {
		if mid := (low + high) / 2; AllAfter(mid, leaves) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// action is that of a design.
func (d Design) action() Action {
	m := d.Module.MM()
	l := layout{d, m, m * float64(d.Wheel) / 2, m * float64(d.Leaves) / 2}
	a := Action{Needed: unit.Angle(2 * math.Pi / float64(d.Leaves))}
	switch d.Form {
	case Arcs:
		return a
	case LanternOf:
		_, pin, e, err := l.pinSpace()
		if err != nil {
			return a
		}
		k, err := l.beside(e, pin)
		if err != nil {
			return a
		}
		a.Begins, a.After = unit.Angle(k.first*l.R/l.r), unit.Angle(k.last*l.R/l.r)
	default:
		_, turn, err := l.wheelTop(Epicycloid{Base: l.R, Rolling: l.r / 2, Begin: l.half()})
		if err != nil {
			return a
		}
		a.After = unit.Angle(turn * l.R / l.r)
		a.LeastLeaves, a.LeastWheel = LeastLeaves(d.Wheel), LeastWheel(d.Leaves)
		a.Ways = d.ways()
	}
	a.Known = true
	a.Before = a.Needed + a.Begins - a.After
	return a
}

// ways are the corrections that a maker has, with what they do.
func (d Design) ways() []Way {
	way := func(what string, wheel, leaves train.Teeth, height, past float64) Way {
		return Way{what, wheel, leaves, height, unit.Angle(2*math.Pi/float64(leaves) - past)}
	}
	point := PointHeight(d.Wheel, d.Leaves)
	thick := profile(d.Wheel, d.Leaves, 0.55)
	out := []Way{
		way("teeth a fifth lower than their point", d.Wheel, d.Leaves, 0.8*point, after(d.Wheel, d.Leaves, toothPart, 0.8*point)),
		way("teeth run to their point", d.Wheel, d.Leaves, point, after(d.Wheel, d.Leaves, toothPart, point)),
		way("teeth 0.55 of the pitch thick, to their point, leaves thinner by as much", d.Wheel, d.Leaves, thick.out(thick.pointed())-thick.Base, after(d.Wheel, d.Leaves, 0.55, math.Inf(1))),
	}
	for n := d.Leaves + 1; n <= mostLeaves && len(out) < 5; n++ {
		if w := d.Wheel * n; w%d.Leaves == 0 && w/d.Leaves <= mostTeeth {
			w /= d.Leaves
			p := PointHeight(w, n)
			out = append(out, way("more leaves at the same ratio, teeth to their point", w, n, p, after(w, n, toothPart, p)))
		}
	}
	return out
}
