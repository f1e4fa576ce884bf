package divide

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// mostClose is how many inexact divisions are listed.
const mostClose = 5

// near lists the closest divisions where none is exact, the least tooth error
// first.
func near(p Plates, n int, compound bool) []Near {
	var out []Near
	for _, d := range p.Direct {
		for _, h := range d.Rings {
			if h >= n {
				out = append(out, nearestHole(Way{Kind: Direct, By: d.String(), Circle: h}, h, n))
			}
		}
	}
	for _, h := range p.Heads {
		for _, plate := range h.Plates {
			for i, c := range plate {
				if h.Ratio*c >= n {
					out = append(out, nearestHole(Way{Kind: Simple, By: h.String(), Ratio: h.Ratio, Circle: c}, h.Ratio*c, n))
				}
				for _, d := range plate[:i] {
					if compound {
						out = appendSame(out, h, c, d, n)
					}
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Near) int { return cmp.Compare(a.Tooth, b.Tooth) })
	return out[:min(len(out), mostClose)]
}

// turn is a number of turns as an angle.
func turn(t float64) unit.Angle { return unit.Angle(2 * math.Pi * t) }

// nearestHole goes to the nearest of so many steps in a turn each time. The
// places of the teeth lie at multiples of gcd(n, steps)/n of a step, so the
// worst is off by ⌊m/2⌋/m steps, m = n/gcd.
func nearestHole(w Way, steps, n int) Near {
	m := n / gcd(n, steps)
	whole, part := steps/n, float64(steps%n)/float64(n)
	first := (2*steps + n) / (2 * n)
	w.Turns, w.Holes = 0, first
	if w.Ratio > 0 {
		w.Turns, w.Holes = first/w.Circle, first%w.Circle
	}
	space := max(part, 1-part)
	if whole*n == steps {
		space = 0
	}
	return Near{Way: w, steps: steps, Tooth: turn(float64(m/2) / float64(m) / float64(steps)), Space: turn(space / float64(steps))}
}

// appendSame adds the same move with two circles each time, the nearest that
// they can make; all that is off adds up to the last space.
func appendSame(out []Near, h Head, c, d, n int) []Near {
	l := lcm(c, d)
	steps := h.Ratio * l
	m := (2*steps + n) / (2 * n)
	if m == 0 {
		return out
	}
	w, ok := shared(h, c, d, m)
	if !ok {
		return out
	}
	off := math.Abs(float64(m*n-steps)) / float64(steps) / float64(n) // of a turn, at each
	last := turn(off * float64(n-1))
	return append(out, Near{Way: w, SameMove: true, steps: steps, Tooth: last, Space: last})
}

// onRim is an angle as a length on a rim of a diameter with its doubt.
func onRim(a unit.Angle, d meas.Reading[unit.Length]) meas.Result[unit.Length] {
	if !d.Set {
		return meas.Result[unit.Length]{}
	}
	return meas.Propagate(func(x []float64) unit.Length { return unit.Length(float64(a) * x[0] / 2) }, meas.Input{Name: "diameter", Value: float64(d.Value), U: float64(d.U)})
}
