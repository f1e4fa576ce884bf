package train

import (
	_ "embed" // the printed tables
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The printed tables; the comment at the head of each says what stands in it.
var (
	//go:embed data/goodrich_p255.csv
	goodrichCSV string
	//go:embed data/trains_printed.csv
	trainsCSV string
	//go:embed data/motion.csv
	motionCSV string
	//go:embed data/strike_printed.csv
	strikeCSV string
)

var goodrichRef = cite.Ref{Source: "goodrich", Place: "pp. 255–257, table of trains", Grade: cite.Printed}

// goodrichSeconds is the seconds pendulum of Goodrich's table, in inches.
const goodrichSeconds = 39.14

// records reads an embedded table: a map of column to cell for each row.
func records(s string) []map[string]string {
	r := csv.NewReader(strings.NewReader(s))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) == 0 {
		panic(fmt.Sprintf("train: an embedded table is damaged: %v", err)) // the program's own file
	}
	out := make([]map[string]string, len(all)-1)
	for i, row := range all[1:] {
		out[i] = make(map[string]string, len(row))
		for k, cell := range row {
			out[i][all[0][k]] = cell
		}
	}
	return out
}

func goodrichTable() []map[string]string { return records(goodrichCSV) }
func printedTrains() []map[string]string { return records(trainsCSV) }

// Checks compares printed figures with those reckoned here.
func Checks() []cite.Check {
	out := goodrichChecks()
	for _, r := range printedTrains() {
		out = append(out, trainCheck(r))
	}
	for _, r := range records(motionCSV) {
		c := printedCheck(r, "motion work "+r["motion"])
		c.Got = exactly(motionProduct(MustChain(r["motion"]))).Float()
		out = append(out, c)
	}
	for _, r := range records(strikeCSV) {
		out = append(out, strikeCheck(r))
	}
	return append(out,
		cite.Check{What: "blows of 7 1/2 days (printed 1,070)", Ref: cite.Ref{Source: "goodrich", Place: "chapter on striking"}, Printed: "1070", Got: 7.5 * 2 * float64(blowsIn12.V), Misprint: true},
		cite.Check{What: "blows in 24 hours", Ref: cite.Ref{Source: "derham", Place: "p. 36"}, Printed: "156", Got: 2 * float64(blowsIn12.V)},
	)
}

// printedCheck is a check with the columns that all tables share.
func printedCheck(r map[string]string, what string) cite.Check {
	return cite.Check{What: what, Ref: cite.Ref{Source: r["source"], Place: r["place"], Grade: cite.Printed, Note: r["note"]}, Printed: r["printed"], Misprint: r["misprint"] == "yes"}
}

// cutLength is how far the length of a row moves, in inches, if its vibrations
// are taken as printed.
func cutLength(a Answer, r map[string]string) float64 {
	printed, _, err := cite.PrintedNumber(r["vibrations_per_minute"])
	if err != nil {
		return math.NaN()
	}
	exact := a.BeatsPerMinute.Float()
	return 2 * unit.In(a.Pendulum.Value, "in") * math.Abs(printed-exact) / exact
}

// goodrichChecks has two checks for each row of the table. Vibrations are
// held to one unit of the last digit, as some rows are cut off and not
// rounded; lengths to 0.011 in and what the cut of the row's vibrations does
// to a length worked out from them, as the source did; a length known to be
// misprinted must miss by more than 0.011 in.
func goodrichChecks() []cite.Check {
	var out []cite.Check
	for _, r := range goodrichTable() {
		q, err := Parse(r["train"])
		if err != nil {
			panic(err)
		}
		q.HourArbor = "1"
		q.Gravity = meas.Of(secondsGravity(goodrichSeconds))
		if q.ArborTurn, err = meas.Parse[unit.Duration](r["first_turn"], "h"); err != nil {
			panic(err)
		}
		if b := r["beats_per_turn"]; b != "" {
			if err := q.PerTurn.UnmarshalText([]byte(b)); err != nil {
				panic(err)
			}
		}
		a, err := Solve(q)
		if err != nil {
			panic(err)
		}
		wrong, tol := r["length_misprint"] != "", 0.011
		if !wrong {
			tol += cutLength(a, r)
		}
		out = append(out,
			cite.Check{What: "vibrations a minute, " + r["train"], Ref: goodrichRef, Printed: r["vibrations_per_minute"], Got: a.BeatsPerMinute.Float(), Tol: 0.1},
			cite.Check{What: "length of the pendulum in inches, " + r["train"], Ref: goodrichRef, Printed: r["length_in"], Got: unit.In(a.Pendulum.Value, "in"), Tol: tol, Misprint: wrong})
	}
	return out
}

