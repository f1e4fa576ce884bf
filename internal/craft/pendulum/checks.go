package pendulum

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// Checks sets printed figures beside ours.
func Checks() []cite.Check {
	var out []cite.Check
	out = append(out, gravityChecks()...)
	out = append(out, placeChecks()...)
	out = append(out, periodChecks()...)
	out = append(out, arcChecks()...)
	out = append(out, lengthChecks()...)
	out = append(out, partChecks()...)
	out = append(out, warmthChecks()...)
	out = append(out, airChecks()...)
	return append(out, gourdinChecks()...)
}

func gravityChecks() []cite.Check {
	w, g := wgs84.normal(), grs80.normal()
	nga, moritz := cite.Ref{Source: "nga8350", Place: "Table 3.4"}, cite.Ref{Source: "grs80"}
	return []cite.Check{
		{What: "WGS84 gravity at the equator", Ref: nga, Printed: "9.7803253359", Got: w.equator},
		{What: "WGS84 gravity at the pole", Ref: nga, Printed: "9.83218493786", Got: w.pole},
		{What: "WGS84 constant m", Ref: nga, Printed: "0.00344978650684", Got: w.m},
		{What: "WGS84 constant k", Ref: nga, Printed: "0.00193185265241", Got: w.k},
		{What: "WGS84 square of the eccentricity", Ref: nga, Printed: "0.00669437999014", Got: w.e2},
		{What: "GRS80 gravity at the equator", Ref: moritz, Printed: "9.7803267715", Got: g.equator},
		{What: "GRS80 gravity at the pole", Ref: moritz, Printed: "9.8321863685", Got: g.pole},
		{What: "GRS80 constant k", Ref: moritz, Printed: "0.001931851353", Got: g.k, Tol: 1e-12}, // the last printed digit differs by rounding of e²
		{What: "WGS84 gravity at 59.91°", Ref: cite.Ref{Source: "smsfusion", Place: "test_gravity"}, Printed: "9.81910618638375", Got: wgs84.at(59.91*degree, 0), Tol: 1e-12},
	}
}

// placeChecks are observed gravities; the tolerance is that of a place.
func placeChecks() []cite.Check {
	var out []cite.Check
	for _, p := range []struct {
		name             string
		latitude, height float64
		printed          string
	}{
		{"North Pole", 90, 0, "9.832"}, {"Greenland", 70, 20, "9.825"}, {"Stockholm", 59, 45, "9.818"}, {"Brussels", 51, 102, "9.811"},
		{"Banff", 51, 1376, "9.808"}, {"New York", 41, 38, "9.803"}, {"Chicago", 42, 182, "9.803"}, {"Denver", 40, 1638, "9.796"},
		{"San Francisco", 38, 114, "9.800"}, {"Canal Zone", 9, 6, "9.782"}, {"Java", -6, 7, "9.782"}, {"New Zealand", -37, 3, "9.800"},
	} {
		out = append(out, cite.Check{What: "observed gravity, " + p.name, Ref: cite.Ref{Source: "places"}, Printed: p.printed, Got: wgs84.at(p.latitude*degree, p.height), Tol: 0.0015})
	}
	seconds := func(lat float64) float64 { return wgs84.at(lat*degree, 0) / (math.Pi * math.Pi) }
	lm := cite.Ref{Source: "lm66"}
	sabine := func(lat float64) float64 {
		return 86497.4 * math.Sqrt(wgs84.at(lat*degree, 0)/wgs84.at(51.518889*degree, 0))
	}
	return append(out,
		cite.Check{What: "Kater's seconds pendulum, London, in", Ref: lm, Printed: "39.13929", Got: seconds(51.5189) / 0.0254, Tol: 0.002},
		cite.Check{What: "Borda and Cassini, Paris, mm", Ref: lm, Printed: "993.85", Got: seconds(48.8362) * 1000, Tol: 0.1},
		cite.Check{What: "Paris less equator, Paris lines", Ref: lm, Printed: "1.26", Got: (seconds(48.8362) - seconds(0)) * 443.296, Tol: 0.08},
		cite.Check{What: "440.5593 Paris lines in mm", Ref: lm, Printed: "993.53", Got: 440.5593 / 0.443296, Misprint: true},
		cite.Check{What: "invariable pendulum at Brassa, vibrations a day", Ref: cite.Ref{Source: "sabine"}, Printed: "86530.507", Got: sabine(60.16167), Tol: 3},
		cite.Check{What: "invariable pendulum at Hare Island, vibrations a day", Ref: cite.Ref{Source: "sabine"}, Printed: "86562.6386", Got: sabine(70.43806), Tol: 3},
		cite.Check{What: "Beckett's seconds pendulum at 45°, in", Ref: cite.Ref{Source: "beckett", Place: "p. 39"}, Printed: "39.1156", Got: seconds(45) / 0.0254, Tol: 0.003},
	)
}

