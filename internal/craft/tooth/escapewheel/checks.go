package escapewheel

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Sources lists what the chapter leans on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "place of the pallets, d = R/cos A, p = R tan A", Value: "closed form", Ref: tangents},
		{Name: "undercut where none was measured", Value: "10° dead-beat, 0° recoil", Ref: usualUndercut.Ref},
		{Name: "land, depth, base where none was measured", Value: "0.04 and 1.2 of the pitch, 0.5 of that at the root", Ref: usualLand.Ref},
		{Name: "pin of a pin wheel where none was measured", Value: "a quarter of the way from pin to pin", Ref: usualPin.Ref},
		{Name: "rim of a pin wheel", Value: "1.5 pins on either side", Ref: rimPins.Ref},
	}
}

// of answers for a wheel of radius 1 m.
func of(count train.Teeth, spaces float64) Answer {
	a, err := Solve(Query{Count: count, Spaces: meas.Of(unit.Ratio(spaces)), Diameter: meas.Of(unit.Length(2)), Lift: meas.Of(unit.Deg(2))})
	if err != nil {
		panic(err) // the chapter's own query
	}
	return a
}

// pinOf is the diameter of a pin by the rule, in degrees of the wheel.
func pinOf(count train.Teeth) float64 {
	a, err := Solve(Query{Kind: PinWheel, Count: count, Diameter: meas.Of(unit.Length(0.04))})
	if err != nil {
		panic(err) // the chapter's own query
	}
	return a.Pins.Angle.Degrees()
}

// Checks compares printed figures with those reckoned here.
func Checks() []cite.Check {
	beckett := func(what, place, printed string, got, tol float64) cite.Check {
		return cite.Check{What: what, Ref: cite.Ref{Source: "beckett", Place: place}, Printed: printed, Got: got, Tol: tol}
	}
	goodrich := func(what, place, printed string, got, tol float64) cite.Check {
		return cite.Check{What: what, Ref: cite.Ref{Source: "goodrich", Place: place}, Printed: printed, Got: got, Tol: tol}
	}
	thirty, square := of(30, 9.5), of(30, 7.5)
	out := []cite.Check{
		beckett("30 teeth, 9.5 spaces: distance of the centres in radii", "pp. 96–97", "1.84", thirty.DistanceRatio, 0),
		beckett("30 teeth, 9.5 spaces: radius to the pallets in radii", "pp. 96–97", "1.54", thirty.PalletRatio, 0),
		beckett("centres 2 radii apart: radius to the pallets", "pp. 96–97", "1.73", of(30, 9.5).byDistance(2), 0),
		beckett("centres 1.72 radii apart: radius to the pallets", "pp. 96–97", "1.4", of(30, 9.5).byDistance(1.72), 0),
		beckett("2° at the pallets, in their radius", "p. 96", ".035", thirty.LiftTravel.Value.MM()/thirty.PalletRadius.Value.MM(), 0),
		beckett("2° at 7 in, in inches (in the text 1/4)", "p. 96", "0.25", 7*thirty.LiftTravel.Value.MM()/thirty.PalletRadius.Value.MM(), 0.006),
		goodrich("90° of a wheel of 30: distance of the centres in radii", "ch. VII", "1.4142", square.DistanceRatio, 0),
		goodrich("degrees of a tooth, 30 teeth", "ch. VII", "12", thirty.PerTooth.Degrees(), 0),
		goodrich("degrees of a tooth, 32 teeth", "ch. VII", "11.25", of(32, 7.5).PerTooth.Degrees(), 0),
		goodrich("degrees that 11.5 spaces of 30 embrace", "ch. VII", "138", 2*of(30, 11.5).HalfAngle.Degrees(), 0),
		goodrich("half angle where the centres of a recoil are 1.4 radii apart (in the text 45°)", "ch. VII", "45", math.Acos(1/1.4)*180/math.Pi, 0.6),
		goodrich("diameter of a pin where 30 stand round, °", "chapter on the pin wheel escapement", "3", pinOf(30), 0),
		goodrich("stops 120° apart, distance of the centres in radii", "chapter on gravity escapements", "2", 1/math.Cos(math.Pi/3), 0),
	}
	return append(out, playtner()...)
}

// byDistance is the radius to the pallets of tangents from a distance, in radii.
func (a Answer) byDistance(d float64) float64 { return math.Sqrt(d*d - 1) }

// playtner has the figures of a lever wheel.
func playtner() []cite.Check {
	at := func(what, printed string, got float64, wrong bool) cite.Check {
		return cite.Check{What: what, Ref: cite.Ref{Source: "playtner"}, Printed: printed, Got: got, Misprint: wrong, Tol: 1.5e-4}
	}
	lever := of(15, 2.5)
	degree := math.Pi / 180
	return []cite.Check{
		at("degrees that 2.5 spaces of 15 embrace", "60", 2*lever.HalfAngle.Degrees(), false),
		at("degrees that 2.5 spaces of 16 embrace", "56.25", 2*of(16, 2.5).HalfAngle.Degrees(), false),
		at("degrees that 3.5 spaces of 15 embrace", "84", 2*of(15, 3.5).HalfAngle.Degrees(), false),
		at("1° on the rim of a wheel of 7.5 mm, in mm", ".0655", 3.75*degree, false),
		at("1.5° of drop on it, in mm", ".0983", 3.75*1.5*degree, false),
		{What: "distance of the centres of a wheel of 7.5 mm at 60°, in mm", Ref: cite.Ref{Source: "playtner"}, Printed: "4.33", Got: 3.75 * lever.DistanceRatio},
		at("1.5° of drop on a wheel of 8.5 mm (printed .1413)", ".1413", 4.25*1.5*degree, true),
		at("1.25° of a fork of 4.5 mm (printed .0992)", ".0992", 4.5*1.25*degree, true),
		at("1.25° of a fork of 4 mm", ".0873", 4*1.25*degree, false),
	}
}
