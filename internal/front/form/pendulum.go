package form

import (
	"seatboard/internal/craft/pendulum"
)

// Pendulum declares the inputs of the pendulum.
func Pendulum(q *pendulum.Query) Form {
	return Form{Name: "pendulum", Groups: []Group{
		{Legend: "Beat and length", Fields: []Field{
			Quantity("beats", "Beats an hour", "", &q.Beats).Sized(8),
			Quantity("beat", "Time of one beat", "s", &q.Beat).Sized(8),
			Quantity("length", "Length to the centre of swing", "mm", &q.Length).Hinted("From the bending point of the suspension, as measured"),
		}},
		{Legend: "Where it stands", Fields: []Field{
			Quantity("latitude", "Latitude", "°", &q.Latitude).Hinted("51.5 or 51° 28′ N; south is S"),
			Quantity("height", "Height above the sea", "m", &q.Height).Sized(8),
			Quantity("gravity", "Gravity, if it was measured", "m/s²", &q.Gravity),
			Quantity("seconds-pendulum", "Seconds pendulum a book uses", "mm", &q.SecondsPendulum).Hinted("39.14 in; instead of gravity"),
			Choice("ellipsoid", "Figure of the earth", &q.Ellipsoid, Option{"wgs84", "WGS84"}, Option{"grs80", "GRS80"}),
		}},
		{Legend: "Rod", Fields: []Field{
			materialChoice("rod", "Material of the rod", &q.Rod, true),
			Quantity("rod-length", "Length of the rod", "mm", &q.RodLength).Hinted("From the bending point to its lower end"),
			Quantity("rod-diameter", "Diameter of a round rod", "mm", &q.RodDiameter).Sized(8),
			Quantity("rod-width", "Width of a flat rod", "mm", &q.RodWidth).Sized(8),
			Quantity("rod-thickness", "Thickness of a flat rod", "mm", &q.RodThickness).Sized(8),
			Quantity("rod-mass", "Weight of the rod, if weighed", "g", &q.RodMass).Sized(8),
		}},
		{Legend: "Bob", Fields: []Field{
			Choice("bob", "Shape of the bob", &q.Bob, Option{pendulum.Lens, "Lens"}, Option{pendulum.Cylinder, "Upright cylinder"},
				Option{pendulum.Disc, "Flat disc"}, Option{pendulum.Sphere, "Ball"}),
			Quantity("bob-diameter", "Diameter of the bob", "mm", &q.BobDiameter).Sized(8),
			Quantity("bob-height", "Height of a cylinder, thickness of a lens or disc", "mm", &q.BobHeight).Sized(8),
			Quantity("bob-mass", "Weight of the bob, if weighed", "kg", &q.BobMass).Sized(8),
			materialChoice("bob-material", "Material of the bob", &q.BobMaterial, false),
			Quantity("bob-density", "Density of the bob, if known better", "kg/m³", &q.BobDensity).Sized(8),
			Quantity("bob-centre", "Suspension to the middle of the bob", "mm", &q.BobCentre).Hinted("Left empty, it is found from the beat"),
		}},
		{Legend: "Nut", Fields: []Field{
			Quantity("nut-pitch", "Pitch of the nut", "mm", &q.NutPitch).Hinted("0.635 mm or 40 tpi"),
			Whole("nut-divisions", "Divisions on the nut", &q.NutDivisions, 1, 1000),
			Quantity("regulate", "Wanted change of rate", "s/d", &q.Regulate).Hinted("+30 to make it gain, −30 to make it lose"),
			Quantity("nut-mass", "Weight of the nut", "g", &q.NutMass).Sized(8),
			Quantity("nut-at", "Suspension to the nut", "mm", &q.NutAt).Hinted("Left empty, it is just under the bob").Sized(8),
		}},
		{Legend: "Arc", Folded: true, Fields: []Field{
			Quantity("arc", "Half arc, from the vertical", "°", &q.Arc).Sized(8),
			Quantity("to-arc", "Another half arc to compare", "°", &q.ToArc).Sized(8),
		}},
		{Legend: "Moving to another place", Folded: true, Fields: []Field{
			Quantity("to-latitude", "Latitude there", "°", &q.ToLatitude),
			Quantity("to-height", "Height above the sea there", "m", &q.ToHeight).Sized(8),
			Quantity("to-gravity", "Gravity there, if it was measured", "m/s²", &q.ToGravity),
		}},
		{Legend: "Warmth and air", Folded: true, Fields: []Field{
			Quantity("warmer", "Change of temperature", "°C", &q.Warmer).Hinted("+5 is 5 °C warmer").Sized(8),
			Quantity("temperature", "Temperature", "°C", &q.Temperature).Sized(8),
			Quantity("pressure", "Pressure of the air", "hPa", &q.Pressure).Sized(8),
			Quantity("humidity", "Humidity of the air", "%", &q.Humidity).Sized(6),
		}},
		{Legend: "Small weights on a tray", Folded: true, Fields: []Field{
			Quantity("tray-at", "Suspension to the tray", "mm", &q.TrayAt).Sized(8),
			Quantity("mass", "Weight of the whole pendulum", "kg", &q.Mass).Sized(8),
		}},
	}}
}

// materialChoice offers the materials of rods or of bobs; a rod wants one
// whose expansion is known.
func materialChoice(name, label string, target *string, rod bool) Field {
	var options []Option
	for _, m := range pendulum.Materials() {
		if rod && m.Expansion == 0 {
			continue
		}
		options = append(options, Option{m.Name, m.Name})
	}
	if rod {
		options = append(options, Option{"wood", "wood, kind not known"})
	}
	return Choice(name, label, target, options...)
}
