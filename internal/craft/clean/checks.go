package clean

import (
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Checks compares what sources print in two units, and in two sources, with
// what follows here: the table is as it was printed.
func Checks() []cite.Check {
	out := []cite.Check{
		{What: "flash point of ethanol, 55 °F, in °C", Ref: cite.Ref{Source: "npg", Place: "0262"}, Printed: "12.8", Got: celsius(unit.From[unit.Temperature](55, "°F"))},
		{What: "flash point of 2-propanol, 53 °F, in °C", Ref: cite.Ref{Source: "npg", Place: "0359"}, Printed: "11.7", Got: celsius(unit.From[unit.Temperature](53, "°F"))},
		{What: "flash point taken for ethanol, the lower of IEC and NFPA, °C", Ref: cite.Ref{Source: "chedl", Place: "64-17-5"}, Printed: "12", Got: flashOf("ethanol")},
		{What: "flash point taken for n-heptane, the lower of IEC and NFPA, °C", Ref: cite.Ref{Source: "chedl", Place: "142-82-5"}, Printed: "-7", Got: flashOf("n-heptane")},
		{What: "ammonia, 50 ppm at 25 °C in mg/m³", Ref: cite.Ref{Source: "oshacsi", Place: "ammonia"}, Printed: "35", Got: 50 * ammoniaMolar / molarVolume},
	}
	for _, a := range Luminous() {
		printed, symbol, _ := strings.Cut(a.Becquerels, " ")
		out = append(out, cite.Check{What: a.What + ", " + a.Curies + " in " + symbol, Ref: a.Ref, Printed: printed, Got: becquerels(a.Curies) / prefix(symbol)})
	}
	return out
}

const (
	curie        = 3.7e10 // becquerels, exact
	ammoniaMolar = 17.031 // g/mol
	molarVolume  = 24.45  // l/mol at 25 °C and 1 atm, as limits at work are converted
)

func celsius(t unit.Temperature) float64 { return unit.In(t, "°C") }

func flashOf(name string) float64 {
	s, _ := FindSubstance(name)
	return celsius(s.Flash)
}

// becquerels is an activity printed in curies.
func becquerels(s string) float64 {
	n, symbol, _ := strings.Cut(s, " ")
	x, err := strconv.ParseFloat(n, 64)
	if err != nil {
		panic(err) // the program's own table
	}
	return x * curie * prefix(symbol)
}

// prefix is the power of ten before a unit.
func prefix(symbol string) float64 {
	switch symbol {
	case "µCi":
		return 1e-6
	case "mCi":
		return 1e-3
	case "kBq":
		return 1e3
	case "MBq":
		return 1e6
	}
	return 1
}
