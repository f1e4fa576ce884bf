package mesh

import (
	"fmt"
	"math"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Root is what the roundings at the bottom of one of the two do: whether the
// tips of the other run on them.
type Root struct {
	Of      tooth.Part  `json:"of"`
	Radius  unit.Length `json:"radius_m"`
	Touches bool        `json:"touches"` // at the distance
	From    float64     `json:"from_mm"` // centres no nearer than this are free of it; 0: it is touched nowhere that was looked at
}

// roots turns the pair, unworn, with each rounding against the same pair with
// sharp corners: what a rounding changes it touches.
func (b *bench) roots() []Root {
	bare := b.q
	bare.RootRadius, bare.Bottom = meas.Reading[unit.Length]{}, ""
	sharp, faults := bare.lay()
	if len(faults) > 0 {
		return nil
	}
	var out []Root
	for _, of := range []tooth.Part{tooth.TheWheel, tooth.ThePinion} {
		rounded, gear := sharp.pair, b.sizes.pair.Wheel
		if of == tooth.TheWheel {
			rounded.Wheel = gear
		} else {
			gear = b.sizes.pair.Pinion
			rounded.Pinion = gear
		}
		if gear.RootRadius > 0 {
			r := Root{Of: of, Radius: gear.RootRadius}
			r.Touches, r.From = b.touched(shapeOf(sharp.pair), shapeOf(rounded))
			out = append(out, r)
		}
	}
	return out
}

// rootSteps are the distances that are tried for where a rounding is reached,
// and rootStep is from one to the next, in modules.
const (
	rootSteps = 14
	rootStep  = 0.05
)

// touched tells whether a rounding is touched at the distance, and the
// distance in mm from which on it is free; 0 where the sharp pair binds before
// it is reached, or it is not free at any of those tried.
func (b *bench) touched(sharp, rounded shape) (here bool, from float64) {
	at := func(c float64) (touches, binds bool) {
		x, y := sharp.at(c, b.mu, sweepParts), rounded.at(c, b.mu, sweepParts)
		if differ(&x, &y) {
			return true, false
		}
		return false, Sum(x.turn(sharp)).State == Binds
	}
	step := rootStep * (b.sizes.wheel + b.sizes.pinion) / 2
	here, binds := at(b.sizes.distance)
	way := -step
	if here {
		way = step
	}
	touching, free := b.sizes.distance, b.sizes.distance
	for range rootSteps {
		if !here && binds {
			return here, 0
		}
		next := free + way
		if here {
			next = touching + way
		}
		var touches bool
		touches, binds = at(next)
		if touches {
			touching = next
		} else {
			free = next
		}
		if touches != here {
			for range 6 {
				mid := (touching + free) / 2
				if t, _ := at(mid); t {
					touching = mid
				} else {
					free = mid
				}
			}
			return here, free
		}
	}
	return here, 0
}

// differ tells whether the pinion stands elsewhere, or has other play, at any
// angle of a pitch.
func differ(x, y *gearing) bool {
	const same = 1e-6 // rad, under any contact that could be cut or measured
	for k := range x.parts {
		a, b := x.stepped(x.carrier(k), k), y.stepped(y.carrier(k), k)
		if math.IsInf(a, 0) && math.IsInf(b, 0) {
			continue
		}
		angle := float64(k) * x.drive.step
		if !(math.Abs(a-b) <= same) || math.Abs(x.play(a, angle, k, true)-y.play(b, angle, k, true)) > same {
			return true
		}
	}
	return false
}

// sayRoots says whether tips run on the roundings.
func (b *bench) sayRoots(a *Answer) {
	for _, r := range a.Roots {
		mate := "leaves"
		switch {
		case r.Of == tooth.ThePinion:
			mate = "teeth"
		case b.q.Form == tooth.LanternOf:
			mate = "pins"
		}
		rounding := fmt.Sprintf("the rounding at the bottom of the %s, %s", r.Of, unit.Text(r.Radius, "mm", 3))
		from := unit.Text(unit.Millimetres(math.Ceil(r.From*1000)/1000), "mm", 3)
		switch c := millimetres(b.sizes.distance); {
		case r.Touches:
			next := "Cut the roundings smaller, or the spaces deeper."
			if r.From > 0 {
				next = "Bring the centres to " + from + " or farther apart, or cut the roundings smaller."
			}
			b.Say(meas.Clash, "root-"+string(r.Of), fmt.Sprintf("At %s the tips of the %s run on %s.", c, mate, rounding), next, method, "root-radius", "bottom", "distance")
		case r.From > 0:
			b.Say(meas.Note, "root-"+string(r.Of), fmt.Sprintf("The tips of the %s are clear of %s: they reach it where the centres are nearer than %s.", mate, rounding, from), "", method, "root-radius", "bottom")
		default:
			b.Say(meas.Note, "root-"+string(r.Of), fmt.Sprintf("The tips of the %s are clear of %s: nearer together, the pair binds before they reach it.", mate, rounding), "", method, "root-radius", "bottom")
		}
	}
}
