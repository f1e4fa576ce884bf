package tap

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
)

// grubbs is the table of the farthest of n, for one side; the chance of one
// side is half that of two. That of 9 is 2.215 and cut off in the print.
var grubbs = []struct {
	n       int
	chance  float64 // of one side
	printed string
	tol     float64
}{
	{4, 0.025, "1.48", 0}, {4, 0.01, "1.49", 0}, {5, 0.05, "1.67", 0}, {5, 0.01, "1.75", 0},
	{6, 0.05, "1.82", 0}, {6, 0.025, "1.89", 0}, {6, 0.01, "1.94", 0}, {7, 0.025, "2.02", 0}, {7, 0.01, "2.10", 0},
	{8, 0.05, "2.03", 0}, {8, 0.025, "2.13", 0}, {8, 0.01, "2.22", 0}, {9, 0.025, "2.21", 0.0051}, {9, 0.01, "2.32", 0},
	{10, 0.05, "2.18", 0}, {10, 0.025, "2.29", 0}, {10, 0.01, "2.41", 0}, {21, 0.01, "2.91", 0},
}

// rosner's example: 54 figures, of which three are apart.
var rosner = []float64{-0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56,
	1.58, 1.65, 1.69, 1.70, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24,
	2.26, 2.35, 2.37, 2.40, 2.47, 2.54, 2.62, 2.64, 2.90, 2.92, 2.92, 2.93, 3.21, 3.26, 3.30, 3.59, 3.68, 4.30,
	4.64, 5.34, 5.42, 6.01}

// ofMean turns deviates in standard deviations of a residual of the mean of n
// into standard deviations of a figure.
func ofMean(n int) float64 { return math.Sqrt(float64(n-1) / float64(n)) }

// meanOf fits a constant to those of rosner.
func meanOf(of []int) fit {
	one, y := make([]float64, len(of)), make([]float64, len(of))
	for i, j := range of {
		one[i], y[i] = 1, rosner[j]
	}
	var f fit
	f.solve([][]float64{one}, y)
	return f
}

// Checks compares the search for odd taps with what is in print.
func Checks() []cite.Check {
	var out []cite.Check
	for _, g := range grubbs {
		out = append(out, cite.Check{What: fmt.Sprintf("farthest of %d, in standard deviations, one side %g %%", g.n, 100*g.chance),
			Ref: cite.Ref{Source: "grubbs", Place: "table"}, Printed: g.printed, Got: ofMean(g.n) * critical(g.n, g.n-1, 2*g.chance), Tol: g.tol})
	}
	all := make([]int, len(rosner))
	for i := range all {
		all[i] = i
	}
	printed := []string{"3.119", "2.943", "3.179", "2.810", "2.816"}
	limits := []string{"3.159", "3.151", "3.144", "3.136", "3.128"}
	left := all
	for i, p := range printed {
		f := meanOf(left)
		j, far := f.farthest()
		ref := cite.Ref{Source: "rosner", Place: "example", Grade: cite.Memory, Note: "data seen in print"}
		out = append(out,
			cite.Check{What: fmt.Sprintf("Rosner's 54 figures, step %d: deviate", i+1), Ref: ref, Printed: p, Got: ofMean(len(left)) * far},
			cite.Check{What: fmt.Sprintf("Rosner's 54 figures, step %d: limit at 5 %%", i+1), Ref: ref, Printed: limits[i], Got: ofMean(len(left)) * critical(len(left), f.freedom, 0.05)})
		left = append(left[:j:j], left[j+1:]...)
	}
	return out
}
