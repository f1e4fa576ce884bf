package tooth

import (
	"fmt"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
)

// Checks sets printed figures beside ours.
func Checks() []cite.Check {
	return append(willisChecks(), heightChecks()...)
}

// willis is the table of lowest numbers: a driver and the fewest leaves that
// it drives without action before the line of centres. Where the print is not
// what the geometry gives, one way or the other, it is named.
var willis = []struct {
	driver, runner                 train.Teeth
	driverMisprint, runnerMisprint bool
}{
	{54, 11, true, true}, {30, 12, true, true},
	{24, 13, false, false}, {20, 14, false, false}, {17, 15, false, false}, {15, 16, false, false}, {14, 17, false, false},
	{13, 18, false, false}, {12, 19, false, false}, {11, 21, false, false}, {10, 23, false, false}, {9, 27, false, false},
	{8, 35, false, true}, {7, 32, true, true}, {6, 176, false, true},
}

func willisChecks() []cite.Check {
	var out []cite.Check
	for _, w := range willis {
		out = append(out,
			cite.Check{What: fmt.Sprintf("fewest leaves that a wheel of %d drives wholly past the line of centres", w.driver), Ref: willisRule,
				Printed: fmt.Sprint(int(w.runner)), Got: float64(LeastLeaves(w.driver)), Misprint: w.runnerMisprint},
			cite.Check{What: fmt.Sprintf("smallest wheel that drives %d leaves wholly past the line of centres", w.runner), Ref: willisRule,
				Printed: fmt.Sprint(int(w.driver)), Got: float64(LeastWheel(w.runner)), Misprint: w.driverMisprint})
	}
	return out
}

// heightChecks sets the printed heights beside nine tenths and a half of the
// point's, at a ratio of 7.5 : 1; those of 9 and 10 leaves are higher than
// the point itself.
func heightChecks() []cite.Check {
	var out []cite.Check
	for _, g := range goodrichHeights {
		wheel := train.Teeth(7.5 * float64(g.leaves))
		printed := g.over / g.part * float64(g.leaves) / 2
		out = append(out, cite.Check{What: fmt.Sprintf("height of wheel teeth for %d leaves in modules, beside 0.925 of the point", g.leaves), Ref: heightRule,
			Printed: fmt.Sprintf("%.2f", printed), Got: 0.925 * PointHeight(wheel, g.leaves), Tol: 0.05, Misprint: g.wrong})
	}
	return out
}
