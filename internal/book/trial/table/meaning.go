package table

import (
	"slices"
	"strings"

	"seatboard/internal/kit/unit"
)

// Meaning is what a column means, with its unit: "error s", "temperature °F".
type Meaning string

// The meanings without a unit.
const (
	Skip  Meaning = "skip"  // nothing that is wanted
	At    Meaning = "at"    // date and time of a reading, or the end of a stretch
	Date  Meaning = "date"  // the day alone
	Time  Meaning = "time"  // the time of day alone
	From  Meaning = "from"  // the beginning of a stretch
	How   Meaning = "how"   // hand, tap, ear, strike
	Touch Meaning = "touch" // what was done: "nut up 1/2", "wound"
	Year  Meaning = "year"  // of a date in three columns
	Month Meaning = "month" // of such a date: a figure, or its name
	Shows Meaning = "shows" // the time of day that the hands show
)

// what a column is, apart from its unit.
const (
	anError     = "error"
	slowBy      = "slow" // the error turned round
	aRate       = "rate"
	losing      = "losing"
	aDoubt      = "doubt"
	recorder    = "recorder"
	temperature = "temperature"
	pressure    = "pressure"
	humidity    = "humidity"
	halfArc     = "arc"
	wholeArc    = "whole arc"
	weight      = "weight"
)

// milliDay is milliseconds a day, as observatories write the rate of a good
// clock.
const milliDay = "ms/d"

// quantity is a column that holds numbers.
type quantity struct {
	what  string
	words string // in a list
	kind  unit.Kind
	units []string // first the one that is taken where nothing is said
}

// quantities is a constant table; it is never written.
var quantities = []quantity{
	{anError, "error, fast positive", unit.DurationKind, []string{"s", "min", "h", "ms"}},
	{slowBy, "error, slow positive (a correction)", unit.DurationKind, []string{"s", "min", "ms"}},
	{aRate, "rate, gaining positive", unit.RateKind, []string{"s/d", "min/d", "s/wk", "s/h", "ppm", milliDay}},
	{losing, "rate, losing positive", unit.RateKind, []string{"s/d", "min/d", "s/wk", "s/h", milliDay}},
	{aDoubt, "doubt of error or rate", unit.RatioKind, []string{""}},
	{recorder, "doubt of the recorder’s clock", unit.RateKind, []string{"s/d", "ppm"}},
	{temperature, "temperature", unit.TemperatureKind, []string{"°C", "°F", "K"}},
	{pressure, "pressure", unit.PressureKind, []string{"hPa", "inHg", "mmHg", "kPa", "Pa"}},
	{humidity, "humidity", unit.RatioKind, []string{"%", ""}},
	{halfArc, "arc to one side", unit.AngleKind, []string{"°", "mrad"}},
	{wholeArc, "arc from side to side", unit.AngleKind, []string{"°", "mrad"}},
	{weight, "fall left to the weight", unit.LengthKind, []string{"m", "cm", "mm", "in"}},
}

// Choice is a meaning in words, for a list to choose from.
type Choice struct {
	Meaning Meaning
	Words   string
}

// Meanings lists what a column may mean.
func Meanings() []Choice {
	out := []Choice{
		{Skip, "leave out"}, {At, "date and time, or the end"}, {From, "the beginning"}, {Date, "date"}, {Time, "time of day"},
		{Year, "year, of a date in three columns"}, {Month, "month, of a date in three columns; the date column is the day"},
		{"at unix", "seconds since 1970, UTC"}, {"at MJD", "modified Julian date, UTC"}, {"at JD", "Julian date, UTC"},
	}
	for _, q := range quantities {
		for _, u := range q.units {
			words := q.words
			if u != "" {
				words += ", " + u
			} else if q.what == humidity {
				words += ", 0 to 1"
			}
			out = append(out, Choice{of(q.what, u), words})
		}
	}
	return append(out, Choice{Shows, "what the hands show, a time of day"}, Choice{How, "how it was read"}, Choice{Touch, "what was done to the clock"})
}

// of is a meaning with its unit.
func of(what, symbol string) Meaning { return Meaning(strings.TrimSpace(what + " " + symbol)) }

// Known tells whether it is one of Meanings.
func (m Meaning) Known() bool {
	return slices.ContainsFunc(Meanings(), func(c Choice) bool { return c.Meaning == m })
}

// split is the quantity of a meaning and its unit; false where it has none.
func (m Meaning) split() (q quantity, symbol string, ok bool) {
	for _, q := range quantities {
		for _, u := range q.units {
			if of(q.what, u) == m {
				return q, u, true
			}
		}
	}
	return quantity{}, "", false
}

// group is what may stand once in a row: a rate and a losing rate are one.
func (m Meaning) group() string {
	q, _, ok := m.split()
	switch {
	case !ok && strings.HasPrefix(string(m), "at "):
		return string(At)
	case m == Shows:
		return anError
	case !ok:
		return string(m)
	case q.what == slowBy:
		return anError
	case q.what == losing:
		return aRate
	case q.what == wholeArc:
		return halfArc
	}
	return q.what
}
