package culprit

import (
	_ "embed" // the example with its printed figures
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/periodogram"
)

//go:embed data/lombscargle.csv
var exampleCSV string

// example is the series of the printed example.
func example() periodogram.Series {
	r := csv.NewReader(strings.NewReader(exampleCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("culprit: the embedded example is damaged: %v", err)) // the program's own file
	}
	var s periodogram.Series
	for _, row := range rows[1:] {
		t, errT := strconv.ParseFloat(row[0], 64)
		y, errY := strconv.ParseFloat(row[1], 64)
		if errT != nil || errY != nil {
			panic("culprit: the embedded example is damaged: " + row[0]) // the program's own file
		}
		s.T, s.Y = append(s.T, t), append(s.Y, y)
	}
	return s
}

// Frequencies of the example, reckoned from its data: of the greatest power,
// and the highest looked at.
const (
	exampleAt  = 1.0022982509931477
	exampleTop = 1.5242651213178466
)

// Checks sets printed figures beside ours.
func Checks() []cite.Check {
	s := example()
	z := s.At(exampleAt).Power
	c := s.Chances(exampleTop)
	docs := cite.Ref{Source: "astropy", Place: "timeseries, lombscargle"}
	old := cite.Ref{Source: "astropy", Place: "timeseries, lombscargle, older releases", Note: "by an approximate transform"}
	scargle := cite.Ref{Source: "scargle", Place: "threshold for a chance", Grade: cite.Memory}
	threshold := func(n float64) float64 {
		return bisect(func(z float64) float64 { return familywise(tail(2, 1e12, 2*z), n) }, 0.01, 0, 40)
	}
	return []cite.Check{
		{What: "periodogram of the example: greatest power", Ref: docs, Printed: ".28800558204470955", Got: z, Tol: 1e-12},
		{What: "its chance by Baluev", Ref: docs, Printed: ".03302491900289183", Got: c.Baluev(z), Tol: 1e-12},
		{What: "its chance by Davies", Ref: docs, Printed: ".03358255130320076", Got: c.Davies(z), Tol: 1e-12},
		{What: "its chance by counting frequencies", Ref: docs, Printed: ".009331314848518398", Got: c.Naive(z), Tol: 1e-12},
		{What: "power for a chance of 0.1", Ref: docs, Printed: ".25681381", Got: c.Level(0.1)},
		{What: "power for a chance of 0.05", Ref: docs, Printed: ".27663466", Got: c.Level(0.05)},
		{What: "power for a chance of 0.01", Ref: docs, Printed: ".31928202", Got: c.Level(0.01)},
		{What: "greatest power as older releases print it", Ref: old, Printed: ".29154492887882927", Got: z, Misprint: true},
		{What: "chance by Baluev as older releases print it", Ref: old, Printed: ".028959671719328808", Got: c.Baluev(z), Misprint: true},
		{What: "threshold for a chance of 0.01, one frequency", Ref: scargle, Printed: "4.605", Got: threshold(1)},
		{What: "threshold for a chance of 0.01, 100 frequencies", Ref: scargle, Printed: "9.205", Got: threshold(100)},
	}
}

// Sources lists what the chapter leans on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "false alarms of a periodogram", Value: "closed form", Ref: cite.Ref{Source: "baluev", Place: "Table 1, eq. 5–6"}},
		{Name: "example of a periodogram", Value: "60 readings", Ref: cite.Ref{Source: "astropy", Place: "timeseries, lombscargle"}},
		{Name: "threshold for the greatest of many powers", Value: "−ln(1 − (1 − p)^(1/N))", Ref: cite.Ref{Source: "scargle", Grade: cite.Memory}},
		{Name: "Student's t as a normal deviate", Value: "closed form", Ref: cite.Ref{Place: "Wallace 1959", Grade: cite.Memory, Note: "held to exact quantiles in the tests"}},
		{Name: "scatter and wander of the beats", Value: "random walk under white noise", Ref: cite.Ref{Grade: cite.Computed, Note: "restricted likelihood; coverage of the limits measured on clocks made by the tests"}},
		{Name: "amplitude that matters", Value: fmt.Sprintf("%.0f µs", float64(Matters)*1e6), Ref: cite.Ref{Grade: cite.CommonPractice, Note: "chosen for this program"}},
	}
}
