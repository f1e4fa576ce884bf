package desk

import (
	"seatboard/internal/craft/divide"
	"seatboard/internal/front/form"
	"seatboard/internal/paper/present"
)

// toMake lists the calculations for making a part, in the order of the work.
func toMake() []Calculation {
	return []Calculation{
		{
			Name: "divide", Title: "Dividing a circle", Arg: "COUNT", Apart: true,
			Lead: "From the plates and heads of the shop: how far to move at each tooth, what is off where a count does not fit, and which counts they reach.",
			Examples: []Example{
				{`77 --plates 'head 40:1 with 21 23 27 29 31 33' --two-circles yes`, "turns and holes at each of 77 teeth"},
				{`127 --plates 'plate A: 96 120 360' --diameter '50 mm'`, "what is off where the count does not fit"},
			},
			Begin: begin(form.Divide, divide.Solve, present.Divide),
		},
	}
}
