package regulate

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Sources lists what is held of clocks in general before the readings tell
// better. Most of it is common practice; where a figure leans on print, that
// is named.
func Sources() []cite.Entry {
	practice := cite.Ref{Grade: cite.CommonPractice}
	about := func(v, u float64, places int, symbol string) string {
		return unit.Number(v, places) + " ± " + unit.Number(u, places) + " " + symbol
	}
	at, sd := typical(), spread()
	size := func(i int, symbol string) string {
		return fmt.Sprintf("%s %s, within a factor of %s", unit.Significant(math.Exp(at[i]), 2), symbol, unit.Significant(math.Exp(sd[i]), 2))
	}
	return []cite.Entry{
		{Name: "model: level whose slope is nearly steady, filter and smoother", Value: "closed form", Ref: cite.Ref{Source: "durbin", Place: "ch. 2 to 5"}},
		{Name: "rate of a clock that comes in", Value: about(0, startRate, 0, "s/d"), Ref: practice},
		{Name: "one turn of a nut of which nothing is known", Value: about(anyTurn, anyTurnU, 0, "s/d"), Ref: practice},
		{Name: "how far a turn is not what it was meant to be", Value: fmt.Sprintf("%.0f %% of it and %s of a turn", 100*slipShare, unit.Number(slipLeast, 2)), Ref: practice},
		{Name: "lost motion of a nut turned back", Value: about(lostTurns, lostTurnsU, 2, "of a turn"), Ref: practice},
		{Name: "rod of which nothing is known, for 1 K", Value: about(perKelvin, perKelvinU, 1, "s/d"), Ref: cite.Ref{Source: "beckett", Place: "p. 53", Grade: cite.Computed, Note: "from wood to steel"}},
		{Name: "pressure, for 1 hPa", Value: about(perHPa, perHPaU, 3, "s/d"), Ref: cite.Ref{Source: "matthys", Place: "ch. 30", Note: "0.2 to 0.4 s/d an inch of mercury"}},
		{Name: "arc, for 1° of half arc", Value: about(perDegree, perDegreeU, 1, "s/d"), Ref: cite.Ref{Source: "beckett", Place: "p. 34", Grade: cite.Computed, Note: "the circular error at 2°"}},
		{Name: "humidity, for 1 %", Value: about(perCent, perCentU, 1, "s/d"), Ref: practice},
		{Name: "recorder whose clock was not compared", Value: about(0, recorderU, 1, "s/d"), Ref: cite.Ref{Place: "IEC 60958 level I, ±50 ppm", Grade: cite.Memory}},
		{Name: "reading by hand, tap or strike that states no doubt", Value: fmt.Sprintf("%s, %s, %s s", unit.Number(unstated(ByHand), 1), unit.Number(unstated(ByTap), 1), unit.Number(unstated(ByStrike), 0)), Ref: practice},
		{Name: "what stated doubts are to be multiplied by", Value: size(0, "times"), Ref: practice},
		{Name: "wander of a clock in a day", Value: size(1, "s"), Ref: practice},
		{Name: "walk of its rate in a day", Value: size(2, "s/d"), Ref: practice},
		{Name: "change of rate when it is moved, levelled, set going", Value: fmt.Sprintf("%s, %s, %s s/d", unit.Number(shaken(Moved), 0), unit.Number(shaken(Levelled), 0), unit.Number(shaken(Started), 1)), Ref: practice},
	}
}
