package regulate

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// working is the lines that lead to the answer, with their numbers.
func (f *fitted) working(a *Answer) []cite.Step {
	l := f.line
	ours := cite.Ref{Grade: cite.Exact, Note: "the model of this chapter"}
	sd := func(r meas.Interval[unit.Rate]) string { return meas.WithU(r.Value, r.U, "s/d") }
	out := []cite.Step{
		{Name: "Model", Formula: "error(t + dt) = error + rate·dt + wander;  rate(t + dt) = rate + walk", Numbers: fmt.Sprintf("wander %s s, walk %s s/d, in a day", unit.Number(float64(a.Noise.Wander.Value), 2), unit.Number(a.Noise.Drift.Value.PerDay(), 3)), Result: fmt.Sprintf("%d readings, likelihood %s", l.seen(), unit.Number(a.Noise.LogLik, 2)), Ref: cite.Ref{Source: "durbin"}},
		{Name: "Rate now", Formula: "the filter’s slope with the columns’ share", Numbers: fmt.Sprintf("averaged over %d sizes of the noise", len(f.all)), Result: sd(a.Rate.Now), Ref: ours},
		{Name: fmt.Sprintf("Mean rate of the next %.0f days", l.q.Wanted.days()), Formula: "rate, with wander²/D + walk²·D/3 and the air’s doubt", Numbers: sd(a.Rate.Now), Result: sd(a.Rate.Week), Ref: ours},
	}
	if a.Advice.Home != nil {
		out = append(out, a.Advice.homeStep(l.q.Wanted))
	}
	if a.Advice.Do == Turn {
		k, lost := f.nut()
		n := float64(a.Advice.Turns.Value)
		back := l.back(n)
		out = append(out, cite.Step{Name: "Turns of the nut", Formula: "n = (aim − rate ± lost motion) / one turn",
			Numbers: fmt.Sprintf("(%s − %s ± %s) / %s s/d", unit.Number(l.q.Wanted.aim(), 2), unit.Number(a.Rate.Week.Value.PerDay(), 2), unit.Number(back*lost, 2), unit.Number(k, 2)),
			Result:  fmt.Sprintf("%s turns %s", unit.Number(math.Abs(n), 3), map[bool]string{true: "up", false: "down"}[n > 0]), Ref: ours})
	}
	return out
}
