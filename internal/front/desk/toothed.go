package desk

import (
	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/front/form"
	"seatboard/internal/paper/present"
)

// toothed lists the calculations for wheels and racks that drive no pinion.
func toothed() []Calculation {
	return []Calculation{
		{
			Name: "escape-wheel", Title: "Escape wheel", Arg: "TEETH", Apart: true,
			Lead: "An escape wheel to be cut, dead-beat or recoil: its teeth drawn at true size, where the pallets stand, and a lost wheel found from its pallets.",
			Examples: []Example{
				{`30 --diameter '40 mm' --spaces 7.5 --drop 1° --lift 2°`, "the wheel, its pallets, and what drop and lift leave"},
				{`30 --kind recoil --distance '31.4 ± 0.2 mm' --spaces 8.5`, "a lost wheel from the distance of its pallets"},
			},
			Begin: begin(form.EscapeWheel, escapewheel.Solve, present.EscapeWheel),
		},
	}
}
