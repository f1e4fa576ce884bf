package train

import (
	"fmt"
	"math/big"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Places in the sources.
var (
	productRef   = cite.Ref{Source: "goodrich", Place: "ch. XIV, wheel trains", Grade: cite.Printed}
	runningRef   = cite.Ref{Source: "derham", Place: "pp. 110–115", Grade: cite.Printed}
	strikeRef    = cite.Ref{Source: "derham", Place: "pp. 34–44", Grade: cite.Printed}
	pendulumRef  = cite.Ref{Grade: cite.Exact, Place: "simple pendulum, small arcs"}
	ruleRef      = cite.Ref{Grade: cite.Computed, Place: "rule of this program", Note: "range of beats from Goodrich, The Modern Clock, pp. 255–257"}
	plausibleRef = cite.Ref{Grade: cite.CommonPractice}
	moduleRef    = cite.Ref{Source: "goodrich", Place: "ch. XIV, addenda", Grade: cite.Printed, Note: "widened by common practice"}
	powerRef     = cite.Ref{Grade: cite.CommonPractice}
)

// The numbers that the package rests on.
var (
	standardGravity = cite.Value[unit.Acceleration]{V: unit.StandardGravity, Ref: cite.Ref{Source: "si", Place: "standard acceleration of gravity, 9.80665 m/s²", Grade: cite.Exact}}
	// gravitySpread is the standard uncertainty of gravity at an unknown
	// place: from 9.780 at the equator to 9.832 at the poles, evenly.
	gravitySpread = cite.Value[float64]{V: (9.832 - 9.780) / 2 / 1.7320508, Ref: cite.Ref{Source: "nga8350", Place: "normal gravity at equator and pole", Grade: cite.Computed}}
	// unstatedLength is the relative doubt of a pendulum measured without
	// one, mostly to the middle of the bob.
	unstatedLength = cite.Value[float64]{V: 0.005, Ref: cite.Ref{Grade: cite.CommonPractice}}

	likelyBeats = cite.Value[Bracket]{V: Bracket{1500, 12500}, Ref: cite.Ref{Source: "goodrich", Place: "pp. 255–257, table: 1,800 to 11,280", Grade: cite.Printed, Note: "widened"}}
	usualBeats  = cite.Value[Bracket]{V: Bracket{3600, 11280}, Ref: cite.Ref{Source: "goodrich", Place: "pp. 255–257, 77 of 79 trains", Grade: cite.Printed}}
	// balanceCounts are beats an hour of balances.
	balanceCounts = cite.Value[[7]float64]{V: [7]float64{14400, 16200, 17280, 18000, 19800, 21600, 28800}, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "14,400: Goodrich, The Modern Clock, ch. XIII"}}

	blowsIn12 = cite.Value[int]{V: 78, Ref: cite.Ref{Source: "derham", Place: "p. 34", Grade: cite.Printed}}
	halfHours = cite.Value[int]{V: 90, Ref: cite.Ref{Source: "beckett", Place: "p. 165", Grade: cite.Printed}}

	// wheelTip and pinionTip are the modules that the diameter over the tips
	// has more than the pitch diameter. Printed heights of wheel addenda are
	// 1.25 (6 leaves) to 1.71 modules (12 leaves), twice which is 2.5 to 3.4;
	// leaves are topped by half their width, 1.05 to 1.26 in all, and in
	// practice up to 1.8.
	wheelTip  = cite.Value[Bracket]{V: Bracket{2.2, 3.5}, Ref: moduleRef}
	pinionTip = cite.Value[Bracket]{V: Bracket{1.0, 1.8}, Ref: moduleRef}
	// depthSlack is the relative freedom of a centre distance.
	depthSlack = cite.Value[float64]{V: 0.02, Ref: cite.Ref{Grade: cite.CommonPractice}}
)

