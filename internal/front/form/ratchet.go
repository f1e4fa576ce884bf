package form

import "seatboard/internal/craft/tooth/ratchet"

// Ratchet declares the inputs of a ratchet wheel.
func Ratchet(q *ratchet.Query) Form {
	return Form{Name: "ratchet", Groups: []Group{
		{Legend: "Wheel", Fields: []Field{
			Whole("count", "Teeth", &q.Count, 1, 1000).AsArg(),
			Quantity("diameter", "Diameter over the tips", "mm", &q.Diameter),
			Quantity("undercut", "Undercut of the face, from the radius", "°", &q.Undercut).Hinted("Radial where empty").Sized(6),
			Quantity("depth", "Depth of a tooth", "mm", &q.Depth).Sized(8),
			Quantity("land", "Land of the tip", "mm", &q.Land).Sized(8),
			Quantity("bore", "Hole in the middle", "mm", &q.Bore).Sized(8),
		}},
		{Legend: "Click", Hint: "One of the two puts the pivot on the tangent; both say how it is drawn in.", Fields: []Field{
			Quantity("click", "Length from its pivot to its nose", "mm", &q.Click),
			Quantity("distance", "Its pivot from the centre of the wheel", "mm", &q.Distance),
			Quantity("arm", "Width of its arm", "mm", &q.Arm).Sized(8),
			Quantity("hole", "Hole for its pivot", "mm", &q.Hole).Sized(8),
			Quantity("friction", "Coefficient of friction, nose on face", "", &q.Friction).Sized(6).Hinted("If known; without it, the coefficient is told at which the click would stick"),
			Quantity("torque", "Torque that it holds", "N m", &q.Torque).Sized(8).Hinted("For the thrust on its pivot"),
		}},
	}}
}
