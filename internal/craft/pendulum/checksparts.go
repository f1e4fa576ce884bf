package pendulum

import (
	_ "embed" // Gourdin's table
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// solved is the answer to a query that is known to be right.
func solved(q Query) Answer {
	a, err := Solve(q)
	if err != nil {
		panic(err) // a check's own query
	}
	return a
}

func lengthChecks() []cite.Check {
	p36 := cite.Ref{Source: "beckett", Place: "p. 36"}
	inches := func(beat float64) float64 {
		return unit.In(solved(Query{Beat: meas.Of(unit.Duration(beat)), SecondsPendulum: meas.Of(unit.Inches(39.14))}).Length.Value, "in")
	}
	short := solved(Query{Length: meas.Of(unit.Inches(36)), SecondsPendulum: meas.Of(unit.Inches(39.14))})
	var out []cite.Check
	for _, r := range []struct {
		beat    float64
		printed string
		tol     float64
	}{{4, "626", 0.5}, {3, "352", 0.5}, {2.5, "245", 0.5}, {2, "156.5", 0.5}, {1.5, "88", 0.5}, {1.25, "61", 0.5}, {0.75, "22", 0.05}, {2.0 / 3, "17.4", 0.05}, {0.5, "9.78", 0.01}} {
		out = append(out, cite.Check{What: fmt.Sprintf("length for a beat of %.4g s, in", r.beat), Ref: p36, Printed: r.printed, Got: inches(r.beat), Tol: r.tol}) // printed in feet and inches
	}
	return append(out,
		cite.Check{What: "beat of 36 in, s", Ref: cite.Ref{Source: "beckett", Place: "p. 40"}, Printed: ".846", Got: float64(short.Beat.Value), Misprint: true},
		cite.Check{What: "beats a minute of 36 in", Ref: cite.Ref{Source: "beckett", Place: "p. 40"}, Printed: "70.92", Got: float64(short.BeatsPerMinute.Value), Misprint: true},
		cite.Check{What: "sidereal seconds pendulum, in", Ref: p36, Printed: "38.87", Got: inches(.99727), Misprint: true},
		cite.Check{What: "1 s a day of 39.138 in, in", Ref: cite.Ref{Source: "eb11", Place: "p. 539"}, Printed: ".000906", Got: 39.138 / 43200},
		cite.Check{What: "minute a day of the seconds pendulum, in (1/18)", Ref: cite.Ref{Source: "beckett", Place: "p. 50"}, Printed: "0.0556", Got: 39.14 / 720, Tol: 0.0015}, // about 1/18
		cite.Check{What: "seconds pendulum from one swing an hour of 12 880 337.93 m", Ref: cite.Ref{Source: "abbott"}, Printed: "0.99385", Got: 12880337.93 / (3600 * 3600)},
	)
}

func partChecks() []cite.Check {
	p51, p69 := cite.Ref{Source: "beckett", Place: "p. 51"}, cite.Ref{Source: "beckett", Place: "p. 69"}
	// The weight that makes a pendulum of 10 800 kg gain 1 s a day, as its part.
	tray := func(at float64) float64 {
		a := solved(Query{Length: meas.Of(unit.Length(1)), Mass: meas.Of(unit.Mass(10800)), TrayAt: meas.Of(unit.Length(at))})
		return 10800 / float64(a.Tray.OneSecond.Value)
	}
	// A column of mercury 8.6 in high and next to no width, swinging with 39.14 in.
	column := solved(Query{Length: meas.Of(unit.Inches(39.14)), Bob: Cylinder, BobDiameter: meas.Of(unit.Inches(.001)), BobHeight: meas.Of(unit.Inches(8.6)), BobMass: meas.Of(unit.Mass(10))})
	middle := unit.In(column.Compound.BobCentre.Value, "in")
	return []cite.Check{
		{What: "weight at half the length for 1 s a day, part of the whole", Ref: p51, Printed: "10800", Got: tray(.5)},
		{What: "weight at a third of the length for 1 s a day, part of the whole", Ref: p51, Printed: "7200", Got: tray(1. / 3), Misprint: true},
		{What: "weight at two thirds of the length for 1 s a day, part of the whole", Ref: p51, Printed: "7200", Got: tray(2. / 3), Misprint: true},
		{What: "centre of gravity of a column of half height 4.3 in, in", Ref: p69, Printed: "38.98", Got: middle},
		{What: "centre of swing below it, in", Ref: p69, Printed: ".16", Got: 39.14 - middle},
	}
}

func warmthChecks() []cite.Check {
	day := func(name string, f float64) float64 {
		m, _ := FindMaterial(name)
		return 43200 * float64(m.Expansion) * f * 5 / 9
	}
	b := func(p string) cite.Ref { return cite.Ref{Source: "beckett", Place: p} }
	out := []cite.Check{
		{What: "iron wire, 30 °F, a week, s (a minute)", Ref: b("p. 52"), Printed: "60", Got: day("iron", 30) * 7, Tol: 5},
		{What: "brass, 30 °F, five days, s (a minute)", Ref: b("p. 52"), Printed: "60", Got: day("brass", 30) * 5, Tol: 6},
		{What: "wood, 30 °F, three weeks, s (a minute)", Ref: b("p. 52"), Printed: "60", Got: day("deal", 30) * 21, Tol: 5},
		{What: "wood, 30 °F, a week, s", Ref: b("p. 60"), Printed: "20", Got: day("deal", 30) * 7, Tol: 1},
		{What: "steel, 4 °F, s a day (about 1)", Ref: cite.Ref{Source: "eb11", Place: "p. 540"}, Printed: "1", Got: day("steel", 4), Tol: 0.12},
	}
	// One °F is .0000064 of 39.14 in: the copy seen has a nought too many.
	out = append(out, cite.Check{What: "iron-like rod of 39.14 in, .000023 of it, in", Ref: cite.Ref{Source: "eb11", Place: "p. 540"}, Printed: ".00009", Got: .000023 * 39.14, Misprint: true})
	for name, printed := range map[string]string{"deal": "4.14", "glass": "8.64", "steel": "11.52", "cast iron": "11.88", "iron": "12.60", "brass": "18.00", "copper": "19.08", "silver": "20.70", "lead": "29.70", "zinc": "28.80"} {
		m, _ := FindMaterial(name)
		out = append(out, cite.Check{What: "expansion of " + name + ", µm/m/K from 1000 °F", Ref: b("p. 53"), Printed: printed, Got: float64(m.Expansion) * 1e6})
	}
	sortChecks(out[6:])
	return out
}

func airChecks() []cite.Check {
	ref := cite.Ref{Source: "cipm2007", Grade: cite.Computed, Note: "from several public implementations"}
	at := func(t, p, h float64) float64 { return airDensity(t+273.15, p, h) }
	a := solved(Query{BobDensity: meas.Of(unit.Density(11000))}) // Beckett's specific gravity of a bob, p. 71
	static, inch := -a.Air.Buoyancy.Value.PerDay(), -a.Air.PerInHg.Value.PerDay()
	eb := cite.Ref{Source: "eb11", Place: "p. 541"}
	return []cite.Check{
		{What: "air at 20 °C, 1013.25 hPa, 50 %, kg/m³", Ref: ref, Printed: "1.199314", Got: at(20, 101325, .5)},
		{What: "air at 20 °C, 1013.25 hPa, dry, kg/m³", Ref: ref, Printed: "1.204557", Got: at(20, 101325, 0)},
		{What: "air at 15 °C, 1013.25 hPa, 50 %, kg/m³", Ref: ref, Printed: "1.221631", Got: at(15, 101325, .5)},
		{What: "air at 25 °C, 1013.25 hPa, 50 %, kg/m³", Ref: ref, Printed: "1.177315", Got: at(25, 101325, .5)},
		{What: "air at 20 °C, 750 hPa, 50 %, kg/m³", Ref: ref, Printed: ".886277", Got: at(20, 75000, .5)},
		// OIML R 111 has an approximation of its own; the two differ by up to 3e-4.
		{What: "air at 20 °C, 1013.25 hPa, 50 %, by the rule of OIML R 111, kg/m³", Ref: cite.Ref{Place: "OIML R 111, E.3", Grade: cite.Memory}, Printed: "1.19929", Got: at(20, 101325, .5), Tol: 3e-4},
		{What: "no air against air, as buoyancy, s a day", Ref: eb, Printed: "4.5", Got: static, Tol: 0.3}, // the bob is not named there
		// Measured effects are "doubled or nearly doubled"; each tolerance takes in from 1.8 to 2.6 times the buoyancy.
		{What: "an inch of mercury, measured by Hilfiker, against twice the buoyancy, s a day", Ref: eb, Printed: ".37", Got: 2 * inch, Tol: 0.1},
		{What: "an inch of mercury, turret and regulator, against twice the buoyancy, s a day", Ref: cite.Ref{Source: "beckett", Place: "p. 73"}, Printed: ".3", Got: 2 * inch, Tol: 0.1},
		{What: "an inch of mercury, middle of 0.2 to 0.4, against twice the buoyancy, s a day", Ref: cite.Ref{Source: "matthys", Place: "ch. 30"}, Printed: ".3", Got: 2 * inch, Tol: 0.1},
	}
}

//go:embed data/gourdin.csv
var gourdinCSV string

// gourdinOff are the rows of Gourdin's table that do not follow from its own
// seconds pendulum of 993.9 mm: misprints or slips.
var gourdinOff = []string{"17400", "16800", "16700", "16000", "10800", "8600", "8200", "7100", "5400", "5200", "3950", "3900", "3750", "3700"}

// gourdinChecks are the lengths of Gourdin's table, given to a tenth of a
// millimetre by a rounded rule: the tolerance is 0.06 mm. Its column of the way
// for a minute a day is 4 % too small at the long end; one row stands for it.
func gourdinChecks() []cite.Check {
	rows, err := csv.NewReader(strings.NewReader(gourdinCSV)).ReadAll()
	if err != nil {
		panic(err) // the program's own file
	}
	ref := cite.Ref{Source: "goodrich", Place: "ch. II, Gourdin's table"}
	var out []cite.Check
	for _, r := range rows[1:] {
		n, err := strconv.ParseFloat(r[0], 64)
		if err != nil {
			panic(err)
		}
		a := solved(Query{Beats: meas.Of(unit.Ratio(n)), SecondsPendulum: meas.Of(unit.Length(0.9939)), Regulate: meas.Of(unit.RatePerDay(60))})
		out = append(out, cite.Check{What: r[0] + " beats an hour, mm", Ref: ref, Printed: r[1], Got: a.Length.Value.MM(), Tol: 0.06, Misprint: slices.Contains(gourdinOff, r[0])})
		if r[0] == "4000" {
			out = append(out, cite.Check{What: "4000 beats an hour, mm for a minute a day", Ref: ref, Printed: r[2], Got: a.Move.Raise.Value.MM(), Misprint: true})
		}
	}
	return out
}
