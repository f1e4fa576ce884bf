package pendulum

import (
	"fmt"
	"math"

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
	out = append(out, tubeChecks()...)
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
		// In exact arithmetic k is 0.001931852652458: the print has the rounding of its own.
		{What: "WGS84 constant k", Ref: nga, Printed: "0.00193185265241", Got: w.k, Tol: 1e-13},
		{What: "WGS84 square of the eccentricity", Ref: nga, Printed: "0.00669437999014", Got: w.e2},
		{What: "GRS80 gravity at the equator", Ref: moritz, Printed: "9.7803267715", Got: g.equator},
		{What: "GRS80 gravity at the pole", Ref: moritz, Printed: "9.8321863685", Got: g.pole},
		{What: "GRS80 constant k", Ref: moritz, Printed: "0.001931851353", Got: g.k},
		{What: "GRS80 square of the eccentricity", Ref: moritz, Printed: "0.00669438002290", Got: g.e2},
		{What: "GRS80 minor axis, m", Ref: moritz, Printed: "6356752.3141", Got: grs80.a * (1 - grs80.f)},
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
	unplaced := cite.Ref{Place: "observed with pendulums", Note: "where it is printed was not recorded"}
	lm, p39 := cite.Ref{Source: "lm66"}, cite.Ref{Source: "beckett", Place: "p. 39"}
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
		// Beckett's two rules, 39.1156 (1 − .0027 cos 2φ) and 39.017 + .2 sin² φ, against the ellipsoid.
		cite.Check{What: "Beckett's seconds pendulum at 45°, in", Ref: p39, Printed: "39.1156", Got: seconds(45) / 0.0254, Tol: 0.003},
		cite.Check{What: "Beckett's seconds pendulum at 51.5°, in", Ref: p39, Printed: "39.1394", Got: seconds(51.5) / 0.0254, Tol: 0.003},
		cite.Check{What: "Beckett's seconds pendulum at 60°, in", Ref: p39, Printed: "39.1684", Got: seconds(60) / 0.0254, Tol: 0.003},
		cite.Check{What: "Beckett's second rule at the equator, in", Ref: p39, Printed: "39.017", Got: seconds(0) / 0.0254, Tol: 0.004},
		cite.Check{What: "Beckett's second rule at the pole, in", Ref: p39, Printed: "39.217", Got: seconds(90) / 0.0254, Tol: 0.004},
		cite.Check{What: "English pendulum at the equator, minutes a day lost", Ref: p39, Printed: "2.25", Got: 1440 * (1 - math.Sqrt(seconds(0)/seconds(51.5))), Tol: 0.1}, // in words, two and a quarter
		cite.Check{What: "Potsdam, from 981.274 less 0.013, Gal", Ref: lm, Printed: "981.261", Got: 100 * wgs84.at(52.3806*degree, 87), Tol: 0.05},                          // latitude and height from memory
		cite.Check{What: "Washington, Gal", Ref: unplaced, Printed: "980.118", Got: 100 * wgs84.at(38.887*degree, 10), Tol: 0.1},                                            // latitude and height from memory; a part in 10 000
		cite.Check{What: "Washington, the later value, Gal", Ref: unplaced, Printed: "980.105", Got: 100 * wgs84.at(38.887*degree, 10), Tol: 0.1},
		cite.Check{What: "Maupertuis in the north of Sweden, s a day gained on Paris", Ref: unplaced, Printed: "59.1", Got: 86400 * (math.Sqrt(seconds(66.8)/seconds(48.8362)) - 1), Tol: 5}, // latitude from memory; a clock of 1736
		cite.Check{What: "gravity at Potosi by the simple formula, as a page has it", Ref: cite.Ref{Place: "a web page"}, Printed: "9.787", Got: wgs84.at(-19.5*degree, 3960), Misprint: true},
	)
}

func periodChecks() []cite.Check {
	gmu, gsl := cite.Ref{Source: "gmu"}, cite.Ref{Source: "gsl", Place: "test_sf.c"}
	var out []cite.Check
	for deg, printed := range map[float64]string{10: "2.00989262729860052", 20: "2.02145125782457619", 30: "2.04098988951913023", 40: "2.06893785189358914",
		50: "2.10593461928364287", 60: "2.15287466688051548", 70: "2.21097618054218626", 80: "2.28188592401963935"} {
		out = append(out, cite.Check{What: fmt.Sprintf("period at %.0f°, 1 m, 9.81 m/s²", deg), Ref: gmu, Printed: printed, Got: float64(solved(Query{Length: meas.Of(unit.Length(1)), Gravity: meas.Of(unit.Acceleration(9.81)), Arc: meas.Of(unit.Deg(deg))}).Arc.Period.Value), Tol: 1e-14})
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

// lossSlope is the loss for a degree more at an arc in degrees, s/day.
func lossSlope(deg float64) float64 { return (lossAt(deg+.01) - lossAt(deg-.01)) / .02 }

func arcChecks() []cite.Check {
	b := func(p string) cite.Ref { return cite.Ref{Source: "beckett", Place: p} }
	eb := cite.Ref{Source: "eb11", Place: "pp. 538–539"}
	return []cite.Check{
		{What: "divisor of the square of the arc in degrees", Ref: eb, Printed: "52520", Got: 16 * math.Pow(180/math.Pi, 2), Tol: 10}, // printed to four figures
		{What: "arc 2° growing by 0.1°, s/day", Ref: eb, Printed: "0.66", Got: lossSlope(2) * 0.1, Tol: 0.005},                        // by the slope at 2°, as it is there
		{What: "loss at 2° against a very small arc, s/day (about 6)", Ref: b("p. 34"), Printed: "6", Got: lossAt(2), Tol: 0.7},       // "about"
		{What: "2.5° against 2°, s/day (rather less than 4)", Ref: b("p. 35"), Printed: "4", Got: lossAt(2.5) - lossAt(2), Tol: 0.4},  // "rather less than"
		{What: "10′ more at 2°, s/day (about 1)", Ref: b("p. 35"), Printed: "1", Got: lossAt(2+1.0/6) - lossAt(2), Tol: 0.2},          // "about"
	}
}

func sortChecks(c []cite.Check) {
	for i := 1; i < len(c); i++ {
		for j := i; j > 0 && c[j].What < c[j-1].What; j-- {
			c[j], c[j-1] = c[j-1], c[j]
		}
	}
}
