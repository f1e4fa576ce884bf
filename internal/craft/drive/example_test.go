package drive_test

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Goodrich, The Modern Clock, 1905, ch. XV: a lead weight of 3 by 9 inches
// with a hole of 3/4 inch; 24.45 lb is printed, made of two rounded cells.
func Example_weight() {
	a, err := drive.Solve(drive.Query{
		WeightMaterial: "lead",
		WeightDiameter: meas.Of(unit.Inches(3)),
		WeightHeight:   meas.Of(unit.Inches(9)),
		WeightBore:     meas.Of(unit.Inches(.75)),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f lb\n", unit.In(a.Weight.Mass.Value, "lb"))
	// Output: 24.44 lb
}

// Cunynghame, Time and Clocks, 1906: a weight of 10 lb on nine feet of double
// line, eight days, beating seconds, falls 1/12800 inch in a beat.
func Example_beat() {
	a, err := drive.Solve(drive.Query{
		WeightMass:   meas.Of(unit.From[unit.Mass](10, "lb")),
		Fall:         meas.Of(unit.Inches(9 * 12 / 2)),
		RunningTime:  meas.Of(8 * unit.Day),
		BeatsPerHour: meas.Of(unit.Ratio(3600)),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range a.Working {
		if strings.HasPrefix(s.Name, "Fall of the weight in one beat") || s.Name == "Work of one beat" {
			fmt.Println(strings.ReplaceAll(s.Result, "\u00a0", " "))
		}
	}
	// Output:
	// 1.984 µm = 1/12800 in
	// 88.3 µJ = 5.47 grain-inches
}

// Where a weight hangs at any hour.
func ExampleAnswer_At() {
	a, err := drive.Solve(drive.Query{
		BarrelDiameter: meas.Of(unit.Millimetres(50)), LineDiameter: meas.Of(unit.Millimetres(1.4)), Falls: 2,
		Turns: meas.Of(unit.Ratio(16)), TurnTime: meas.Of(unit.Duration(12 * 3600)),
		Room: meas.Of(unit.Length(1.34)), WoundOn: "Sunday",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	h, _ := a.At(3*unit.Day + 6*3600)
	fmt.Printf("%s, %s: %.3f m above the floor\n", h.Label, h.When, float64(h.AboveFloor.Value))
	// Output: day 3, 6 h, Wednesday 18 h: 0.815 m above the floor
}