func periodChecks() []cite.Check {
	gmu, gsl := cite.Ref{Source: "gmu"}, cite.Ref{Source: "gsl", Place: "test_sf.c"}
	t0 := 2 * math.Pi * math.Sqrt(1/9.81)
	var out []cite.Check
	for deg, printed := range map[float64]string{10: "2.00989262729860052", 20: "2.02145125782457619", 30: "2.04098988951913023", 40: "2.06893785189358914",
		50: "2.10593461928364287", 60: "2.15287466688051548", 70: "2.21097618054218626", 80: "2.28188592401963935"} {
		out = append(out, cite.Check{What: fmt.Sprintf("period at %.0f°, 1 m, 9.81 m/s²", deg), Ref: gmu, Printed: printed, Got: t0 * stretch(deg*degree), Tol: 1e-14})
	}
	sortChecks(out)
	return append(out,
		cite.Check{What: "K(0.5)", Ref: gsl, Printed: "1.6857503548125960", Got: num.EllipticK(0.5), Tol: 1e-15},
		cite.Check{What: "K(0.01)", Ref: gsl, Printed: "1.5708355989121522", Got: num.EllipticK(0.01), Tol: 1e-15},
		cite.Check{What: "K(0.99)", Ref: gsl, Printed: "3.3566005233611924", Got: num.EllipticK(0.99), Tol: 3e-15},
		cite.Check{What: "arc at which the period is 0.1 % over, rad", Ref: gmu, Printed: "0.12649636954594307", Got: arcFor(0.001), Tol: 1e-12},
		cite.Check{What: "arc at which the period is 1 % over, rad", Ref: gmu, Printed: "0.40016431970246170", Got: arcFor(0.01), Tol: 1e-12},
		cite.Check{What: "arc at which the period is 10 % over, rad", Ref: gmu, Printed: "1.26932970981731682", Got: arcFor(0.1), Tol: 1e-12},
	)
}

// arcFor is the arc at which (T − T₀)/T is so much.
func arcFor(part float64) float64 {
	x, err := num.Root(func(a float64) float64 { return 1 - 1/stretch(a) - part }, 1e-6, 3, 1e-15)
	if err != nil {
		return math.NaN()
	}
	return x
}

// lossAt is the loss at an arc in degrees, s/day.
func lossAt(deg float64) float64 { return 86400 * (1 - 1/stretch(deg*degree)) }

func arcChecks() []cite.Check {
	b := func(p string) cite.Ref { return cite.Ref{Source: "beckett", Place: p} }
	eb := cite.Ref{Source: "eb11", Place: "pp. 538–539"}
	return []cite.Check{
		{What: "divisor of the square of the arc in degrees", Ref: eb, Printed: "52520", Got: 16 * math.Pow(180/math.Pi, 2), Tol: 10}, // printed to four figures
		{What: "arc 2° growing by 0.1°, s/day", Ref: eb, Printed: "0.66", Got: 2 * 5400 * 2 * degree * 0.1 * degree, Tol: 0.005},      // his linear rule
		{What: "loss at 2° against a very small arc, s/day (about 6)", Ref: b("p. 34"), Printed: "6", Got: lossAt(2), Tol: 0.7},       // "about"
		{What: "2.5° against 2°, s/day (rather less than 4)", Ref: b("p. 35"), Printed: "4", Got: lossAt(2.5) - lossAt(2), Tol: 0.4},  // "rather less than"
		{What: "10′ more at 2°, s/day (about 1)", Ref: b("p. 35"), Printed: "1", Got: lossAt(2+1.0/6) - lossAt(2), Tol: 0.2},          // "about"
		{What: "3° to 4°, s/day, by the rule 1.5 (a₁² − a₂²)", Ref: eb, Printed: "10.5", Got: lossAt(4) - lossAt(3), Tol: 1.1},        // a rule of thumb
	}
}

