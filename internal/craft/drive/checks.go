package drive

import (
	_ "embed" // the printed tables
	"encoding/csv"
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The printed tables. Goodrich's is headed "1/2 inch in length", but it is
// for 1 inch: the misprint of the heading is his.
var (
	//go:embed data/goodrich_cylinders.csv
	cylindersCSV string
	//go:embed data/api9a_6x7_fc.csv
	ropesCSV string
)

// records reads an embedded table without its heading.
func records(s string) [][]string {
	r := csv.NewReader(strings.NewReader(s))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) == 0 {
		panic(fmt.Sprintf("drive: an embedded table is damaged: %v", err)) // the program's own file
	}
	return all[1:]
}

// solved is the answer to a query that is known to be right.
func solved(q Query) Answer {
	a, err := Solve(q)
	if err != nil {
		panic(err) // a check's own query
	}
	return a
}

// is reads a quantity written in a check.
func is[Q unit.Quantity](s string) meas.Reading[Q] {
	r, err := meas.Parse[Q](s, "")
	if err != nil {
		panic(err)
	}
	return r
}

// number is a bare number of a printed table.
func number(s string) float64 {
	x, _, err := cite.PrintedNumber(s)
	if err != nil {
		panic(err)
	}
	return x
}

// Checks compares printed figures with those computed here.
func Checks() []cite.Check {
	out := cylinderChecks()
	out = append(out, ropeChecks()...)
	out = append(out, timeChecks()...)
	out = append(out, powerChecks()...)
	return append(out, springChecks()...)
}

// cylinderMisprints are the three cells of Goodrich's table that do not
// follow from its own rule: 1.241, 4.022 and 6.175 are meant.
var cylinderMisprints = map[string]bool{"zinc 2.5": true, "zinc 4.5": true, "iron 5.5": true}

// cylinderChecks holds each cell to 0.4 % or 1.1 thousandths of a pound: the
// table was made from areas cut off after a few digits, and the cells of a row
// share their error.
func cylinderChecks() []cite.Check {
	var out []cite.Check
	for _, row := range records(cylindersCSV) {
		for i, metal := range []string{"lead", "zinc", "iron"} {
			a := solved(Query{WeightMaterial: metal, WeightDiameter: meas.Of(unit.Inches(number(row[0]))), WeightHeight: meas.Of(unit.Inches(1))})
			got := unit.In(a.Weight.Mass.Value, "lb")
			name := metal + " " + strings.TrimSuffix(row[0], ".")
			out = append(out, cite.Check{
				What: fmt.Sprintf("pounds of a cylinder 1 in long, %s in of %s", row[0], metal), Printed: row[i+1], Got: got,
				Ref: cite.Ref{Source: "goodrich", Place: "ch. XV, table of weights"}, Tol: math.Max(0.0011, 0.004*got), Misprint: cylinderMisprints[name],
			})
		}
	}
	a := solved(Query{WeightMaterial: "lead", WeightDiameter: is[unit.Length]("3 in"), WeightHeight: is[unit.Length]("9 in"), WeightBore: is[unit.Length]("0.75 in")})
	return append(out, cite.Check{
		What: "pounds of lead, 3 by 9 in less a hole of .75 in", Ref: cite.Ref{Source: "goodrich", Place: "ch. XV, example"}, Printed: "24.45",
		Got: unit.In(a.Weight.Mass.Value, "lb"), Tol: 0.015, // nine times two rounded cells of the table
	})
}

// ropeChecks holds the rule d² R K to the three figures of API 9A.
func ropeChecks() []cite.Check {
	var out []cite.Check
	for _, row := range records(ropesCSV) {
		for i, grade := range []float64{1770, 1960} {
			a := solved(Query{LineMaterial: SteelLine, LineConstruction: "6x7 FC", RopeGrade: meas.Of(unit.Pressure(grade * 1e6)), LineDiameter: meas.Of(unit.Millimetres(number(row[0])))})
			c := cite.Check{
				What: fmt.Sprintf("breaking load in kN, 6x7 FC, %s mm, grade %.0f", row[0], grade), Printed: row[i+1],
				Ref: cite.Ref{Source: "api9a", Place: "table C.1"}, Got: unit.In(a.Line.BreakingLoad.Value, "kN"),
			}
			if number(c.Printed) >= 1000 {
				c.Tol = 5 // three figures are printed
			}
			out = append(out, c)
		}
	}
	return out
}