// secondsGravity is the gravity where the seconds pendulum has this length.
func secondsGravity(inches float64) unit.Acceleration {
	return unit.Acceleration(float64(unit.Inches(inches)) * math.Pi * math.Pi)
}

// trainCheck solves a row of the printed trains.
func trainCheck(r map[string]string) cite.Check {
	q, err := Parse(r["train"])
	if err != nil {
		panic(err)
	}
	q.HourArbor, q.MotionArbor = r["hour_arbor"], r["motion_arbor"]
	q.Motion = MustChain(r["motion"])
	for field, target := range map[string]*Exact{"beats": &q.Beats, "per_turn": &q.PerTurn} {
		if err := target.UnmarshalText([]byte(r[field])); err != nil {
			panic(err)
		}
	}
	if q.ArborTurn, err = meas.Parse[unit.Duration](r["arbor_turn"], "h"); err != nil {
		panic(err)
	}
	if in, err := strconv.ParseFloat(r["seconds_in"], 64); err == nil {
		q.Gravity = meas.Of(secondsGravity(in))
	}
	if q.Trains[0].BarrelTurns, err = meas.Parse[unit.Ratio](r["turns"], ""); err != nil {
		panic(err)
	}
	a, err := Solve(q)
	if err != nil {
		panic(fmt.Sprintf("%s: %v", r["train"], err))
	}
	c := printedCheck(r, strings.ReplaceAll(r["quantity"], "_", " ")+", "+r["train"])
	c.Got = printedQuantity(a, r["quantity"])
	return c
}

// printedQuantity picks a figure of the answer by the name the tables use.
func printedQuantity(a Answer, name string) float64 {
	t := a.Trains[0]
	last := t.Arbors[len(t.Arbors)-1]
	switch name {
	case "beats_per_hour":
		return a.BeatsPerHour.Float()
	case "half_beats_per_hour":
		return a.BeatsPerHour.Float() / 2
	case "beats_per_minute":
		return a.BeatsPerMinute.Float()
	case "seconds_per_beat":
		return a.SecondsPerBeat.Float()
	case "pendulum_in":
		return unit.In(a.Pendulum.Value, "in")
	case "beats_per_great_wheel_turn":
		return t.BeatsPerTurn.Float()
	case "half_beats_per_great_wheel_turn":
		return t.BeatsPerTurn.Float() / 2
	case "last_per_first":
		return last.TurnsPerFirst.Float()
	case "last_turns_per_hour":
		return last.TurnsPerHour.Float()
	case "last_seconds":
		return last.Period.Float()
	case "great_wheel_hours":
		return t.Arbors[0].Period.Float() / 3600
	case "hours":
		return t.RunningHours.Float()
	case "days":
		return t.RunningDays.Float()
	case "blows_per_turn":
		return t.BlowsPerTurn.Float()
	case "blows_in_all":
		return t.BlowsInAll.Float()
	case "blows_of_report":
		return t.BlowsOfReport.Float()
	}
	return math.NaN()
}

// strikeCheck solves a row of the printed strikes.
func strikeCheck(r map[string]string) cite.Check {
	pins, err := strconv.Atoi(r["pins"])
	if err != nil {
		panic(err)
	}
	t := Train{Name: Strike, Chain: MustChain(r["train"]), Pins: pins, PinArbor: r["pin_arbor"], Report: MustChain(r["report"])}
	if t.BarrelTurns, err = meas.Parse[unit.Ratio](r["turns"], ""); err != nil {
		panic(err)
	}
	a, err := Solve(Query{Trains: []Train{t}})
	if err != nil {
		panic(err)
	}
	c := printedCheck(r, strings.ReplaceAll(r["quantity"], "_", " ")+", "+r["train"])
	c.Got = printedQuantity(a, r["quantity"])
	return c
}
