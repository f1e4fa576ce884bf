package form

import "seatboard/internal/craft/train/missing"

// Missing declares the inputs of the search for lost wheels and pinions: the
// trains as they are entered elsewhere, and what survives of the rest.
func Missing(q *missing.Query) Form {
	f := Train(&q.Train)
	f.Name = "missing"
	f.Groups[0].Hint = "? is what is missing: 96/8 60/8 ?/7 30; 96? is taken as 96, 8L is a lantern pinion"
	return Form{Name: "missing", Groups: append([]Group{f.Groups[0],
		{Legend: "What survives", Fields: []Field{
			moved(&f, "pendulum").Hinted("With its doubt, 994 ± 2; half a per cent where none is stated"),
			Quantity("going-runs", "Time it runs on one winding", "h", &q.GoingRuns).Hinted("8 d; with the turns of the barrel it tells what the great wheel must make").Sized(10),
			Text("seconds-hand", "Arbor of the seconds hand", &q.SecondsHand).Hinted("The one that turns once a minute, by number or name").Sized(10),
			ParsedArea("makes", "What else is known of the turns", &q.Makes).Hinted("A line for each: 2 to 4 makes 60; strike 1 to 3 = 58.5; 1 to 2 = 7.5 ± 0.2"),
			Quantity("module", "Module of the meshes in question", "mm", &q.Module).Hinted("Of a neighbour that was cut with the same cutter").Sized(10),
		}},
	}, append(f.Groups[1:], []Group{
		{Legend: "Strike and slow dial", Folded: true, Fields: []Field{
			Text("blow-arbor", "Arbor of the strike that turns once a blow", &q.BlowArbor).Sized(10),
			Quantity("strike-runs", "Time the strike runs on one winding", "h", &q.StrikeRuns).Sized(10),
			Parsed("slow-dial", "Wheels to a slow dial", &q.Slow).Hinted("Wheel driven / pinion that drives it, from the dial: ?/75 84/10"),
			Choice("slow-shows", "What goes round once", &q.SlowShows, Option{"moon", "The moon"}, Option{"two-moons", "Two moons"}, Option{"week", "The day of the week"}, Option{"month", "The day of the month"}, Option{"year", "The year"}),
			Quantity("slow-turn", "One turn of the arbor it begins from", "h", &q.SlowTurn).Hinted("12 h where empty").Sized(8),
			Quantity("slow-within", "Doubt allowed in one period", "min", &q.SlowWithin).Hinted("20 min where empty").Sized(8),
		}},
		{Legend: "What may be cut", Folded: true, Fields: []Field{
			Parsed("wheels", "Teeth of a wheel", &q.Wheels).Hinted("20-160 where empty").Sized(10),
			Parsed("pinions", "Leaves of a pinion", &q.Pinions).Hinted("5-24 where empty, 5-60 in motion work").Sized(10),
			Parsed("escapes", "Teeth of the escape wheel", &q.Escapes).Hinted("12-45 where empty").Sized(10),
			Parsed("circles", "Circles of the dividing plates owned", &q.Circles).Hinted("360 288 144 96: which of them divides each wheel is shown"),
			Whole("most", "Candidates listed", &q.Most, 1, 500).Hinted("12 where empty"),
		}},
	}...)...)}
}

// moved takes a field out of its group.
func moved(f *Form, name string) Field {
	for i, g := range f.Groups {
		for k, x := range g.Fields {
			if x.Name == name {
				f.Groups[i].Fields = append(append([]Field(nil), g.Fields[:k]...), g.Fields[k+1:]...)
				return x
			}
		}
	}
	return Field{}
}
