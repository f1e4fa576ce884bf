package form

import "seatboard/internal/craft/strikework"

// StrikeWork declares the inputs of rack, snail and count wheel.
func StrikeWork(q *strikework.Query) Form {
	return Form{Name: "strike-work", Groups: []Group{
		{Legend: "What is to be cut", Fields: []Field{
			Choice("kind", "Piece", &q.Kind, Option{string(strikework.RackAndSnail), "Rack and snail"}, Option{string(strikework.CountWheel), "Count wheel"}).Hinted("Rack and snail where empty"),
			Quantity("depth", "Depth of a tooth or slot", "mm", &q.Depth).Sized(8),
			Quantity("bore", "Hole in the middle of snail or wheel", "mm", &q.Bore).Sized(8),
		}},
		{Legend: "Rack and snail", Hint: "Give the pitch of a rack that is left, or the lowest step of a snail.", Fields: []Field{
			Quantity("radius", "Rack’s pivot to the tips of its teeth", "mm", &q.Radius),
			Quantity("tail", "Rack’s pivot to the pin of its tail", "mm", &q.Tail),
			Quantity("pin", "Diameter of that pin", "mm", &q.Pin).Sized(8),
			Quantity("largest", "Radius of the snail at 1 o’clock", "mm", &q.Largest),
			Quantity("smallest", "Radius of the snail at 12 o’clock", "mm", &q.Smallest),
			Quantity("pitch", "Pitch of the rack, along its tips", "mm", &q.Pitch),
			Quantity("centres", "Rack’s pivot to the centre of the snail", "mm", &q.Centres),
			Whole("teeth", "Teeth of the rack", &q.Teeth, 1, 100).Hinted("12 where empty"),
			Quantity("undercut", "Undercut of their faces", "°", &q.Undercut).Sized(6),
		}},
		{Legend: "Arms of the rack", Hint: "For its drawing; what is left empty is chosen, and the answer says so.", Folded: true, Fields: []Field{
			Quantity("between", "Angle at its pivot, middle of the teeth to the tail", "°", &q.Between).Sized(6).Hinted("The way the rack falls; −100° the other way"),
			Quantity("arm", "Width of the arms", "mm", &q.Arm).Sized(8),
			Quantity("hole", "Hole of its pivot", "mm", &q.Hole).Sized(8),
		}},
		{Legend: "Count wheel", Fields: []Field{
			Quantity("diameter", "Diameter of the count wheel", "mm", &q.Diameter),
			Choice("blows", "It strikes", &q.Blows, Option{string(strikework.Hours), "The hours"}, Option{string(strikework.HalfHours), "The hours, and one at each half"}),
			Quantity("slot", "Width of a slot at the rim", "mm", &q.Slot).Sized(8),
			Whole("pins", "Pins of the pin wheel", &q.Pins, 1, 90),
		}},
	}}
}
