package estimate

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Sources lists what the estimates lean on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "mean and spread of a three-point estimate", Value: "(a + 4m + b)/6, (b − a)/6", Ref: threePoint},
		{Name: "correlation between tasks, where none is stated", Value: fmt.Sprint(usualCorrelation.V), Ref: usualCorrelation.Ref},
		{Name: "level of the range, where none is stated", Value: fmt.Sprint(usualLevel.V), Ref: usualLevel.Ref},
		{Name: "range learned from finished jobs", Value: "exp(m ± t s √(1 + 1/n))", Ref: prediction},
	}
}

// course is the table of a published problem: low, likely, high and the
// variance as printed.
var course = []struct {
	name           string
	low, mode, top float64
	variance       string
}{
	{"A", 7, 9, 14, "1.361"}, {"B", 2, 2, 8, "1.00"}, {"C", 8, 12, 16, "1.778"}, {"D", 3, 5, 10, "1.361"},
	{"E", 4, 6, 8, "0.444"}, {"F", 6, 8, 10, "0.444"}, {"G", 2, 3, 4, "0.111"}, {"H", 2, 2, 8, "1.000"},
	{"I", 6, 8, 16, "2.778"}, {"J", 4, 6, 14, "2.778"}, {"K", 2, 2, 5, "0.250"},
}

// Checks compares printed three-point estimates with ours; the unit of the
// prints, days or weeks, is taken as seconds.
func Checks() []cite.Check {
	var out []cite.Check
	for _, c := range course {
		s := float64(threePointTask(c.low, c.mode, c.top).Sigma())
		out = append(out, cite.Check{What: fmt.Sprintf("variance of %g/%g/%g", c.low, c.mode, c.top), Ref: cite.Ref{Source: "courseproblem", Place: "activity " + c.name}, Printed: c.variance, Got: s * s})
	}
	add := func(what string, place string, printed string, got unit.Duration) {
		out = append(out, cite.Check{What: what, Ref: cite.Ref{Source: "threepoint", Place: place}, Printed: printed, Got: float64(got)})
	}
	for _, c := range []struct {
		t           Task
		place, what string
		mean, sigma string
	}{
		{threePointTask(4, 6, 12), "first page", "4/6/12", "6.67", "1.33"},
		{threePointTask(5, 8, 14), "second page, Build", "5/8/14", "8.5", "1.5"},
	} {
		add("mean of "+c.what, c.place, c.mean, c.t.Mean())
		add("spread of "+c.what, c.place, c.sigma, c.t.Sigma())
	}
	whole := sum([]Task{threePointTask(2, 3, 5), threePointTask(5, 8, 14), threePointTask(3, 4, 6), threePointTask(1, 2, 3)})
	const four = "second page; the inputs of three tasks follow from their printed means and spreads"
	add("mean of four tasks", four, "17.83", whole.Mean)
	add("spread of four tasks", four, "1.69", whole.Sigma)
	return out
}

// threePointTask is a task of a check, in seconds.
func threePointTask(low, likely, high float64) Task {
	return Task{What: "check", Low: meas.Of(unit.Duration(low)), Likely: meas.Of(unit.Duration(likely)), High: meas.Of(unit.Duration(high))}
}
