package drive

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// solveFall computes the way of the weight and its time.
func (b *bench) solveFall(a *Answer) {
	f := &a.Fall
	f.CentreDiameter = meas.Find[unit.Length](&b.Bench, numbers.centre)
	f.LinePerTurn = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return math.Pi * n.centre() })
	f.PerTurn = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return math.Pi * n.centre() / n.falls })
	f.TurnTime = meas.Find[unit.Duration](&b.Bench, numbers.turn)
	if known(b.N.turns) || known(b.N.fall) {
		f.RunningTime = meas.Find[unit.Duration](&b.Bench, numbers.runs)
	}
	if known(b.N.turn()) || known(b.N.wanting) {
		f.WindingDue = meas.Find[unit.Duration](&b.Bench, numbers.due)
	}
	f.TurnsNeeded = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return n.due() / n.turn() })
	f.Total = meas.Find[unit.Length](&b.Bench, numbers.total)
	f.PerDay = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.total() / n.runs() * float64(unit.Day) })
	f.FallDue = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.fallen(n.due()) })
	f.Room = meas.Find[unit.Length](&b.Bench, numbers.room)
	f.BottomWound = meas.Find[unit.Length](&b.Bench, numbers.bottomWound)
	f.LeftWhenDue = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.room() - n.fallen(n.due()) })
	f.LeftAtEnd = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.room() - n.total() })
	if land := b.N.reach(b.N.room()); land >= 0 && land < b.N.runs() {
		f.LandsAfter = meas.Find[unit.Duration](&b.Bench, func(n numbers) float64 { return n.reach(n.room()) })
		f.LandsWhen = b.when(land)
	}
	b.solveBarrel(f)
	b.fallSteps(*f)
	b.fallFindings(*f)
}

// solveBarrel finds the barrel that would use the room in the turns stated.
func (b *bench) solveBarrel(f *Fall) {
	perTurn := func(n numbers) float64 { return n.room() * n.falls / n.used() }
	f.TurnForRoom = meas.Find[unit.Length](&b.Bench, perTurn)
	f.CentreForRoom = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return perTurn(n) / math.Pi })
	f.BarrelForRoom = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 {
		if n.endless {
			return perTurn(n) / math.Pi
		}
		return perTurn(n)/math.Pi - n.line
	})
}

func (b *bench) fallSteps(f Fall) {
	n, exact := b.N, cite.Ref{Grade: cite.Exact}
	if f.CentreDiameter.Set && !n.endless {
		b.Step("Middle of the line on the barrel", "D + d", mm(n.barrel)+" + "+mm(or(n.line, 0)), f.CentreDiameter.Text("mm", 2), exact)
	}
	if f.PerTurn.Set {
		b.Step("Fall of the weight in one turn", "π (D + d) / falls", fmt.Sprintf("π · %s / %.0f", mm(n.centre()), n.falls), f.PerTurn.Text("mm", 1), exact)
	}
	if f.RunningTime.Set && known(n.turns) {
		b.Step("Running time", "turns · time of one turn", num(n.turns, 2)+" · "+unit.Text(unit.Duration(n.turn()), "h", 3), f.RunningTime.Text("h", 2)+" = "+Span(f.RunningTime.Value), exact)
	}
	if f.TurnsNeeded.Set {
		b.Step("Turns needed for "+Span(unit.Duration(n.due())), "time wanted / time of one turn", unit.Text(unit.Duration(n.due()), "h", 0)+" / "+unit.Text(unit.Duration(n.turn()), "h", 3), f.TurnsNeeded.Text("", 2), b.dueRef())
	}
	if f.Total.Set && !known(n.fall) {
		formula := "turns · fall in one turn"
		if n.stacked() {
			formula = "line of the turns, outer layer first, / falls"
		}
		b.Step("Fall over the turns", formula, num(n.used(), 2)+" · "+unit.Text(f.PerTurn.Value, "mm", 1), f.Total.Text("m", 3), exact)
	}
	if f.Room.Set && !known(n.space) {
		b.Step("Room for the fall", "seat board to floor − weight − gap at the top", mm(n.seat)+" − "+mm(n.wLength)+" − "+mm(n.gap), f.Room.Text("m", 3), exact)
	}
	if f.LandsAfter.Set {
		b.Step("The weight is on the floor after", "time at which fall = room", unit.Text(f.Room.Value, "m", 3)+" at "+unit.Text(f.PerDay.Value, "m", 3)+" a day", Span(f.LandsAfter.Value), exact)
	}
	if f.CentreForRoom.Set {
		b.Step("Barrel that would use this room", "room · falls / (π · turns)", fmt.Sprintf("%s · %.0f / (π · %s)", mm(n.room()), n.falls, num(n.used(), 2)), f.CentreForRoom.Text("mm", 1)+" at the middle of the line", exact)
	}
}

