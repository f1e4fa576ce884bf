package form

import "seatboard/internal/craft/tooth"

// Tooth declares the inputs of a wheel and pinion to be cut.
func Tooth(q *tooth.Query) Form {
	return Form{Name: "tooth", Groups: []Group{
		{Legend: "Counts and form", Fields: []Field{
			Whole("wheel", "Teeth of the wheel", &q.Wheel, 1, 9999).Hinted("That drives the pinion"),
			Whole("leaves", "Leaves of the pinion", &q.Leaves, 1, 999).Hinted("Or pins of a lantern"),
			Choice("form", "Form of the teeth", &q.Form, Option{string(tooth.Rounded), "Cycloidal, rounded short of the point"}, Option{string(tooth.Exact), "Cycloidal, as long as they drive"},
				Option{string(tooth.Arcs), "Two arcs, as commonly found"}, Option{string(tooth.LanternOf), "Lantern of pins"}),
			Choice("part", "To be made", &q.Part, Option{string(tooth.TheWheel), "The wheel"}, Option{string(tooth.ThePinion), "The pinion"}).Hinted("Left empty, both"),
		}},
		{Legend: "Size", Hint: "One is enough; with several they are compared", Fields: []Field{
			Quantity("module", "Module", "mm", &q.Module).Sized(8),
			Quantity("diametral-pitch", "Diametral pitch, teeth to the inch", "", &q.DiametralPitch).Sized(8),
			Quantity("circular-pitch", "Circular pitch", "mm", &q.CircularPitch).Sized(8),
			Quantity("wheel-outside", "Diameter of the wheel over the tips", "mm", &q.WheelOutside).Hinted("50.35 ± 0.05, or 1.98 in"),
			Quantity("pinion-outside", "Diameter of the pinion over the tips", "mm", &q.PinionOutside),
			Quantity("distance", "Distance of the centres", "mm", &q.Distance).Hinted("Between the pivot holes in the plates"),
			Quantity("wheel-pitch-diameter", "Pitch diameter of the wheel", "mm", &q.WheelPitch),
			Quantity("pinion-pitch-diameter", "Pitch diameter of the pinion", "mm", &q.PinionPitch).Hinted("Of a lantern: through the middles of the pins"),
		}},
		{Legend: "Shape, if it is not left to the form", Folded: true, Fields: []Field{
			Quantity("height", "Height of the wheel's teeth over the pitch circle, in modules", "", &q.Height).Sized(8),
			Quantity("leaf", "Width of a leaf, as a part of the pitch", "", &q.Leaf).Hinted("A third for few leaves, 0.4 for many").Sized(8),
			Quantity("pin", "Diameter of the pins of a lantern", "mm", &q.Pin).Sized(8),
			Choice("bottom", "Bottom of the spaces", &q.Bottom, Option{string(tooth.SquareBottom), "Square"}, Option{string(tooth.RoundBottom), "One round from side to side"}),
			Quantity("root-radius", "Radius in the corners at the bottom", "mm", &q.RootRadius).Hinted("Of a square bottom; sharp where empty").Sized(8),
			Quantity("tip-radius", "Radius at the tips of the wheel", "mm", &q.TipRadius).Hinted("Of forms that run to a land or a point").Sized(8),
		}},
		{Legend: "The wheel inside its teeth, for the drawing", Folded: true, Fields: []Field{
			Quantity("hole", "Hole for arbor or collet", "mm", &q.Hole).Sized(8),
			Whole("crossings", "Crossings", &q.Crossings, 2, 12).Hinted("Left empty, it is solid"),
			Quantity("rim", "Width of the rim under the teeth", "mm", &q.Rim).Sized(8),
			Quantity("arm", "Width of a crossing", "mm", &q.Arm).Sized(8),
			Quantity("hub", "Diameter of the middle", "mm", &q.Hub).Sized(8),
		}},
	}}
}
