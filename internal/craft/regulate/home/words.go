package home

import (
	"fmt"
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// moves says a rate as what the clock does: "gain 12 ± 4 s a day".
func moves(r meas.Result[unit.Rate]) string {
	way := "gain"
	if r.Value < 0 {
		way, r.Value = "lose", -r.Value
	}
	v := unit.Ratio(r.Value.PerDay())
	if !r.HasU || r.U == 0 {
		return way + " " + unit.Number(float64(v), 1) + "\u00a0s a day"
	}
	return way + " " + meas.WithU(v, unit.Ratio(r.U.PerDay()), "") + "\u00a0s a day"
}

// turnWords says a turn of the nut.
func turnWords(turns, divisions float64, marks int) string {
	way := "up"
	if turns < 0 {
		way = "down"
	}
	if marks > 0 {
		return fmt.Sprintf("Before it leaves, turn the nut %s by %s of %d divisions.", way, unit.Number(math.Abs(divisions), 0), marks)
	}
	return fmt.Sprintf("Before it leaves, turn the nut %s by %s.", way, turnsOf(math.Abs(turns)))
}

// turnsOf names a number of turns in sixteenths: "3/8 of a turn", "1 1/4
// turns".
func turnsOf(turns float64) string {
	n := int(math.Round(turns * 16))
	whole, part := n/16, n%16
	den := 16
	for part > 0 && part%2 == 0 {
		part, den = part/2, den/2
	}
	switch {
	case part == 0 && whole == 1:
		return "one turn"
	case part == 0:
		return fmt.Sprintf("%d turns", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d of a turn", part, den)
	}
	return fmt.Sprintf("%d %d/%d turns", whole, part, den)
}

// massWords says a change on the tray.
func massWords(m unit.Mass) string {
	g := unit.Significant(math.Abs(unit.In(m, "g")), 2)
	if m < 0 {
		return "Before it leaves, take " + g + "\u00a0g off the tray."
	}
	return "Before it leaves, lay " + g + "\u00a0g on the tray."
}
