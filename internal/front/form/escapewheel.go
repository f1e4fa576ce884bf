package form

import "seatboard/internal/craft/tooth/escapewheel"

// EscapeWheel declares the inputs of an escape wheel.
func EscapeWheel(q *escapewheel.Query) Form {
	return Form{Name: "escape-wheel", Groups: []Group{
		{Legend: "Wheel", Fields: []Field{
			Whole("count", "Teeth", &q.Count, 1, 1000).AsArg(),
			Choice("kind", "How it acts", &q.Kind, Option{string(escapewheel.DeadBeat), "Dead-beat"}, Option{string(escapewheel.Recoil), "Recoil"}, Option{string(escapewheel.PinWheel), "Pin wheel"}),
			Quantity("diameter", "Diameter over the tips", "mm", &q.Diameter).Hinted("Of a pin wheel through the middles of the pins; left empty for a lost wheel"),
			Quantity("bore", "Hole in the middle", "mm", &q.Bore).Sized(8),
		}},
		{Legend: "Pallets", Fields: []Field{
			Quantity("spaces", "Spaces that the anchor embraces", "", &q.Spaces).Hinted("A whole number and a half, like 7.5; found from the rest where empty").Sized(6),
			Quantity("distance", "Centre of the wheel to centre of the pallets", "mm", &q.Distance),
			Quantity("span", "Span of the two tips embraced", "mm", &q.Span).Hinted("Of a lost wheel: between the edges of the pallets that met them"),
			Quantity("drop", "Drop, seen from the wheel", "°", &q.Drop).Sized(6),
			Quantity("lift", "Lift of the pallets", "°", &q.Lift).Sized(6),
		}},
		{Legend: "Pins", Hint: "Of a pin wheel alone; without a pin that was measured a usual one is taken, and the answer says so.", Folded: true, Fields: []Field{
			Quantity("pin", "Diameter of a pin", "mm", &q.Pin).Sized(8),
			Choice("shape", "Shape of the pins", &q.Shape, Option{string(escapewheel.RoundPins), "Round"}, Option{string(escapewheel.HalfPins), "Half round, the leading half"}),
			Quantity("reach", "Arbor of the pallets to the pins they hold", "mm", &q.Reach),
		}},
		{Legend: "Tooth", Hint: "What is left empty gets usual proportions, and the answer says so.", Folded: true, Fields: []Field{
			Quantity("undercut", "Undercut of the face, from the radius", "°", &q.Undercut).Sized(6),
			Quantity("land", "Land of the tip", "mm", &q.Land).Sized(8),
			Quantity("depth", "Depth of a space", "mm", &q.Depth).Sized(8),
			Quantity("base", "Thickness of a tooth at the root", "mm", &q.Base).Sized(8),
			Choice("back", "Back of a tooth", &q.Back, Option{string(escapewheel.StraightBack), "Straight"}, Option{string(escapewheel.HollowBack), "Hollow"}),
			Quantity("back-radius", "Radius of a hollow back", "mm", &q.BackRadius).Sized(8),
		}},
	}}
}
