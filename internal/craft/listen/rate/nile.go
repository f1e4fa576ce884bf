package rate

import (
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/trend"
)

// nile runs this chapter's filter over the example.
func nile() []cite.Check {
	page := cite.Ref{Source: "durbin", Place: "p. 37"}
	flow := trend.Nile()
	s := stretch{y: flow[:]}
	for i := range flow {
		s.n, s.side, s.v, s.odd = append(s.n, float64(i)), append(s.side, 0), append(s.v, 1), append(s.odd, false)
	}
	table := cite.Ref{Source: "durbin", Place: "Table 2.1", Grade: cite.Memory}
	likelihood := func(ratio float64) float64 { // at the likeliest scatter, constants left out
		x := s.pass(ratio)
		return -(99*math.Log(x.yy/99) + x.logF) / 2
	}
	best := 0.0973
	scatter := s.pass(best).yy / 99
	return []cite.Check{
		{What: "Nile: likelihood at ratio 1", Ref: table, Printed: "-495.68", Got: likelihood(1), Tol: 0.02}, // the parameters there are printed rounded
		{What: "Nile: likelihood at ratio 0.0360", Ref: table, Printed: "-492.53", Got: likelihood(0.0360), Tol: 0.01},
		{What: "Nile: likelihood at ratio 0.0745", Ref: table, Printed: "-492.10", Got: likelihood(0.0745), Tol: 0.01},
		{What: "Nile: likelihood at ratio 0.0973", Ref: table, Printed: "-492.07", Got: likelihood(best), Tol: 0.01},
		{What: "Nile: variance of the scatter", Ref: page, Printed: "15099", Got: scatter, Tol: 2},
		{What: "Nile: variance of the walk", Ref: page, Printed: "1469.1", Got: scatter * best, Tol: 0.6},
	}
}
