package home

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var (
	practice = cite.Ref{Grade: cite.CommonPractice}
	jerome   = cite.Ref{Source: "jerome", Place: "ch. XIV"}
	handling = cite.Ref{Source: "indg143"}
)

// settingUp is what to do and to look at, in order.
func settingUp() []Look {
	return []Look{
		{"before it leaves", "Write down where the nut stands, the rate here with its limits, and the warmth.", practice},
		{"before it leaves", "Take the weights off first, then the pendulum, then the hood; tie up lines and crutch. Glass and loose finials travel apart.", practice},
		{"on the day", "Stand it where the floor does not give, out of the sun and the draught, and fix the case to the wall through a distance piece so that it cannot rock or come forward: a case that rocks takes from the pendulum.", practice},
		{"on the day", "Lean the case back or forward until the rod hangs in the middle of the crutch’s loop and the bob is clear of back and door.", jerome},
		{"on the day", "Put it in beat by ear or by a listening, not by the level of the case: the two sounds even, side to side.", jerome},
		{"on the day", "Hang the weights, wind it, set the hands to the second against a time that is kept right, and write it down.", practice},
		{"day 1", "Is it going? Is the beat still even and the case still firm: a floor or a shelf settles. Read it, and look whether that is what was expected; do not touch the nut yet.", jerome},
		{"day 2", "Read it at the same hour. Touch the nut only where it is off by more than the limits below.", practice},
		{"day 7", "Read it, wind it, and look how far the weights came down, that they clear the floor and the bob, and that the strike counts right.", practice},
	}
}

// cautions say what can hurt.
func (b *bench) cautions() {
	b.Say(meas.Danger, "moving", "A weight that falls breaks feet and floors, a case without its fixing comes over, and old glass leaves its rebate when a case is tipped.",
		"Weights and pendulum off before it is moved, two persons to lift, the case fixed to the wall before the weights are hung. Local law and licensed practice decide.", handling)
}

// Sources lists what the chapter leans on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "change of rate with gravity, √(g₂/g₁) − 1", Value: "closed form", Ref: cite.Ref{Source: "beckett", Place: "p. 39"}},
		{Name: "beat by ear, rod in the crutch’s loop, settling shelf", Value: "in words", Ref: jerome},
		{Name: "lifting and carrying", Value: "in words", Ref: handling},
		{Name: "how well hands are set", Value: fmt.Sprintf("%s s", unit.Number(handSet.V, 1)), Ref: handSet.Ref},
		{Name: "what to look at on the first days", Value: "in words", Ref: practice},
	}
}

// Checks sets printed figures beside ours.
func Checks() []cite.Check {
	moved := func(q Query) float64 {
		a, err := Solve(q)
		if err != nil {
			panic(err) // a check's own query
		}
		return a.Gain.Value.PerDay()
	}
	at := func(from, to float64) Query {
		return Query{Latitude: meas.Of(unit.Deg(from)), ToLatitude: meas.Of(unit.Deg(to))}
	}
	sabine := cite.Ref{Source: "sabine"}
	warm := func(rod string, fahrenheit float64) Query {
		return Query{Rod: rod, Warmth: meas.Of(unit.Temperature(288.15)), ToWarmth: meas.Of(unit.Temperature(288.15 + fahrenheit*5/9))}
	}
	return []cite.Check{
		{What: "invariable pendulum from London to Brassa, s a day gained", Ref: sabine, Printed: "33.1", Got: moved(at(51.518889, 60.16167)), Tol: 3}, // 86530.507 less 86497.4
		{What: "invariable pendulum from London to Hare Island, s a day gained", Ref: sabine, Printed: "65.2", Got: moved(at(51.518889, 70.43806)), Tol: 3},
		{What: "English pendulum taken to the equator, minutes a day lost", Ref: cite.Ref{Source: "beckett", Place: "p. 39"}, Printed: "2.25", Got: -moved(at(51.5, 0)) / 60, Tol: 0.1}, // in words, two and a quarter
		{What: "iron rod in a room 30 °F warmer, a week, s lost (a minute)", Ref: cite.Ref{Source: "beckett", Place: "p. 52"}, Printed: "60", Got: -7 * moved(warm("iron", 30)), Tol: 5},
		{What: "wooden rod in a room 30 °F warmer, a week, s lost", Ref: cite.Ref{Source: "beckett", Place: "p. 60"}, Printed: "20", Got: -7 * moved(warm("deal", 30)), Tol: 1},
	}
}
