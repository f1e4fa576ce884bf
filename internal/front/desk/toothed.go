package desk

import (
	"seatboard/internal/craft/divide"
	"seatboard/internal/craft/strikework"
	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/front/form"
	"seatboard/internal/paper/present"
)

// toothed lists the calculations for wheels and racks that drive no pinion,
// and the dividing of all.
func toothed() []Calculation {
	return []Calculation{
		{
			Name: "escape-wheel", Job: work, Title: "Escape wheel", Arg: "TEETH", Apart: true, Draws: true,
			Lead: "An escape wheel to be made, dead-beat, recoil or with pins: its teeth or pins drawn at true size, where the pallets stand, and a lost wheel found from its pallets.",
			Examples: []Example{
				{`30 --diameter '40 mm' --spaces 7.5 --drop 1° --lift 2°`, "the wheel, its pallets, and what drop and lift leave"},
				{`30 --kind recoil --distance '31.4 ± 0.2 mm' --spaces 8.5`, "a lost wheel from the distance of its pallets"},
				{`30 --kind pin-wheel --diameter '60 mm' --reach '90 mm' --shape half --drop 1°`, "a wheel with half pins, and what is left for its pallets"},
			},
			Begin: begin(form.EscapeWheel, escapewheel.Solve, present.EscapeWheel),
		},
		{
			Name: "ratchet", Job: work, Title: "Ratchet and click", Arg: "TEETH", Apart: true, Draws: true,
			Lead: "A ratchet wheel and its click to be made, drawn at true size and in their place: where the pivot belongs, whether the teeth draw the click in, and what it bears.",
			Examples: []Example{
				{`24 --diameter '32 mm' --click '18 mm'`, "the wheel, and the pivot on the tangent"},
				{`24 --diameter '32 mm' --click '18 mm' --distance '23.5 ± 0.1 mm' --undercut 5°`, "a click as it was found: is it drawn in?"},
			},
			Begin: begin(form.Ratchet, ratchet.Solve, present.Ratchet),
		},
		{
			Name: "strike-work", Job: work, Title: "Rack, snail, count wheel", Apart: true, Draws: true,
			Lead: "What counts the blows, to be cut: a rack with its arms and the snail that belongs to it, from either; or a count wheel with its slots, drawn at true size.",
			Examples: []Example{
				{`--radius '42 mm' --tail '45 mm' --pitch '1.30 ± 0.02 mm' --largest '20 mm'`, "a lost snail from the rack that is left"},
				{`--kind count-wheel --diameter '80 mm' --blows half-hours --pins 10`, "a count wheel that strikes the halves"},
			},
			Begin: begin(form.StrikeWork, strikework.Solve, present.StrikeWork),
		},
		{
			Name: "divide", Job: work, Title: "Dividing a circle", Arg: "COUNT", Apart: true,
			Lead: "From the plates and heads of the shop: how far to move at each tooth, what is off where a count does not fit, and which counts they reach.",
			Examples: []Example{
				{`77 --plates 'head 40:1 with 21 23 27 29 31 33' --two-circles yes`, "turns and holes at each of 77 teeth"},
				{`127 --plates 'plate A: 96 120 360' --diameter '50 mm'`, "what is off where the count does not fit"},
			},
			Begin: begin(form.Divide, divide.Solve, present.Divide),
		},
	}
}