func timeChecks() []cite.Check {
	goodrich := func(place string) cite.Ref { return cite.Ref{Source: "goodrich", Place: place} }
	cunynghame := cite.Ref{Source: "cunynghame", Place: "on weights and barrels"}
	days := func(turns, turn string) float64 {
		return unit.In(solved(Query{Turns: is[unit.Ratio](turns), TurnTime: is[unit.Duration](turn)}).Fall.RunningTime.Value, "d")
	}
	needed := solved(Query{TurnTime: is[unit.Duration]("12 h"), RunningTime: is[unit.Duration]("192 h")}).Fall.TurnsNeeded.Value
	barrel := solved(Query{Room: is[unit.Length]("40 in"), Falls: 2, Turns: is[unit.Ratio]("16")}).Fall
	line := solved(Query{Room: is[unit.Length]("9 ft"), Turns: is[unit.Ratio]("24")}).Fall
	return []cite.Check{
		{What: "days of 10 turns of a barrel of 144 on 8", Ref: goodrich("chapter on strike and time trains"), Printed: "7.5", Got: days("10", "18 h")},
		{What: "days of 24 turns, 64 on 8", Ref: cunynghame, Printed: "8", Got: days("24", "8 h")},
		{What: "days of 16 turns, one in 12 hours", Ref: cite.Ref{Source: "derham", Place: "p. 110"}, Printed: "8", Got: days("16", "12 h")},
		{What: "turns for 8 days, one in 12 hours", Ref: goodrich("ch. XIV, Britten's rule"), Printed: "16", Got: float64(needed)},
		{What: "turns for 8 days (printed 14 1/3)", Ref: cunynghame, Printed: "14.33", Got: float64(needed), Misprint: true},
		{What: "inches of line in a turn: 40 in fall, double line, 16 turns", Ref: goodrich("ch. XIV, Britten's rule"), Printed: "5", Got: unit.In(barrel.TurnForRoom.Value, "in")},
		{What: "inches of line in a turn: 9 ft of line, 24 turns", Ref: cunynghame, Printed: "4.5", Got: unit.In(line.TurnForRoom.Value, "in")},
		// "less than 1 1/2 inch" is printed
		{What: "inches of the barrel's diameter for it", Ref: cunynghame, Printed: "1.5", Got: unit.In(line.CentreForRoom.Value, "in"), Tol: 0.1},
	}
}

