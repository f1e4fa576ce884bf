package divide

import (
	"fmt"
	"strconv"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The counts that are looked through for what the plates reach.
const (
	ReachFrom = 2
	ReachTo   = 400
)

// references of the chapter.
var (
	counting = cite.Ref{Grade: cite.Exact, Place: "whole numbers"}
	practice = cite.Ref{Grade: cite.CommonPractice}
	lathe    = cite.Ref{Source: "eis2"}
)

// Solve answers a query. Its error is meas.Faults.
func Solve(q Query) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	a := Answer{Query: q, Reached: reach(q.Plates, ReachFrom, ReachTo, q.Compound)}
	if q.Count == 0 {
		a.Findings = append(a.Findings, meas.Finding{Level: meas.Note, Code: "no-count", Text: "No count was entered; the counts that the plates reach are shown.", Ref: counting})
		return a, nil
	}
	a.Ways = ways(q.Plates, q.Count, q.Compound)
	a.Complete = len(a.Ways) > 0
	if a.Complete {
		a.Moves = exactMoves(a.Ways[0], q.Count)
		a.work(a.Ways[0])
	} else {
		a.notExact()
	}
	a.Findings = append(a.Findings, a.advice()...)
	return a, nil
}

// exactMoves are the places of all divisions.
func exactMoves(w Way, n int) []Move {
	out := make([]Move, n)
	for k := range out {
		out[k] = w.after(k)
		out[k].Division = k + 1
	}
	return out
}

// after is the place after so many moves of a way.
func (w Way) after(moves int) Move {
	if w.Ratio == 0 {
		return Move{Hole: moves * w.Holes % w.Circle}
	}
	first := moves * (w.Turns*w.Circle + w.Holes)
	m := Move{Turns: first / w.Circle, Hole: first % w.Circle}
	if w.Second > 0 {
		m.SecondHole = ((moves*w.SecondHoles)%w.Second + w.Second) % w.Second
	}
	return m
}

// moves are the places of all divisions of an inexact way.
func (x Near) moves(n int) []Move {
	out := make([]Move, n)
	for k := range out {
		if x.SameMove {
			m := (2*x.steps + n) / (2 * n)
			out[k] = x.Way.after(k)
			out[k].Off = turn(float64(k) * float64(m*n-x.steps) / float64(x.steps) / float64(n))
		} else {
			at := (2*k*x.steps + n) / (2 * n)
			out[k] = Move{Hole: at}
			if x.Way.Ratio > 0 {
				out[k] = Move{Turns: at / x.Way.Circle, Hole: at % x.Way.Circle}
			}
			out[k].Off = turn(float64(at*n-k*x.steps) / float64(x.steps) / float64(n))
		}
		out[k].Division = k + 1
	}
	return out
}

// work writes the sums of an exact way.
func (a *Answer) work(w Way) {
	n := a.Query.Count
	step := func(name, formula, numbers, result string) {
		a.Working = append(a.Working, cite.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Ref: counting})
	}
	switch w.Kind {
	case Direct:
		step("Holes at each division", "h = H / N", fmt.Sprintf("%d / %d", w.Circle, n), strconv.Itoa(w.Holes))
	case Simple:
		step("Turns of the crank at each", "K / N", fmt.Sprintf("%d / %d", w.Ratio, n), w.Words())
	case Compound:
		step("Turns of the crank at each", "K / N = a/C₁ + b/C₂", fmt.Sprintf("%d / %d = %d/%d %s %d/%d", w.Ratio, n, w.Turns*w.Circle+w.Holes, w.Circle, sign(w.SecondHoles), max(w.SecondHoles, -w.SecondHoles), w.Second), w.Words())
	}
	all := w.after(n)
	if w.Ratio > 0 && w.Second == 0 {
		step("After the last", "N moves", fmt.Sprintf("%d · (%d + %d/%d)", n, w.Turns, w.Holes, w.Circle), fmt.Sprintf("%d turns, hole %d", all.Turns, all.Hole))
	}
}

func sign(n int) string {
	if n < 0 {
		return "−"
	}
	return "+"
}

// Words is the move at each division as it is made.
func (w Way) Words() string {
	s := ""
	switch {
	case w.Ratio == 0:
		return holes(w.Holes) + " in the ring of " + strconv.Itoa(w.Circle)
	case w.Turns > 0:
		s = times(w.Turns, "turn", "turns")
		if w.Holes > 0 {
			s += " and "
		}
	}
	if w.Holes > 0 {
		s += holes(w.Holes) + " in the circle of " + strconv.Itoa(w.Circle)
	}
	switch {
	case w.SecondHoles > 0:
		s += join(s) + holes(w.SecondHoles) + " on in the circle of " + strconv.Itoa(w.Second)
	case w.SecondHoles < 0:
		s += join(s) + holes(-w.SecondHoles) + " back in the circle of " + strconv.Itoa(w.Second)
	}
	return s
}

func join(s string) string {
	if s == "" {
		return ""
	}
	return ", then "
}

