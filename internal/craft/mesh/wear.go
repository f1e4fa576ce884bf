package mesh

import (
	"math"

	"seatboard/internal/kit/geom"
)

// worn is the shape with pits where the teeth run on one another when they
// are sound: so deep, in mm, in the leaves and in the teeth.
func (s shape) worn(t Turn, leaves, teeth float64) shape {
	legs := [2][2]float64{{math.Inf(1), 0}, {math.Inf(1), 0}} // of wheel and pinion
	for _, m := range t.Moments {
		if m.Ratio == 0 {
			continue
		}
		for i, r := range [...]float64{m.Touch.Len(), m.Touch.Minus(geom.Pt{X: t.Distance}).Len()} {
			legs[i] = [2]float64{min(legs[i][0], r), max(legs[i][1], r)}
		}
	}
	out := s
	out.back, out.backLeaf = s.drive, s.leaf
	out.drive = pitted(s.drive, teeth, legs[0])
	out.driven = pitted(s.driven, leaves, legs[1])
	out.leaf = leafOf(out.driven)
	return out
}

func pitted(flank []geom.Curve, depth float64, between [2]float64) []geom.Curve {
	if depth == 0 || !(between[1] > between[0]) {
		return flank
	}
	out := make([]geom.Curve, len(flank))
	for i, c := range flank {
		out[i] = pit{of: c, depth: depth, from: between[0], to: between[1]}
	}
	return out
}
