package pendulum

import (
	"fmt"

	"seatboard/internal/kit/cite"
)

// tubeChecks are Beckett's worked compensations, where rod and tube cancel:
// the signed sum of α L is nought. They prove the expansions against each
// other; the lengths are in inches, and which material a figure of his stands
// for is told by its value, since each is printed once on p. 53. His mercury pendulums are not here, since
// nothing else leans on the expansion of mercury.
func tubeChecks() []cite.Check {
	alpha := func(name string) float64 {
		m, _ := FindMaterial(name)
		return float64(m.Expansion)
	}
	lift := alpha("zinc") - alpha("iron") // of a zinc tube in an iron one
	// A steel rod of r, a leaden bob whose half height is c: equation A.
	leaden := func(r, c float64) float64 { return (alpha("steel")*r - alpha("lead")*c) / lift }
	// An iron rod of r, an iron bob whose middle is c above the rod's end: C.
	iron := func(r, c float64) float64 { return alpha("iron") * (r + 2 - c) / lift }
	p56, p57 := cite.Ref{Source: "beckett", Place: "p. 56"}, cite.Ref{Source: "beckett", Place: "p. 57"}
	out := []cite.Check{
		{What: "zinc tube for a steel rod of 44 in with a bob of lead, in", Ref: p56, Printed: "23", Got: leaden(44, 4.5), Tol: 0.1},
		{What: "equation C, what an inch of c does against an inch of r", Ref: p56, Printed: "1", Got: (iron(62, 1) - iron(62, 0)) / (iron(62, 0) - iron(61, 0)), Misprint: true},
	}
	for _, r := range []struct {
		beat, length float64
		printed      string
	}{{1.25, 61, "48.5"}, {1.5, 88, "68"}, {2, 156.5, "125"}} {
		out = append(out, cite.Check{What: fmt.Sprintf("zinc tube for an iron rod and bob of %.4g s, in", r.beat), Ref: p57, Printed: r.printed, Got: iron(r.length, 0), Tol: 2.5}) // of tubes as made
	}
	return out
}