func holes(n int) string { return times(n, "hole", "holes") }

func times(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// notExact says what is off and what would do.
func (a *Answer) notExact() {
	q := a.Query
	a.Close = near(q.Plates, q.Count, q.Compound)
	for i := range a.Close {
		a.Close[i].OnRim = onRim(a.Close[i].Tooth, q.Diameter)
	}
	a.Below, a.Above = a.beside()
	a.wanted()
	text := fmt.Sprintf("No ring or circle of these plates divides %d exactly.", q.Count)
	next := ""
	if len(a.Close) > 0 {
		a.Moves = a.Close[0].moves(q.Count)
		text += " The table is only near: " + a.Close[0].off()
	}
	if a.Below > 0 {
		next = "Exact near by: " + strconv.Itoa(a.Below)
	}
	if a.Above > 0 {
		next += map[bool]string{true: " and ", false: "Exact near by: "}[a.Below > 0] + strconv.Itoa(a.Above)
	}
	if next != "" {
		next += ". "
	}
	next += "Exact for this count: " + a.would()
	if !q.Compound && reaches(q.Plates, q.Count, true) == Compound {
		next += " Two circles of one plate, one after the other, reach it too: allow them."
	}
	a.Findings = append(a.Findings, meas.Finding{Level: meas.Clash, Code: "does-not-fit", Text: text, Next: next, About: []string{"count", "plates"}, Ref: counting})
}

// off says what the teeth of a near division are off by.
func (x Near) off() string {
	s := "a tooth is off its place by up to " + arcMinutes(x.Tooth)
	if x.OnRim.Set {
		s += ", " + unit.Text(x.OnRim.Value, "µm", 0) + " on the rim"
	}
	if x.SameMove {
		return s + ", all of it in the last space."
	}
	return s + ", and a space is too wide or too narrow by up to " + arcMinutes(x.Space) + "."
}

// arcMinutes prints an angle in minutes with the digits that it needs.
func arcMinutes(a unit.Angle) string {
	return unit.Significant(unit.In(a, "′"), 2) + "′ of arc"
}

// beside finds the nearest counts that are reached.
func (a *Answer) beside() (below, above int) {
	for n := a.Query.Count - 1; n >= Fewest; n-- {
		if reaches(a.Query.Plates, n, a.Query.Compound) != "" {
			below = n
			break
		}
	}
	for n := a.Query.Count + 1; n <= Most; n++ {
		if reaches(a.Query.Plates, n, a.Query.Compound) != "" {
			return below, n
		}
	}
	return below, 0
}

// wanted lists the circles that would do.
func (a *Answer) wanted() {
	n := a.Query.Count
	if len(a.Query.Plates.Direct) > 0 {
		a.Wanted = append(a.Wanted, Wanted{By: "plate", Circle: n})
	}
	for _, h := range a.Query.Plates.Heads {
		a.Wanted = append(a.Wanted, Wanted{By: h.String(), Circle: n / gcd(n, h.Ratio)})
	}
}

func (a *Answer) would() string {
	s := ""
	for i, w := range a.Wanted {
		if i > 0 {
			s += ", or "
		}
		if w.By == "plate" {
			s += fmt.Sprintf("a ring of %d holes", w.Circle)
			continue
		}
		s += fmt.Sprintf("a circle of %d holes on the %s", w.Circle, w.By)
	}
	return s + " (or a whole number of times as many)."
}

// advice is what holds for every division.
func (a *Answer) advice() []meas.Finding {
	out := []meas.Finding{{Level: meas.Danger, Code: "lathe", Text: "At the lathe and the wheel engine no gloves, no loose clothing, and no emery held by hand on work that turns.",
		Next: "Local law and licensed practice decide.", Ref: lathe}}
	if w, ok := a.first(); ok && w.Ratio > 0 {
		out = append(out, meas.Finding{Level: meas.Note, Code: "one-way", Text: "Turn the crank one way only; where it went too far, go back by half a turn and come up again, so that the worm always bears on the same side.", Ref: practice})
		if a.Complete && w.Holes > 0 && w.Second == 0 {
			out = append(out, meas.Finding{Level: meas.Note, Code: "sector", Text: fmt.Sprintf("Set the arms of the sector round %d holes: the one that the pin is in and %d more.", w.Holes+1, w.Holes), Ref: practice})
		}
		if w.Second > 0 {
			out = append(out, meas.Finding{Level: meas.Note, Code: "two-circles", Text: fmt.Sprintf("The crank goes round in the circle of %d with the plate held; then plate and crank together are moved in the circle of %d, its pin on the other side.", w.Circle, w.Second), Ref: practice})
		}
	}
	return out
}

// first is the way that the table is for.
func (a *Answer) first() (Way, bool) {
	switch {
	case len(a.Ways) > 0:
		return a.Ways[0], true
	case len(a.Close) > 0:
		return a.Close[0].Way, true
	}
	return Way{}, false
}
