package mesh

import (
	"math"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Checks sets figures that were worked out elsewhere beside ours.
func Checks() []cite.Check {
	var out []cite.Check
	table := cite.Ref{Place: "table of pointed teeth", Grade: cite.Computed, Note: "worked out on its own from the closed form, before this program"}
	for _, r := range []struct {
		leaves train.Teeth
		what   string
		height float64 // pointed, in modules, as the table has it
		lead   string
	}{
		{6, "6 leaves", 1.382, "19.48"}, {8, "8 leaves", 1.549, "8.53"}, {10, "10 leaves", 1.687, "2.35"},
		{12, "12 leaves", 1.807, "-1.52"}, {14, "14 leaves", 1.913, "-4.13"}, {16, "16 leaves", 2.009, "-5.97"}, {20, "20 leaves", 2.178, "-8.33"},
	} {
		out = append(out, cite.Check{What: "lead of a wheel 7.5 times as large, 0.95 of the pointed height, " + r.what + ", °", Ref: table, Printed: r.lead,
			Got: leadOf(train.Teeth(7.5*float64(r.leaves)), r.leaves, 0.95*r.height), Tol: 0.03}) // the pointed height has three decimals
	}
	return out
}

// leadOf is the lead of a pair of exact form, in degrees.
func leadOf(wheel, leaves train.Teeth, height float64) float64 {
	p, err := tooth.Design{Form: tooth.Exact, Wheel: wheel, Leaves: leaves, Module: unit.Millimetres(1), Height: height}.Pair()
	if err != nil {
		return math.NaN()
	}
	s := shapeOf(p)
	g := s.at(p.Distance.MM(), 0, 50)
	return unit.Angle(g.turn(s).Lead()).Degrees()
}
