package missing

import (
	"fmt"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// The numbers that the chapter rests on.
var (
	goodrichRef = cite.Ref{Source: "goodrich", Place: "ch. XIV, pp. 255–257, table of trains", Grade: cite.Printed, Note: "counted"}
	motionRef   = cite.Ref{Source: "goodrich", Place: "chapters on motion work", Grade: cite.Printed, Note: "with those of the other works in the table of motion works, counted"}
	ruleRef     = cite.Ref{Source: "goodrich", Place: "ch. XIV, lost wheels", Grade: cite.Printed}
	searchRef   = cite.Ref{Grade: cite.Exact, Place: "all whole counts in range, by division"}
	pointsRef   = cite.Ref{Grade: cite.Exact, Place: "points are −log₂ of a frequency", Note: "√N made-up observations spread evenly, the minimax estimate of a frequency, from memory"}
	practiceRef = cite.Ref{Grade: cite.CommonPractice}
	powerRef    = cite.Ref{Grade: cite.CommonPractice}
	slowRef     = cite.Ref{Source: "goodrich", Place: "ch. XIX, moon and calendar", Grade: cite.Printed, Note: "mean lunation and tropical year of modern astronomy, from memory"}

	usualWheels  = cite.Value[Range]{V: Range{Low: 20, High: 160}, Ref: practiceRef}
	usualPinions = cite.Value[Range]{V: Range{Low: 5, High: 24}, Ref: practiceRef}
	usualEscapes = cite.Value[Range]{V: Range{Low: 12, High: 45}, Ref: practiceRef}
	slowPinions  = cite.Value[Range]{V: Range{Low: 5, High: 60}, Ref: practiceRef}

	hoursBlows = cite.Value[int]{V: 78, Ref: cite.Ref{Source: "derham", Place: "p. 34", Grade: cite.Printed}}
	// runsDoubt is the relative doubt of a time of running stated in words: 8
	// days are 7 to 9.
	runsDoubt = cite.Value[float64]{V: 1.0 / 24, Ref: practiceRef}
	// slowDoubt is what a moon or year may be out in one period.
	slowDoubt = cite.Value[unit.Duration]{V: 20 * 60, Ref: cite.Ref{Source: "beckett", Place: "pp. 139–140", Grade: cite.Printed, Note: "a moon of 59 teeth is 44 minutes out in a month"}}
)

// slowShow is what a slow dial shows.
type slowShow struct {
	Name, Says string
	Days       float64 // for one turn
	Exactly    bool
	Ref        cite.Ref
}

var slowShows = cite.Table[slowShow]{
	Name: "slow dials", Ref: slowRef,
	Rows: []slowShow{
		{"moon", "the moon turns once in 29.530588853 days", 29.530588853, false, slowRef},
		{"two-moons", "a dial with two moons turns once in 59.061177706 days", 2 * 29.530588853, false, slowRef},
		{"week", "the day of the week turns once in 7 days", 7, true, slowRef},
		{"month", "the day of the month turns once in 31 days", 31, true, slowRef},
		{"year", "the year turns once in 365.2422 days", 365.2422, false, slowRef},
	},
}

// Sources lists every number and table of the chapter.
func Sources() []cite.Entry {
	out := []cite.Entry{
		{Name: "what the wheels over the pinions must make", Value: "Π wheels / Π pinions = turns of the last arbor / turns of the first", Ref: ruleRef},
		{Name: "search", Value: "complete in the stated ranges", Ref: searchRef},
		{Name: "points of a candidate", Value: "−log₂((n + √N q)/(N + √N))", Ref: pointsRef},
		{Name: "practice of going and striking trains", Value: fmt.Sprintf("%d trains", len(train.GoodrichTrains())), Ref: goodrichRef},
		{Name: "practice of motion work and slow dials", Value: fmt.Sprintf("%d motion works", len(train.PrintedMotions())), Ref: motionRef},
		{Name: "counts searched for wheels, pinions, escape wheels", Value: fmt.Sprintf("%s, %s, %s", usualWheels.V, usualPinions.V, usualEscapes.V), Ref: practiceRef},
		{Name: "counts searched for pinions of motion work and slow dials", Value: slowPinions.V.String(), Ref: practiceRef},
		{Name: "blows of the hours in 12 hours", Value: "78", Ref: hoursBlows.Ref},
		{Name: "doubt of a time of running stated in words", Value: "1/24", Ref: runsDoubt.Ref},
		{Name: "doubt allowed in one period of a slow dial", Value: "20 min", Ref: slowDoubt.Ref},
		{Name: "caution: train under power", Ref: powerRef},
	}
	for _, s := range slowShows.Rows {
		out = append(out, cite.Entry{Name: "slow dial, " + s.Name, Value: unit.Significant(s.Days, 11) + " d", Ref: s.Ref})
	}
	return out
}
