package form

import "seatboard/internal/craft/regulate/home"

// Home declares the inputs of a clock's new home.
func Home(q *home.Query) Form {
	return Form{Name: "home", Groups: []Group{
		{Legend: "Where it was regulated", Fields: []Field{
			Quantity("latitude", "Latitude", "°", &q.Latitude).Hinted("51.5 or 51° 28′ N; south is S"),
			Quantity("height", "Height above the sea", "m", &q.Height).Sized(8),
			Quantity("gravity", "Gravity, if it was measured", "m/s²", &q.Gravity),
			Quantity("temperature", "Warmth of the room", "°C", &q.Warmth).Sized(8),
		}},
		{Legend: "Where it is to stand", Fields: []Field{
			Quantity("to-latitude", "Latitude there", "°", &q.ToLatitude),
			Quantity("to-height", "Height above the sea there", "m", &q.ToHeight).Sized(8),
			Quantity("to-gravity", "Gravity there, if it was measured", "m/s²", &q.ToGravity),
			Quantity("to-temperature", "Warmth of the room there", "°C", &q.ToWarmth).Hinted("With its doubt: 14 ± 2").Sized(8),
		}},
		{Legend: "The clock", Fields: []Field{
			Quantity("rate", "Rate here now", "s/d", &q.Rate).Hinted("With its doubt: +1.2 ± 0.4").Sized(10),
			materialChoice("rod", "Material of a bare rod", &q.Rod, true),
			Quantity("per-kelvin", "One degree warmer, if known better", "s/d", &q.PerKelvin).Hinted("As the trial found it; negative where it loses").Sized(10),
			Quantity("per-turn", "One turn of the nut up", "s/d", &q.PerTurn).Sized(10),
			Whole("divisions", "Divisions on the nut", &q.Divisions, 1, 1000),
			Quantity("per-gram", "One gram on the tray", "s/d", &q.PerGram).Hinted("Where there is a tray").Sized(8),
		}},
		{Legend: "What counts as right", Folded: true, Fields: []Field{
			Quantity("want", "Rate wanted there", "s/d", &q.Want).Hinted("0 where empty").Sized(8),
			Quantity("band", "Right within, each way", "s/d", &q.Band).Hinted("2 where empty").Sized(8),
		}},
	}}
}
