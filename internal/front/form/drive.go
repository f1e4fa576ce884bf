package form

import (
	"seatboard/internal/craft/drive"
)

// Drive declares the inputs of the drive.
func Drive(q *drive.Query) Form {
	return Form{Name: "drive", Groups: []Group{
		{Legend: "Weight", Fields: driveWeight(q)},
		{Legend: "Barrel and line", Fields: driveBarrel(q)},
		{Legend: "Time", Fields: driveTime(q)},
		{Legend: "Case", Hint: "Depths are measured down from the under side of the seat board.", Fields: driveCase(q)},
		{Legend: "Pendulum", Fields: drivePendulum(q)},
		{Legend: "Strength of the line", Folded: true, Fields: driveLine(q)},
		{Legend: "Weight from its size", Folded: true, Fields: driveCylinder(q)},
		{Legend: "Mainspring", Folded: true, Fields: driveSpring(q)},
		{Legend: "Fusee", Folded: true, Fields: []Field{
			ParsedArea("fusee-torque", "Measured torques", &q.FuseeTorque).Hinted("Turn and torque on each line, like 0 1250 N mm"),
			Quantity("fusee-barrel", "Diameter at which the chain lies on the barrel", "mm", &q.FuseeBarrel).Hinted("With it the turns are those of the barrel"),
			Quantity("fusee-largest", "Largest radius of the fusee", "mm", &q.FuseeLargest).Sized(8),
			Quantity("fusee-smallest", "Smallest radius of the fusee", "mm", &q.FuseeSmallest).Sized(8),
		}},
		{Legend: "Name, gravity, losses", Folded: true, Fields: []Field{
			Text("name", "Which drive", &q.Name).Hinted("Going or strike").Sized(12),
			Quantity("gravity", "Gravity", "m/s²", &q.Gravity),
			Quantity("friction", "Part of the pull lost in pulley and barrel", "%", &q.Friction).Sized(6),
			Quantity("swing-band", "Width of the zone of sympathetic swing, either side", "%", &q.SwingBand).Hinted("10 where nothing is written").Sized(6),
		}},
	}}
}

func driveWeight(q *drive.Query) []Field {
	return []Field{
		Quantity("weight", "Weight with hook and pulley", "kg", &q.WeightMass),
		Quantity("weight-length", "Its length with hook and pulley", "mm", &q.WeightLength),
		Whole("falls", "Lines that carry it", &q.Falls, 1, 8).Hinted("1 direct, 2 with a pulley"),
	}
}

func driveBarrel(q *drive.Query) []Field {
	return []Field{
		Choice("barrel", "Kind of barrel", &q.Barrel, Option{drive.Plain, "Plain"}, Option{drive.Grooved, "Grooved"}, Option{drive.Endless, "Endless rope or chain on a sprocket"}),
		Quantity("barrel-diameter", "Diameter of the barrel", "mm", &q.BarrelDiameter).Hinted("Bare, or at the bottom of the groove; a sprocket at the middle of its rope"),
		Quantity("line-diameter", "Diameter of the line", "mm", &q.LineDiameter).Sized(8),
		Quantity("turns", "Turns used, from wound to down", "", &q.Turns).Sized(8),
		Quantity("barrel-length", "Length of the barrel between its flanges", "mm", &q.BarrelLength).Sized(8),
		Quantity("groove-pitch", "Pitch of the grooves", "mm", &q.GroovePitch).Sized(8),
		Whole("layers", "Layers allowed", &q.Layers, 1, 10),
		Quantity("wraps", "Turns left on when down", "", &q.Wraps).Hinted("1.5 where nothing is written").Sized(8),
	}
}

func driveTime(q *drive.Query) []Field {
	return []Field{
		Quantity("turn-time", "Time of one turn of the barrel", "h", &q.TurnTime).Sized(8),
		Quantity("turns-per-hour", "Or its turns an hour", "", &q.TurnsPerHour).Sized(8),
		Quantity("running-time", "Running time wanted", "d", &q.RunningTime).Hinted("Left empty: 8 d for a week's clock, 30 h for an endless rope, else what the turns last"),
		Quantity("beats-per-hour", "Beats an hour", "", &q.BeatsPerHour).Sized(8),
		Choice("wound-on", "Wound on", &q.WoundOn, Option{"sunday", "Sunday"}, Option{"monday", "Monday"}, Option{"tuesday", "Tuesday"}, Option{"wednesday", "Wednesday"},
			Option{"thursday", "Thursday"}, Option{"friday", "Friday"}, Option{"saturday", "Saturday"}),
		Quantity("wound-at", "At this hour", "h", &q.WoundAt).Hinted("12 where nothing is written").Sized(6),
	}
}

