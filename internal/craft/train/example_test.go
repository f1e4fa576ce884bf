package train_test

import (
	"fmt"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Derham, The Artificial Clock-maker, 1696, p. 110: a clock that goes 8 days
// with 16 turns of the barrel and shows seconds.
func Example() {
	q, err := train.Parse("8)96 8)60 7)56 30")
	if err != nil {
		fmt.Println(err)
		return
	}
	q.Trains[0].BarrelTurns = meas.Of(unit.Ratio(16))
	q.Motion = train.MustChain("48/48 72/6")
	a, err := train.Solve(q)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(q.Trains[0].Chain)
	for _, x := range a.Trains[0].Arbors {
		fmt.Printf("%s: %s turns an hour\n", x.Name, x.TurnsPerHour)
	}
	fmt.Println("beats an hour:", a.BeatsPerHour)
	fmt.Println("days:", a.Trains[0].RunningDays)
	fmt.Println("hours in a turn of the hour hand:", a.Motion.HoursPerTurn)
	// Output:
	// 96/8 60/8 56/7 30
	// Great wheel: 1/12 turns an hour
	// Centre: 1 turns an hour
	// Third: 15/2 turns an hour
	// Escape: 60 turns an hour
	// beats an hour: 3600
	// days: 8
	// hours in a turn of the hour hand: 12
}

// A mistake is named with the word typed.
func ExampleParseChain() {
	_, err := train.ParseChain("96/8 60/ 56/7 30")
	fmt.Println(err)
	// Output:
	// “60/” has a wheel and no pinion; write 60/8
}