func lengthChecks() []cite.Check {
	p36 := cite.Ref{Source: "beckett", Place: "p. 36"}
	inches := func(beat float64) float64 {
		a, err := Solve(Query{Beat: meas.Of(unit.Duration(beat)), SecondsPendulum: meas.Of(unit.Inches(39.14))})
		if err != nil {
			return math.NaN()
		}
		return unit.In(a.Length.Value, "in")
	}
	var out []cite.Check
	for _, r := range []struct {
		beat    float64
		printed string
		tol     float64
	}{{4, "626", 0.5}, {3, "352", 0.5}, {2.5, "245", 0.5}, {2, "156.5", 0.5}, {1.5, "88", 0.5}, {1.25, "61", 0.5}, {0.75, "22", 0.05}, {2.0 / 3, "17.4", 0.05}, {0.5, "9.78", 0.01}} {
		out = append(out, cite.Check{What: fmt.Sprintf("length for a beat of %.4g s, in", r.beat), Ref: p36, Printed: r.printed, Got: inches(r.beat), Tol: r.tol}) // printed in feet and inches
	}
	return append(out,
		cite.Check{What: "beat of 36 in, s", Ref: cite.Ref{Source: "beckett", Place: "p. 40"}, Printed: ".846", Got: math.Sqrt(36 / 39.14), Misprint: true},
		cite.Check{What: "beats a minute of 36 in", Ref: cite.Ref{Source: "beckett", Place: "p. 40"}, Printed: "70.92", Got: 60 / math.Sqrt(36/39.14), Misprint: true},
		cite.Check{What: "sidereal seconds pendulum, in", Ref: p36, Printed: "38.87", Got: 39.14 * .99727 * .99727, Misprint: true},
		cite.Check{What: "1 s a day of 39.138 in, in", Ref: cite.Ref{Source: "eb11", Place: "p. 539"}, Printed: ".000906", Got: 39.138 / 43200},
		cite.Check{What: "minute a day of the seconds pendulum, in (1/18)", Ref: cite.Ref{Source: "beckett", Place: "p. 50"}, Printed: "0.0556", Got: 39.14 / 720, Tol: 0.0015}, // about 1/18
		cite.Check{What: "seconds pendulum from one swing an hour of 12 880 337.93 m", Ref: cite.Ref{Source: "abbott"}, Printed: "0.99385", Got: 12880337.93 / (3600 * 3600)},
	)
}