// dueRef is where the time wanted is from.
func (b *bench) dueRef() cite.Ref {
	switch {
	case known(b.N.wanting):
		return cite.Ref{Grade: cite.Measured, Note: "running time as stated"}
	case b.N.endless:
		return usualEndless.Ref
	case !known(b.N.usual):
		return cite.Ref{Grade: cite.Exact, Note: "the turns on the barrel"}
	}
	return usualRun.Ref
}

func (b *bench) fallFindings(f Fall) {
	n := b.N
	if f.Room.Set && float64(f.Room.Value) <= 0 {
		b.Say(meas.Clash, "no-room", "The weight with its pulley is longer than the way from the seat board to the floor.", "Measure the weight's length and the case again.", cite.Ref{Grade: cite.Exact}, "seat-to-floor", "weight-length")
		return
	}
	due := Span(unit.Duration(n.due()))
	if known(n.turnTime) && known(n.turnsPerHour) && math.Abs(n.turnTime*n.turnsPerHour/3600-1) > 1e-3 {
		b.Say(meas.Clash, "turn-time", fmt.Sprintf("%s for one turn and %s turns an hour do not agree.", unit.Text(unit.Duration(n.turnTime), "h", 3), num(n.turnsPerHour, 4)), "Count the wheels again; the time of one turn is used.", cite.Ref{Grade: cite.Exact}, "turn-time", "turns-per-hour")
	}
	if f.RunningTime.Set && known(n.wanting) && float64(f.RunningTime.Value) < n.wanting*(1-1e-9) {
		b.Say(meas.Clash, "runs-short", fmt.Sprintf("The barrel's %s turns last %s, not the %s wanted.", num(n.used(), 1), Span(f.RunningTime.Value), due), "Count the turns from wound to down again, or see whether a wheel has been changed.", cite.Ref{Grade: cite.Exact}, "turns", "running-time")
	}
	if !f.Total.Set || !f.Room.Set {
		return
	}
	b.landFindings(f, due)
	if !b.q.Room.Set && !b.q.TopGap.Set {
		b.Say(meas.Note, "drawn-up", "The weight is taken as drawn right up to the seat board when wound.", "Measure the gap left at the top.", cite.Ref{Grade: cite.Exact}, "top-gap")
	}
}

// landFindings compares the fall with the case.
func (b *bench) landFindings(f Fall, due string) {
	exact := cite.Ref{Grade: cite.Exact}
	about := []string{"room", "seat-to-floor", "barrel-diameter", "turns"}
	metres := func(r meas.Result[unit.Length]) string { return unit.Text(r.Value, "m", 2) }
	switch {
	case f.LandsAfter.Set && float64(f.LandsAfter.Value) < b.N.due():
		b.Say(meas.Clash, "lands-early", fmt.Sprintf("The weight falls %s in %s but the case leaves %s: it stands on the floor after %s%s.", metres(f.FallDue), due, metres(f.Room), Span(f.LandsAfter.Value), b.andWhen(f.LandsWhen)),
			"A thinner line, a smaller barrel, one more pulley or a shorter weight would bring it through.", exact, about...)
	case f.LandsAfter.Set:
		b.Say(meas.Note, "lands-late", fmt.Sprintf("The weight reaches the floor after %s%s, when winding at %s is past.", Span(f.LandsAfter.Value), b.andWhen(f.LandsWhen), due), "", exact, about...)
	case f.Total.Value > f.Room.Value:
		b.Say(meas.Clash, "lands-early", fmt.Sprintf("The weight falls %s but the case leaves %s.", metres(f.Total), metres(f.Room)), "State the time of one turn to see when it reaches the floor.", exact, about...)
	case f.LeftWhenDue.Set:
		b.Say(meas.Note, "down-when-due", fmt.Sprintf("When winding falls due after %s the weight hangs %s above the floor.", due, metres(f.LeftWhenDue)), "", exact, about...)
	default:
		b.Say(meas.Note, "reaches", fmt.Sprintf("The weight falls %s and the case leaves %s.", metres(f.Total), metres(f.Room)), "", exact, about...)
	}
}

func (b *bench) andWhen(when string) string {
	if when == "" {
		return ""
	}
	return " (" + when + ")"
}

// Span writes a time for words: minutes under a day, else days and hours.
func Span(d unit.Duration) string {
	if minutes := int(math.Round(float64(d) / 60)); minutes < 1440 {
		if minutes%60 == 0 {
			return fmt.Sprintf("%d\u00a0h", minutes/60)
		}
		return fmt.Sprintf("%d\u00a0h %d\u00a0min", minutes/60, minutes%60)
	}
	hours := int(math.Round(float64(d) / 3600))
	switch {
	case hours%24 == 0:
		return fmt.Sprintf("%d\u00a0d", hours/24)
	case hours < 48: // thirty hours is said in hours
		return fmt.Sprintf("%d\u00a0h", hours)
	}
	return fmt.Sprintf("%d\u00a0d %d\u00a0h", hours/24, hours%24)
}
