package unit

import "math"

// Kind names a quantity and knows the units it is written in.
type Kind uint8

// The kinds, one for each quantity type.
const (
	LengthKind Kind = iota
	MassKind
	DurationKind
	AngleKind
	ForceKind
	TorqueKind
	EnergyKind
	PowerKind
	PressureKind
	DensityKind
	AccelerationKind
	TemperatureKind
	TempDiffKind
	RateKind
	ExpansionKind
	PitchKind
	RatioKind
)

// Unit is one way of writing a quantity: SI = x*Factor + Offset, or
// SI = Factor/x where Reciprocal (threads per inch).
type Unit struct {
	Symbol     string // as printed
	Factor     float64
	Offset     float64
	Reciprocal bool
	Names      []string // accepted spellings, lower case, without the symbol
}

// ToSI converts a number written in u.
func (u Unit) ToSI(x float64) float64 {
	if u.Reciprocal {
		return u.Factor / x
	}
	return x*u.Factor + u.Offset
}

// FromSI is the number to write in u for the SI value v.
func (u Unit) FromSI(v float64) float64 {
	if u.Reciprocal {
		return u.Factor / v
	}
	return (v - u.Offset) / u.Factor
}

// kindInfo describes a kind; the first unit is the SI one.
type kindInfo struct {
	name    string // "a length", with its article
	example string
	units   []Unit
}

const degree = math.Pi / 180

