package form

import (
	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/ratio"
)

// Ratio declares the inputs of a ratio with few teeth.
func Ratio(q *ratio.Query) Form {
	return Form{Name: "ratio", Groups: []Group{
		{Legend: "What is wanted", Fields: []Field{
			Parsed("wanted", "Ratio", &q.Wanted).AsArg().Hinted("29.530589, 191/23, or two times: 29 d 12 h 44 min 2.9 s / 24 h"),
			Quantity("turn", "One turn of the quicker arbor takes", "h", &q.Turn).Hinted("24 h; left empty where two times were entered").Sized(8),
		}},
		{Legend: "What can be cut", Fields: []Field{
			Whole("pairs", "Pairs of wheel and pinion", &q.Pairs, 1, 3).Hinted("2 where empty"),
			Whole("wheel-from", "Fewest teeth of a wheel", &q.WheelFrom, 2, int(train.MostTeeth)).Hinted("20 where empty"),
			Whole("wheel-to", "Most teeth of a wheel", &q.WheelTo, 2, int(train.MostTeeth)).Hinted("144 where empty"),
			Whole("leaf-from", "Fewest leaves of a pinion", &q.LeafFrom, 2, int(train.MostTeeth)).Hinted("6 where empty"),
			Whole("leaf-to", "Most leaves of a pinion", &q.LeafTo, 2, int(train.MostTeeth)).Hinted("20 where empty"),
		}},
	}}
}
