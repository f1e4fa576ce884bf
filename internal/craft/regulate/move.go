package regulate

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// AtHome is what becomes of a clock that is set here so that it is right where
// it goes.
type AtHome struct {
	Move  meas.Result[unit.Rate]   `json:"move"`  // what it gains by going there
	Aim   meas.Result[unit.Rate]   `json:"aim"`   // rate that it shall have here: what is wanted there less Move
	AsIs  meas.Interval[unit.Rate] `json:"as_is"` // rate to expect there if it is left alone
	After meas.Interval[unit.Rate] `json:"after"` // and after what is advised
	Words string                   `json:"words"` // why the rate to aim at here is another than the one wanted
}

// moved is the doubt of the move, s/day; 0 where none is taken into account.
func (w Wanted) moved() float64 {
	if !w.Move.Set || !w.Move.HasU {
		return 0
	}
	return math.Abs(w.Move.U.PerDay())
}

// ofAim names the rate that right is about, where that is not nought.
func (w Wanted) ofAim() string {
	if w.aim() == 0 {
		return ""
	}
	return " of " + unit.Text(unit.RatePerDay(w.aim()), "s/d", 1)
}

// wider is a number with another doubt on top, which has nothing to do with
// the first.
func (m mixture) wider(u float64) mixture {
	if u == 0 {
		return m
	}
	out := mixture{m.weight, m.mean, make([]float64, len(m.sd))}
	for i, sd := range m.sd {
		out.sd[i] = math.Hypot(sd, u)
	}
	return out
}

// shifted is a number moved by so much; the first stays as it is.
func (m mixture) shifted(by float64) mixture {
	out := mixture{m.weight, append([]float64(nil), m.mean...), m.sd}
	out.shift(by)
	return out
}

// atHome says what the advice comes to at home, and why the rate to aim at
// here is what it is.
func (f *fitted) atHome(a *Advice) {
	w := f.line.q.Wanted
	by := w.Move.Value.PerDay()
	there := func(m mixture) meas.Interval[unit.Rate] { return m.shifted(by).wider(w.moved()).rate() }
	h := AtHome{Move: w.Move, Aim: meas.Result[unit.Rate]{Value: w.Rate - w.Move.Value, U: w.Move.U, HasU: w.Move.HasU, Set: true}}
	h.AsIs = there(f.week(w.days(), 0, 0))
	h.After = h.AsIs
	if a.Do == Turn {
		h.After = there(f.week(w.days(), float64(a.Turns.Value), 0))
	}
	wanted := "right there"
	if w.Rate != 0 {
		wanted = unit.Text(w.Rate, "s/d", 1) + " there, as is wanted"
	}
	h.Words = fmt.Sprintf("It is set for home: by going there its rate changes by %s, so that %s here is %s.", h.Move.Text("s/d", 1), h.Aim.Text("s/d", 1), wanted)
	switch a.Do {
	case Turn:
		h.Words += fmt.Sprintf(" After this turn it is to go there at %s.", meas.WithU(h.After.Value, h.After.U, "s/d"))
	case Leave:
		h.Words += fmt.Sprintf(" As it stands it is to go there at %s.", meas.WithU(h.AsIs.Value, h.AsIs.U, "s/d"))
	}
	a.Home = &h
	a.Words += " " + h.Words
}

// homeStep is the line of working of the rate to aim at here.
func (a *Advice) homeStep(w Wanted) cite.Step {
	return cite.Step{Name: "Rate to aim at here, for home", Formula: "aim = rate wanted there − change by going there",
		Numbers: fmt.Sprintf("%s − (%s)", unit.Text(w.Rate, "s/d", 1), a.Home.Move.Text("s/d", 2)), Result: a.Home.Aim.Text("s/d", 2), Ref: cite.Ref{Grade: cite.Exact, Note: "the doubt of the change is in every chance of being right"}}
}