func powerChecks() []cite.Check {
	cunynghame := cite.Ref{Source: "cunynghame", Place: "on the work of a beat"}
	p := solved(Query{WeightMass: is[unit.Mass]("10 lb"), Fall: is[unit.Length]("54 in"), RunningTime: is[unit.Duration]("8 d"), BeatsPerHour: is[unit.Ratio]("3600")}).Power
	big := solved(Query{WeightMass: is[unit.Mass]("2700 lb"), Fall: is[unit.Length]("0.9 in"), RunningTime: is[unit.Duration]("1 d")}).Power
	foot := unit.In(big.PerDay.Value, "J") / (0.45359237 * float64(unit.StandardGravity) * 12 * inch)
	q1 := solved(Query{
		WeightMass: is[unit.Mass]("4.5 kg"), Fall: is[unit.Length]("0.95 m"), RunningTime: is[unit.Duration]("8 d"), Gravity: is[unit.Acceleration]("9.81 m/s²"),
		BobMass: is[unit.Mass]("0.2 kg"), PendulumLength: is[unit.Length]("0.75 m"), Amplitude: meas.Of(unit.Angle(0.03 / 0.75)),
	}).Power
	q2 := solved(Query{
		WeightMass: is[unit.Mass]("1.066 kg"), Fall: is[unit.Length]("2 m"), RunningTime: is[unit.Duration]("1 d"), BeatsPerHour: is[unit.Ratio]("7200"), Gravity: is[unit.Acceleration]("9.81 m/s²"),
		BobMass: is[unit.Mass]("55 g"), Amplitude: meas.Of(unit.Angle(0.2)),
	}).Power
	return []cite.Check{
		{What: "beats to an inch of fall: 9 ft of double line in 8 days", Ref: cunynghame, Printed: "12800", Got: inch / float64(p.FallPerBeat.Value)},
		{What: "grain-inches of a beat, weight of 10 lb (a round figure)", Ref: cunynghame, Printed: "6", Got: float64(p.PerBeat.Value) / grainInch, Tol: 0.6},
		// "about 200" is printed
		{What: "foot-pounds a day of an ounce falling .9 in each 2 s", Ref: cite.Ref{Source: "beckett", Place: "on the Westminster clock"}, Printed: "200", Got: foot, Tol: 5},
		{What: "Q with the train: 0.2 kg, 0.75 m, 30 mm; 4.5 kg falls 0.95 m in 8 d (about)", Ref: cite.Ref{Source: "qproblems", Place: "first"}, Printed: "70", Got: float64(q1.Q.Value)},
		{What: "Q with the train: 55 g, 1 s, 0.2 rad; 1.066 kg falls 2 m a day", Ref: cite.Ref{Source: "qproblems", Place: "second"}, Printed: "69.4", Got: float64(q2.Q.Value)},
	}
}

func springChecks() []cite.Check {
	goodrich := cite.Ref{Source: "goodrich", Place: "ch. XV, mainsprings"}
	band := solved(Query{SpringBarrel: is[unit.Length]("30 mm"), SpringArbor: is[unit.Length]("10 mm")}).Spring.BestBand.Value
	turns := solved(Query{CoilsWound: is[unit.Ratio]("25"), CoilsDown: is[unit.Ratio]("17")}).Spring.Turns.Value
	s := solved(Query{SpringHeight: is[unit.Length]("10 mm"), SpringThickness: is[unit.Length]("1 mm"), SpringLength: is[unit.Length]("1200 mm")}).Spring
	best := solved(Query{SpringBarrel: is[unit.Length]("21.3 mm"), SpringArbor: is[unit.Length]("7.1 mm"), SpringThickness: is[unit.Length]("0.254 mm")}).Spring
	computed := cite.Ref{Grade: cite.Computed, Note: "half-area rule, found again by trying all lengths"}
	tokai := cite.Ref{Source: "tokai", Place: "spiral spring", Grade: cite.Computed, Note: "inputs printed, result computed"}
	return []cite.Check{
		// printed as rules of thumb, to about a fortieth
		{What: "part of the free space that the band fills, arbor a third of the barrel", Ref: goodrich, Printed: "0.39", Got: float64(band) / 10e-3, Tol: 0.01},
		{What: "thickness of the band over the barrel's diameter", Ref: goodrich, Printed: "0.123", Got: float64(band) / 30e-3, Tol: 0.005},
		{What: "turns of a spring of 25 coils wound and 17 down", Ref: goodrich, Printed: "8", Got: float64(turns)},
		{What: "torque of a turn in N mm, 10 x 1 x 1200 mm", Ref: tokai, Printed: "898.8", Got: unit.In(s.TorquePerTurn.Value, "N mm")},
		{What: "stress of a turn in MPa, 10 x 1 x 1200 mm", Ref: tokai, Printed: "539", Got: unit.In(s.StressPerTurn.Value, "MPa")},
		{What: "torque of a turn with π once too often, as web pages have it", Ref: cite.Ref{Grade: cite.Computed, Note: "π belongs to turns, not to radians"}, Printed: "2823.6", Got: unit.In(s.TorquePerTurn.Value, "N mm"), Misprint: true},
		{What: "length in mm for most turns, barrel 21.3, arbor 7.1, spring 0.254 mm", Ref: computed, Printed: "623.5", Got: unit.In(best.BestLength.Value, "mm")},
		{What: "most turns of it", Ref: computed, Printed: "6.60", Got: float64(best.MaxTurns.Value)},
	}
}