func driveCase(q *drive.Query) []Field {
	return []Field{
		Quantity("seat-to-floor", "Seat board to the floor of the case", "mm", &q.SeatToFloor),
		Quantity("top-gap", "Seat board to the hook or pulley, wound", "mm", &q.TopGap).Sized(8),
		Quantity("room", "Room for the fall, if measured", "mm", &q.Room).Hinted("From the weight's lower end, wound, to the floor"),
		Quantity("fall", "Fall in the running time, if measured", "mm", &q.Fall),
		Quantity("barrel-above-seat", "Barrel above the seat board", "mm", &q.BarrelAboveSeat).Hinted("Where the line begins to hang free").Sized(8),
	}
}

func drivePendulum(q *drive.Query) []Field {
	return []Field{
		Quantity("pendulum-length", "Length of the pendulum", "mm", &q.PendulumLength).Hinted("To the centre of swing"),
		Quantity("suspension-above-seat", "Suspension above the seat board", "mm", &q.SuspensionAboveSeat).Sized(8),
		Quantity("bob-half-height", "Half the height of the bob", "mm", &q.BobHalfHeight).Sized(8),
		Quantity("bob-mass", "Weight of the bob", "kg", &q.BobMass).Sized(8),
		Quantity("amplitude", "Half arc, from the vertical", "°", &q.Amplitude).Sized(8),
	}
}

func driveLine(q *drive.Query) []Field {
	var tempers []Option
	for _, w := range []string{"1/8 hard", "1/4 hard", "1/2 hard", "hard spring"} {
		tempers = append(tempers, Option{w, w})
	}
	return []Field{
		Choice("line-material", "Material of the line", &q.LineMaterial, Option{drive.GutLine, "Gut"}, Option{drive.SteelLine, "Steel rope"}, Option{drive.BrassLine, "Brass wire"}, Option{drive.Synthetic, "Synthetic cord"}),
		Text("line-construction", "Construction of a steel rope", &q.LineConstruction).Hinted("Like 7x7, 7x19, 6x19 FC, 6x36 IWRC").Sized(12),
		Quantity("rope-grade", "Grade of a steel rope", "MPa", &q.RopeGrade).Hinted("1570 where nothing is written").Sized(8),
		Choice("brass-temper", "Temper of brass wire", &q.BrassTemper, tempers...),
		Quantity("rope-factor", "Or its factor K, if the maker states it", "", &q.RopeFactor).Sized(8),
		Quantity("line-strength", "Strength of a solid wire or cord, if stated", "MPa", &q.LineStrength).Sized(8),
		Quantity("breaking-load", "Breaking load, if stated", "N", &q.BreakingLoad),
		Quantity("factor", "Factor asked", "", &q.Factor).Hinted("5 for rope and wire, 7 for gut and cord, where nothing is written").Sized(6),
		Choice("barrel-material", "Material of the barrel", &q.BarrelMaterial, Option{"brass", "Brass"}, Option{"steel", "Steel"}, Option{"iron", "Iron"}, Option{"wood", "Wood"}),
	}
}

func driveCylinder(q *drive.Query) []Field {
	var metals []Option
	for _, m := range drive.Materials() {
		metals = append(metals, Option{m.Name, m.Name})
	}
	return []Field{
		Choice("weight-material", "Metal of the weight", &q.WeightMaterial, metals...),
		Quantity("weight-density", "Or its density", "kg/m³", &q.WeightDensity),
		Quantity("weight-diameter", "Diameter of the weight", "mm", &q.WeightDiameter).Sized(8),
		Quantity("weight-height", "Height of the weight itself", "mm", &q.WeightHeight).Sized(8),
		Quantity("weight-bore", "Hole through it", "mm", &q.WeightBore).Sized(8),
		Quantity("weight-wanted", "Find the height for this weight", "kg", &q.WeightWanted).Sized(8),
	}
}

func driveSpring(q *drive.Query) []Field {
	return []Field{
		Quantity("spring-barrel", "Inside of the spring barrel", "mm", &q.SpringBarrel).Sized(8),
		Quantity("spring-arbor", "Diameter of its arbor", "mm", &q.SpringArbor).Sized(8),
		Quantity("spring-thickness", "Thickness of the spring", "mm", &q.SpringThickness).Sized(8),
		Quantity("spring-height", "Height of the spring", "mm", &q.SpringHeight).Sized(8),
		Quantity("spring-length", "Length of the spring", "mm", &q.SpringLength),
		Quantity("spring-turns", "Turns wound up, for torque and stress", "", &q.SpringTurns).Sized(8),
		Quantity("coils-wound", "Coils counted when wound", "", &q.CoilsWound).Sized(8),
		Quantity("coils-down", "Coils counted when down", "", &q.CoilsDown).Sized(8),
		Quantity("spring-new-thickness", "Another thickness to compare", "mm", &q.SpringNewThickness).Sized(8),
		Quantity("spring-modulus", "Modulus of its steel", "GPa", &q.SpringModulus).Hinted("206 where nothing is written").Sized(8),
	}
}