// kinds is a constant table, indexed by Kind; it is never written.
var kinds = [...]kindInfo{
	LengthKind: {"a length", "994 mm or 39 1/8 in", []Unit{
		{Symbol: "m", Factor: 1, Names: []string{"metre", "metres", "meter", "meters"}},
		{Symbol: "mm", Factor: 1e-3, Names: []string{"millimetre", "millimetres", "millimeter", "millimeters"}},
		{Symbol: "cm", Factor: 1e-2, Names: []string{"centimetre", "centimetres", "centimeter", "centimeters"}},
		{Symbol: "km", Factor: 1e3, Names: []string{"kilometre", "kilometres"}},
		{Symbol: "µm", Factor: 1e-6, Names: []string{"um", "μm", "micron", "microns", "micrometre", "micrometres"}},
		{Symbol: "in", Factor: inch, Names: []string{`"`, "″", "”", "''", "inch", "inches", "in."}},
		{Symbol: "ft", Factor: foot, Names: []string{"'", "′", "’", "foot", "feet", "ft."}},
		{Symbol: "ligne", Factor: parisLine, Names: []string{"lignes", "line", "lines", "‴"}},
	}},
	MassKind: {"a weight", "5.5 kg or 12 lb", []Unit{
		{Symbol: "kg", Factor: 1, Names: []string{"kilogram", "kilograms", "kilo", "kilos"}},
		{Symbol: "g", Factor: 1e-3, Names: []string{"gram", "grams", "gramme", "grammes"}},
		{Symbol: "mg", Factor: 1e-6},
		{Symbol: "lb", Factor: pound, Names: []string{"lbs", "pound", "pounds", "lb."}},
		{Symbol: "oz", Factor: pound / 16, Names: []string{"ounce", "ounces", "oz."}},
	}},
	DurationKind: {"a time", "8 d or 30 h", []Unit{
		{Symbol: "s", Factor: 1, Names: []string{"sec", "secs", "second", "seconds"}},
		{Symbol: "ms", Factor: 1e-3},
		{Symbol: "µs", Factor: 1e-6, Names: []string{"us", "μs"}},
		{Symbol: "min", Factor: 60, Names: []string{"mins", "minute", "minutes"}},
		{Symbol: "h", Factor: 3600, Names: []string{"hr", "hrs", "hour", "hours"}},
		{Symbol: "d", Factor: day, Names: []string{"day", "days"}},
		{Symbol: "wk", Factor: 7 * day, Names: []string{"week", "weeks"}},
	}},
	AngleKind: {"an angle", "2.5° or 51° 28' 40\" N", []Unit{
		{Symbol: "rad", Factor: 1, Names: []string{"radian", "radians"}},
		{Symbol: "°", Factor: degree, Names: []string{"deg", "degree", "degrees", "º"}},
		{Symbol: "′", Factor: degree / 60, Names: []string{"'", "’", "arcmin"}},
		{Symbol: "″", Factor: degree / 3600, Names: []string{`"`, "”", "''", "arcsec"}},
		{Symbol: "mrad", Factor: 1e-3},
	}},
	ForceKind: {"a force", "54 N or 12 lbf", []Unit{
		{Symbol: "N", Factor: 1, Names: []string{"newton", "newtons"}},
		{Symbol: "kN", Factor: 1e3},
		{Symbol: "mN", Factor: 1e-3},
		{Symbol: "kgf", Factor: standardG, Names: []string{"kp"}},
		{Symbol: "lbf", Factor: poundForce},
	}},
	TorqueKind: {"a torque", "900 N mm or 8 lbf in", []Unit{
		{Symbol: "N m", Factor: 1, Names: []string{"nm", "n·m"}},
		{Symbol: "N mm", Factor: 1e-3, Names: []string{"nmm", "n·mm"}},
		{Symbol: "N cm", Factor: 1e-2, Names: []string{"ncm", "n·cm"}},
		{Symbol: "lbf in", Factor: poundForce * inch, Names: []string{"in lbf", "lbfin", "in lb"}},
		{Symbol: "ozf in", Factor: poundForce / 16 * inch, Names: []string{"in ozf", "in oz"}},
		{Symbol: "kgf cm", Factor: standardG / 100, Names: []string{"kgfcm"}},
	}},
	EnergyKind: {"an energy", "88 µJ", []Unit{
		{Symbol: "J", Factor: 1, Names: []string{"joule", "joules"}},
		{Symbol: "mJ", Factor: 1e-3},
		{Symbol: "µJ", Factor: 1e-6, Names: []string{"uj", "μj"}},
		{Symbol: "nJ", Factor: 1e-9},
	}},
	PowerKind: {"a power", "90 µW", []Unit{
		{Symbol: "W", Factor: 1, Names: []string{"watt", "watts"}},
		{Symbol: "mW", Factor: 1e-3},
		{Symbol: "µW", Factor: 1e-6, Names: []string{"uw", "μw"}},
		{Symbol: "nW", Factor: 1e-9},
	}},
	PressureKind: {"a pressure", "1013 hPa or 29.9 inHg", []Unit{
		{Symbol: "Pa", Factor: 1, Names: []string{"pascal"}},
		{Symbol: "hPa", Factor: 100, Names: []string{"mbar", "mb"}},
		{Symbol: "kPa", Factor: 1e3},
		{Symbol: "MPa", Factor: 1e6, Names: []string{"n/mm2", "n/mm²"}},
		{Symbol: "GPa", Factor: 1e9},
		{Symbol: "mmHg", Factor: 133.322387415, Names: []string{"torr"}},
		{Symbol: "inHg", Factor: 25.4 * 133.322387415, Names: []string{"in hg"}},
	}},
	DensityKind: {"a density", "8400 kg/m³ or 0.41 lb/in³", []Unit{
		{Symbol: "kg/m³", Factor: 1, Names: []string{"kg/m3"}},
		{Symbol: "g/cm³", Factor: 1e3, Names: []string{"g/cm3"}},
		{Symbol: "lb/in³", Factor: pound / (inch * inch * inch), Names: []string{"lb/in3"}},
	}},
	AccelerationKind: {"a gravity", "9.8118 m/s²", []Unit{
		{Symbol: "m/s²", Factor: 1, Names: []string{"m/s2", "m/s^2"}},
		{Symbol: "Gal", Factor: 1e-2, Names: []string{"gal", "cm/s2", "cm/s²"}},
		{Symbol: "mGal", Factor: 1e-5},
		{Symbol: "ft/s²", Factor: foot, Names: []string{"ft/s2"}},
	}},
	TemperatureKind: {"a temperature", "18.5 °C or 65 °F", []Unit{
		{Symbol: "K", Factor: 1, Names: []string{"kelvin"}},
		{Symbol: "°C", Factor: 1, Offset: 273.15, Names: []string{"c", "degc", "ºc", "celsius"}},
		{Symbol: "°F", Factor: 5.0 / 9, Offset: 273.15 - 32*5.0/9, Names: []string{"f", "degf", "ºf", "fahrenheit"}},
	}},
	TempDiffKind: {"a temperature difference", "5 °C", []Unit{
		{Symbol: "K", Factor: 1, Names: []string{"kelvin"}},
		{Symbol: "°C", Factor: 1, Names: []string{"c", "degc", "ºc"}},
		{Symbol: "°F", Factor: 5.0 / 9, Names: []string{"f", "degf", "ºf"}},
	}},
	RateKind: {"a rate", "+3.2 s/d (gaining) or -12 s/d (losing)", []Unit{
		{Symbol: "s/s", Factor: 1},
		{Symbol: "s/d", Factor: 1.0 / day, Names: []string{"s/day", "s a day", "sec/day", "spd"}},
		{Symbol: "min/d", Factor: 60.0 / day, Names: []string{"min/day", "min a day"}},
		{Symbol: "s/wk", Factor: 1.0 / (7 * day), Names: []string{"s/week", "s a week", "sec/week"}},
		{Symbol: "s/h", Factor: 1.0 / 3600, Names: []string{"s/hour", "s an hour"}},
		{Symbol: "ppm", Factor: 1e-6},
	}},
	ExpansionKind: {"an expansion", "11.5 µm/m/K", []Unit{
		{Symbol: "1/K", Factor: 1, Names: []string{"/k", "1/°c", "per k"}},
		{Symbol: "µm/m/K", Factor: 1e-6, Names: []string{"um/m/k", "μm/m/k", "ppm/k", "ppm/°c"}},
		{Symbol: "1/°F", Factor: 9.0 / 5, Names: []string{"/°f", "1/f", "per °f"}},
	}},
	PitchKind: {"a pitch", "0.63 mm or 40 tpi", []Unit{
		{Symbol: "m", Factor: 1},
		{Symbol: "mm", Factor: 1e-3},
		{Symbol: "in", Factor: inch, Names: []string{`"`, "″", "inch"}},
		{Symbol: "tpi", Factor: inch, Reciprocal: true, Names: []string{"threads per inch", "/in", "per inch"}},
	}},
	RatioKind: {"a plain number", "0.35", []Unit{
		{Symbol: "", Factor: 1},
		{Symbol: "%", Factor: 0.01, Names: []string{"percent", "per cent"}},
	}},
}

// Name is the quantity in words with its article: "a length".
func (k Kind) Name() string { return kinds[k].name }

// Example shows how the quantity is written.
func (k Kind) Example() string { return kinds[k].example }

// SI is the unit of the value inside.
func (k Kind) SI() Unit { return kinds[k].units[0] }

// Units lists the units the kind is written in, SI first. The slice must not
// be changed.
func (k Kind) Units() []Unit { return kinds[k].units }
