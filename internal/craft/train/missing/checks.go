package missing

import (
	"context"
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// example is a lost count whose print is known.
type example struct {
	what, place, source, printed string

	going, beats, turns, runs, makes string
	motion                           string
	strike, report                   string
	pins                             int
	slow, shows, turn                string
}

// examples are rules of the books and printed trains with a member hidden.
var examples = [...]example{
	{what: "lost wheel of a train of 5,400 beats, by the rule quoted from Britten", source: "goodrich", place: "ch. XIV", printed: "80", going: "?/8 72/8 30", beats: "5400"},
	{what: "wheel that drives a pinion of 12 at 7 1/2 turns", source: "goodrich", place: "ch. XIV", printed: "90", going: "?/12 60/8 30", makes: "1 to 2 = 7.5"},
	{what: "great wheel of an eight-day clock of 16 turns", source: "derham", place: "p. 110", printed: "96", going: "?/8 60/8 56/7 30", turns: "16", runs: "8 d"},
	{what: "third wheel of a seconds train", source: "beckett", place: "p. 133", printed: "60", going: "96/8 64/8 ?/8 30", beats: "3600"},
	{what: "escape wheel of a seconds train", source: "goodrich", place: "pp. 255–257", printed: "30", going: "80/10 75/10 ?", beats: "3600"},
	{what: "hour wheel of the motion work 36/12 40/10", source: "goodrich", place: "chapters on motion work", printed: "36", motion: "?/12 40/10"},
	{what: "count wheel of a strike with 13 pins", source: "derham", place: "p. 39", printed: "48", strike: "78/6 60/6 48/6", pins: 13, report: "?/8"},
	{what: "moon wheel of 15)98 25)113 on an arbor of one turn a day", source: "beckett", place: "p. 140", printed: "113", slow: "?/25 98/15", shows: "moon", turn: "24 h"},
	{what: "the other moon wheel", source: "beckett", place: "p. 140", printed: "98", slow: "113/25 ?/15", shows: "moon", turn: "24 h"},
}

// query makes the query of an example; the texts are the program's own.
func (e example) query() Query {
	must := func(err error) {
		if err != nil {
			panic(err)
		}
	}
	var q Query
	t := train.Train{Name: train.Going, Chain: train.MustChain(e.going)}
	var err error
	t.BarrelTurns, err = meas.Parse[unit.Ratio](e.turns, "")
	must(err)
	q.GoingRuns, err = meas.Parse[unit.Duration](e.runs, "h")
	must(err)
	q.SlowTurn, err = meas.Parse[unit.Duration](e.turn, "h")
	must(err)
	must(q.Train.Beats.UnmarshalText([]byte(e.beats)))
	must(q.Makes.UnmarshalText([]byte(e.makes)))
	q.Train.Motion, q.Slow, q.SlowShows = train.MustChain(e.motion), train.MustChain(e.slow), e.shows
	q.Train.Trains = []train.Train{t, {Name: train.Strike, Chain: train.MustChain(e.strike), Pins: e.pins, Report: train.MustChain(e.report)}}
	return q
}

// Checks compares lost counts that the books work out, or print, with the
// first candidate here.
func Checks() []cite.Check {
	var out []cite.Check
	for _, e := range examples {
		c := cite.Check{What: e.what, Ref: cite.Ref{Source: e.source, Place: e.place, Grade: cite.Printed}, Printed: e.printed, Got: math.NaN()}
		if a, err := Solve(context.Background(), e.query(), nil); err == nil && len(a.Gaps) == 1 && len(a.Gaps[0].Candidates) > 0 {
			c.Got = float64(a.Gaps[0].Candidates[0].Counts[0])
		}
		out = append(out, c)
	}
	return out
}