func partChecks() []cite.Check {
	share := func(x float64) float64 { return 1 / (x - x*x) * 43200 }
	// l h = h² + x²/3 for a column of half height x (a cylinder without width).
	h, _ := num.Root(func(h float64) float64 { return h*h + 4.3*4.3/3 - 39.14*h }, 30, 39.14, 1e-12)
	p51 := cite.Ref{Source: "beckett", Place: "p. 51"}
	return []cite.Check{
		{What: "weight at half the length for 1 s a day, part of the whole", Ref: p51, Printed: "10800", Got: share(0.5) / 16, Tol: 0.5},
		{What: "weight at a third of the length for 1 s a day, part of the whole", Ref: p51, Printed: "7200", Got: 43200 * (1.0/3 - 1.0/9), Misprint: true},
		{What: "centre of gravity of a column of half height 4.3 in, in", Ref: cite.Ref{Source: "beckett", Place: "p. 69"}, Printed: "38.98", Got: h},
		{What: "centre of swing below it, in", Ref: cite.Ref{Source: "beckett", Place: "p. 69"}, Printed: ".16", Got: 39.14 - h},
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
	for name, printed := range map[string]string{"deal": "4.14", "glass": "8.64", "steel": "11.52", "cast iron": "11.88", "iron": "12.60", "brass": "18.00", "copper": "19.08", "silver": "20.70", "lead": "29.70", "zinc": "28.80"} {
		m, _ := FindMaterial(name)
		out = append(out, cite.Check{What: "expansion of " + name + ", µm/m/K from 1000 °F", Ref: b("p. 53"), Printed: printed, Got: float64(m.Expansion) * 1e6})
	}
	sortChecks(out[5:])
	return out
}

func airChecks() []cite.Check {
	ref := cite.Ref{Source: "cipm2007", Grade: cite.Computed, Note: "from several public implementations"}
	at := func(t, p, h float64) float64 { return airDensity(t+273.15, p, h) }
	// Tol: the constants of the implementations differ in the last digit.
	static := 43200 * 1.2 / 11000
	return []cite.Check{
		{What: "air at 20 °C, 1013.25 hPa, 50 %", Ref: ref, Printed: "1.199314", Tol: 2e-6, Got: at(20, 101325, .5)},
		{What: "air at 20 °C, 1013.25 hPa, dry", Ref: ref, Printed: "1.204557", Tol: 2e-6, Got: at(20, 101325, 0)},
		{What: "air at 15 °C, 1013.25 hPa, 50 %", Ref: ref, Printed: "1.221631", Tol: 2e-6, Got: at(15, 101325, .5)},
		{What: "air at 25 °C, 1013.25 hPa, 50 %", Ref: ref, Printed: "1.177315", Tol: 2e-6, Got: at(25, 101325, .5)},
		{What: "air at 20 °C, 750 hPa, 50 %", Ref: ref, Printed: ".886277", Tol: 2e-6, Got: at(20, 75000, .5)},
		{What: "no air against air, bob of 11 000 kg/m³, s a day (4.5)", Ref: cite.Ref{Source: "eb11", Place: "p. 541"}, Printed: "4.5", Got: static, Tol: 0.3}, // 30 in of mercury, static
	}
}

//go:embed data/gourdin.csv
var gourdinCSV string

// gourdinOff are the rows of Gourdin's table that do not follow from its own
// seconds pendulum of 0.9939 m: misprints or slips.
var gourdinOff = map[string]bool{"17400": true, "16800": true, "16700": true, "16000": true, "10800": true, "8600": true, "8200": true, "7100": true,
	"5400": true, "5200": true, "3950": true, "3900": true, "3850": true, "3800": true, "3750": true, "3700": true, "3650": true}

// gourdinChecks are the lengths of Gourdin's table, given to a tenth of a
// millimetre by a rounded rule: the tolerance is 0.06 mm.
func gourdinChecks() []cite.Check {
	rows, err := csv.NewReader(strings.NewReader(gourdinCSV)).ReadAll()
	if err != nil {
		return nil
	}
	ref := cite.Ref{Source: "goodrich", Place: "ch. II, Gourdin's table"}
	var out []cite.Check
	for _, r := range rows[1:] {
		n, err := strconv.ParseFloat(r[0], 64)
		if err != nil {
			return nil
		}
		a, err := Solve(Query{Beats: meas.Of(unit.Ratio(n)), SecondsPendulum: meas.Of(unit.Length(0.9939))})
		if err != nil {
			return nil
		}
		c := cite.Check{What: r[0] + " beats an hour, mm", Ref: ref, Printed: r[1], Got: a.Length.Value.MM(), Tol: 0.0601}
		c.Misprint = gourdinOff[r[0]] && !c.Agrees()
		out = append(out, c)
	}
	return out
}

func sortChecks(c []cite.Check) {
	for i := 1; i < len(c); i++ {
		for j := i; j > 0 && c[j].What < c[j-1].What; j-- {
			c[j], c[j-1] = c[j-1], c[j]
		}
	}
}
