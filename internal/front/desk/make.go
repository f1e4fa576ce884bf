package desk

import (
	"math"

	"seatboard/internal/craft/identify"
	"seatboard/internal/craft/mesh"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train/ratio"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
)

// toMake lists the calculations for a part that is lost or worn, in the order
// of the work.
func toMake() []Calculation {
	return []Calculation{
		{
			Name: "missing", Job: survey, Title: "Missing wheels", Arg: "COUNTS", Apart: true,
			Lead: "From what survives: every set of counts that a lost wheel or pinion may have had, the likeliest first and why, with what each does to the clock.",
			Examples: []Example{
				{`'96/8 60/8 ?/? 30' --hour-arbor 2 --pendulum '994 ± 3 mm'`, "a lost third wheel and the pinion that it drove"},
				{`'?/8 60/8 56/7 30' --hour-arbor 2 --going-barrel-turns 16 --going-runs '8 d'`, "a lost great wheel of an eight-day clock"},
			},
			Lend:   missingFrom(),
			Onward: cutMissing,
			Takes:  takeMissing,
			Begin:  sitMissing,
		},
		{
			Name: "identify", Job: survey, Title: "Screw, wire, drill or pin", Arg: "KIND", Apart: true,
			Lead: "From diameter and pitch with their doubts: which standard it may be and how likely, or that it is older than standards; what to measure next; how it is made.",
			Examples: []Example{
				{`screw --diameter '2.74 ± 0.01 mm' --threads 10 --over '5.3 ± 0.1 mm'`, "a small screw, ten threads counted"},
				{`wire --diameter '0.064 ± 0.0005 in'`, "a wire, by a micrometer"},
			},
			Begin: begin(form.Identify, identify.Solve, present.Identify),
		},
		{
			Name: "ratio", Job: work, Title: "A ratio with few teeth", Arg: "RATIO", Apart: true,
			Lead: "Wheels and pinions for a moon, a calendar or any ratio: the nearest that can be cut, those with the fewest teeth, and the books’ own ways to them.",
			Examples: []Example{
				{`'29 d 12 h 44 min 2.9 s / 24 h' --wheel-to 182 --leaf-to 30`, "a moon on an arbor that turns once a day"},
				{`191/23 --pairs 1`, "a pair that comes near"},
			},
			Begin: begin(form.Ratio, ratio.Solve, present.Ratio),
		},
		{
			Name: "tooth", Job: work, Title: "Wheel and pinion to be cut", Apart: true, Draws: true,
			Lead: "From the counts and any size that survives: module, blanks, depth of cut, the cutter, where the leaves are met, and the drawings to cut by.",
			Examples: []Example{
				{`--wheel 60 --leaves 8 --wheel-outside '50.35 ± 0.05' --distance '27.2 ± 0.1'`, "a pair from the wheel that survives and the holes in the plates"},
				{`--wheel 80 --leaves 8 --form lantern --module 0.6 --part wheel --hole 5 --crossings 4`, "a wheel for a lantern pinion, crossed out"},
			},
			Onward: turnPair,
			Begin:  begin(form.Tooth, tooth.Solve, present.Tooth),
		},
		{
			Name: "mesh", Job: work, Title: "Depthing", Apart: true,
			Lead: "A wheel and its pinion turned against each other: where a tooth takes its leaf, how evenly, what friction leaves, and the best distance of their centres.",
			Examples: []Example{
				{`--wheel 60 --leaves 8 --wheel-outside '31.0 ± 0.05 mm' --pinion-outside '4.55 ± 0.02 mm' --distance '16.7 ± 0.03 mm'`, "a pair as it was measured"},
				{`--wheel 96 --leaves 12 --module '0.6 mm' --form lantern --faces greasy`, "a lantern pinion as designed, and its best depth"},
			},
			Begin: begin(form.Mesh, mesh.Solve, present.Mesh),
		},
	}
}

// turnPair leads from a pair that was laid out to how it turns. Tips that are
// rounded by a radius are not turned there.
func turnPair(answer any) []Onward {
	a := answer.(tooth.Answer)
	q := a.Query
	if q.TipRadius.Set {
		return nil
	}
	o := Onward{Words: "Turn the two against each other", Name: "mesh", Values: map[string][]string{"wheel": {q.Wheel.String()}, "leaves": {q.Leaves.String()}, "form": {string(a.Form)}}}
	put := func(name, value string) {
		if value != "" {
			o.Values[name] = []string{value}
		}
	}
	put("module", unit.Text(a.Module.Value, "mm", 4))
	put("bottom", string(q.Bottom))
	put("root-radius", q.RootRadius.String())
	put("height", q.Height.String())
	put("pin", q.Pin.String())
	if p := a.Pair.Pinion; q.Leaf.Set {
		put("leaf-width", unit.Text(2*p.Pitch*unit.Length(math.Sin(p.Half)), "mm", 4))
	}
	return []Onward{o}
}
