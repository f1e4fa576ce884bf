package form

import "seatboard/internal/craft/identify"

// Identify declares what is measured of a screw, wire, drill or pin.
func Identify(q *identify.Query) Form {
	return Form{Name: "identify", Groups: []Group{
		{Legend: "What it is", Fields: []Field{
			Choice("what", "Kind", &q.What, Option{identify.Screw, "Screw"}, Option{identify.Hole, "Tapped hole or nut"}, Option{identify.WoodScrew, "Wood screw"},
				Option{identify.Wire, "Wire"}, Option{identify.Sheet, "Sheet"}, Option{identify.Drill, "Drill"}, Option{identify.Pin, "Pin"}).AsArg(),
			Quantity("diameter", "Diameter", "mm", &q.Diameter).Hinted("Over the crests; the bore of a hole, the thickness of a sheet, the small end of a taper. 2.78 ± 0.01 mm or 0.110 in"),
			yesNo("worn", "Crests worn or filed", &q.Worn),
			Whole("year", "Year of the clock", &q.Year, 1300, 2100).Hinted("About; left empty where it is not known"),
		}},
		{Legend: "The thread", Fields: []Field{
			Whole("threads", "Threads counted", &q.Threads, 1, 400).Hinted("Ten or more"),
			Quantity("over", "Over a length of", "mm", &q.Over).Sized(10),
			Quantity("pitch", "Or the pitch", "mm", &q.Pitch).Hinted("0.53 mm or 40 tpi").Sized(10),
			Quantity("angle", "Angle between the flanks", "°", &q.Angle).Hinted("By a gauge against the light: 47.5, 55 or 60").Sized(8),
		}},
		{Legend: "To make it", Folded: true, Fields: []Field{
			Quantity("engagement", "Depth of thread in engagement", "%", &q.Engagement).Hinted("75 where empty").Sized(6),
		}},
	}}
}
