package listen

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// workRate writes how the true rate comes about.
func (a *Answer) workRate() {
	g, c := a.Going, a.Query.Clock
	a.Working = append(a.Working, cite.Step{
		Name: "Mean beat", Formula: "T = span / beats", Result: g.Beat.Text("s") + " by the recorder's clock",
		Numbers: fmt.Sprintf("%s, %d beats heard", unit.Text(g.Span, "s", 3), g.Used),
	})
	if !a.Mean.Set {
		return
	}
	a.Working = append(a.Working,
		cite.Step{Name: "Rate by the recorder's clock", Formula: "r = T₀/T − 1",
			Numbers: fmt.Sprintf("%s / %s − 1", unit.Text(a.Nominal.Value, "s", 6), unit.Text(g.Beat.Value, "s", 6)), Result: g.Mean.Text("s/d")},
		cite.Step{Name: "True rate", Formula: "r + error of the recorder's clock",
			Numbers: fmt.Sprintf("%s + (%s ± %s s/d)", g.Mean.Text("s/d"), unit.Text(c.Error, "s/d", 2), unit.Number(c.Limit.PerDay(), 2)), Result: a.Mean.Text("s/d")})
}