// usualTimes is what one winding lasts in clocks as they were made.
var usualTimes = cite.Table[usualTime]{
	Name: "usual running times", Ref: runningRef,
	Rows: []usualTime{
		{"30 hours", 30, 24, 36, cite.Ref{Source: "derham", Place: "p. 115, 30 h", Grade: cite.Printed}},
		{"8 days", 8 * 24, 7 * 24, 9 * 24, cite.Ref{Source: "derham", Place: "p. 110, 8 days", Grade: cite.Printed}},
		{"15 days", 15 * 24, 14 * 24, 16 * 24, cite.Ref{Grade: cite.CommonPractice}},
		{"32 days", 32 * 24, 30 * 24, 35 * 24, cite.Ref{Source: "derham", Place: "p. 112, 32 days", Grade: cite.Printed}},
		{"64 days", 64 * 24, 60 * 24, 66 * 24, cite.Ref{Source: "derham", Place: "p. 113, 64 days, really 63 1/3", Grade: cite.Printed}},
		{"91 days", 91 * 24, 85 * 24, 100 * 24, cite.Ref{Source: "derham", Place: "p. 114, 13 weeks, really 88 days", Grade: cite.Printed}},
		{"210 days", 210 * 24, 180 * 24, 216 * 24, cite.Ref{Source: "derham", Place: "p. 114, 210 days", Grade: cite.Printed}},
		{"384 days", 384 * 24, 365 * 24, 400 * 24, cite.Ref{Source: "derham", Place: "p. 115, 384 days", Grade: cite.Printed}},
	},
}

// Sources lists every number and table of the package.
func Sources() []cite.Entry {
	e := []cite.Entry{
		{Name: "beats of a train, product of wheels over pinions", Value: "n = 2 e Π wheels / Π pinions", Ref: productRef},
		{Name: "running time of a train", Value: "turns of the barrel · time of one turn", Ref: runningRef},
		{Name: "blows of a strike", Value: "pins · turns of their arbor", Ref: strikeRef},
		{Name: "pendulum of a beat", Value: "L = g s²/π²", Ref: pendulumRef},
		{Name: "standard gravity", Value: "9.80665 m/s²", Ref: standardGravity.Ref},
		{Name: "gravity at an unknown place, standard uncertainty", Value: "0.015 m/s²", Ref: gravitySpread.Ref},
		{Name: "doubt of a pendulum measured without one", Value: "0.5 %", Ref: unstatedLength.Ref},
		{Name: "beats an hour that make an arbor likely to be the hour arbor", Value: "1500 to 12500", Ref: likelyBeats.Ref},
		{Name: "beats an hour that are preferred", Value: "3600 to 11280", Ref: usualBeats.Ref},
		{Name: "beats an hour of balances", Value: "14400 to 28800, 7 counts", Ref: balanceCounts.Ref},
		{Name: "rule for the arbor of one turn an hour", Value: "see package train", Ref: ruleRef},
		{Name: "blows of the hours in 12 hours", Value: "78", Ref: blowsIn12.Ref},
		{Name: "blows with the half hours", Value: "90", Ref: halfHours.Ref},
		{Name: "usual counts of wheels and pinions", Value: "6 to 400 teeth, 5 to 30 leaves", Ref: plausibleRef},
		{Name: "diameter of a wheel over the tips, beyond its pitch diameter", Value: "2.2 to 3.5 modules", Ref: wheelTip.Ref},
		{Name: "diameter of a pinion over the tips, beyond its pitch diameter", Value: "1.0 to 1.8 modules", Ref: pinionTip.Ref},
		{Name: "freedom of a centre distance", Value: "2 %", Ref: depthSlack.Ref},
		{Name: "caution: train under power", Value: "", Ref: powerRef},
		{Name: "printed going trains", Value: fmt.Sprintf("%d rows", len(goodrichTable())), Ref: goodrichRef},
		{Name: "printed trains of other works", Value: fmt.Sprintf("%d rows", len(printedTrains())), Ref: runningRef},
	}
	for _, u := range usualTimes.Rows {
		e = append(e, cite.Entry{Name: "usual running time", Value: fmt.Sprintf("%s; %g to %g h", u.Name, u.Low, u.High), Ref: u.Ref})
	}
	return e
}

func invert(r *big.Rat) *big.Rat { return new(big.Rat).Inv(r) }
