package unit

import "math"

// Quantity is satisfied by every defined quantity of this package.
type Quantity interface {
	~float64
	// Kind tells which quantity it is; it does not depend on the value.
	Kind() Kind
}

// The quantities. The comment names the unit of the float64.
type (
	Length       float64 // metre
	Mass         float64 // kilogram
	Duration     float64 // second
	Angle        float64 // radian
	Force        float64 // newton
	Torque       float64 // newton metre
	Energy       float64 // joule
	Power        float64 // watt
	Pressure     float64 // pascal; also stress and elastic modulus
	Density      float64 // kilogram per cubic metre
	Acceleration float64 // metre per second squared
	Temperature  float64 // kelvin, absolute
	TempDiff     float64 // kelvin, difference
	Rate         float64 // dimensionless; positive when the clock gains
	Expansion    float64 // per kelvin
	Pitch        float64 // metre of advance per turn
	Ratio        float64 // dimensionless
)

func (Length) Kind() Kind       { return LengthKind }
func (Mass) Kind() Kind         { return MassKind }
func (Duration) Kind() Kind     { return DurationKind }
func (Angle) Kind() Kind        { return AngleKind }
func (Force) Kind() Kind        { return ForceKind }
func (Torque) Kind() Kind       { return TorqueKind }
func (Energy) Kind() Kind       { return EnergyKind }
func (Power) Kind() Kind        { return PowerKind }
func (Pressure) Kind() Kind     { return PressureKind }
func (Density) Kind() Kind      { return DensityKind }
func (Acceleration) Kind() Kind { return AccelerationKind }
func (Temperature) Kind() Kind  { return TemperatureKind }
func (TempDiff) Kind() Kind     { return TempDiffKind }
func (Rate) Kind() Kind         { return RateKind }
func (Expansion) Kind() Kind    { return ExpansionKind }
func (Pitch) Kind() Kind        { return PitchKind }
func (Ratio) Kind() Kind        { return RatioKind }

// Exact conversion constants.
const (
	inch       = 0.0254
	foot       = 12 * inch
	parisLine  = 1 / 443.296 // metre; the metre was fixed at 443.296 lignes in 1799
	pound      = 0.45359237
	standardG  = 9.80665
	day        = 86400
	poundForce = pound * standardG
)

// StandardGravity is the conventional 9.80665 m/s² of the kilogram-force.
const StandardGravity Acceleration = standardG

// Day is one mean solar day.
const Day Duration = day

// Weight is the force gravity g exerts on m.
func (m Mass) Weight(g Acceleration) Force { return Force(float64(m) * float64(g)) }

// At is the torque of f on an arm.
func (f Force) At(arm Length) Torque { return Torque(float64(f) * float64(arm)) }

// Over is the work f does over a distance.
func (f Force) Over(d Length) Energy { return Energy(float64(f) * float64(d)) }

// Per is the mean power of e spent in t; t must not be zero.
func (e Energy) Per(t Duration) Power { return Power(float64(e) / float64(t)) }

// Per is the tensile stress of f on a round section of diameter d.
func (f Force) Per(d Length) Pressure {
	return Pressure(float64(f) / (math.Pi / 4 * float64(d) * float64(d)))
}

// PerDay is the rate as seconds gained in a day.
func (r Rate) PerDay() float64 { return float64(r) * day }

// RatePerDay is the rate of a clock that gains s seconds in a day.
func RatePerDay(s float64) Rate { return Rate(s / day) }

// Degrees is the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * 180 / math.Pi }

// Deg is the angle of d degrees.
func Deg(d float64) Angle { return Angle(d * math.Pi / 180) }

// MM is the length in millimetres.
func (l Length) MM() float64 { return float64(l) * 1e3 }

// Millimetres is the length of x millimetres.
func Millimetres(x float64) Length { return Length(x * 1e-3) }

// Inches is the length of x inches.
func Inches(x float64) Length { return Length(x * inch) }
