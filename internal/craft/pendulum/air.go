package pendulum

import (
	"math"

	"seatboard/internal/kit/cite"
)

// cipm is the formula for the density of moist air of CIPM-2007.
var cipm = cite.Ref{Source: "cipm2007", Grade: cite.Memory, Note: "constants from memory, five values checked"}

// airDensity is the density of moist air (kg/m³) at a temperature (K),
// pressure (Pa) and relative humidity (0 to 1) by CIPM-2007, for 600 to
// 1100 hPa and 15 to 27 °C; outside those it is a little less good.
func airDensity(temp, pressure, humidity float64) float64 {
	t := temp - 273.15
	psv := math.Exp(1.2378847e-5*temp*temp - 1.9121316e-2*temp + 33.93711047 - 6.3431645e3/temp)
	f := 1.00062 + 3.14e-8*pressure + 5.6e-7*t*t
	xv := humidity * f * psv / pressure
	pt := pressure / temp
	z := 1 - pt*(1.58123e-6-2.9331e-8*t+1.1043e-10*t*t+(5.707e-6-2.051e-8*t)*xv+(1.9898e-4-2.376e-6*t)*xv*xv) +
		pt*pt*(1.83e-11-0.765e-8*xv*xv)
	return dryAir / gasConstant * pt / z * (1 - xv*(1-water/dryAir))
}

// Molar masses (kg/mol) of dry air with 400 ppm of carbon dioxide and of
// water, and the gas constant (J/mol/K) that CIPM-2007 was written with.
const (
	dryAir      = 28.96546e-3
	water       = 18.01528e-3
	gasConstant = 8.314472
)

// hectopascal and inHg in pascal.
const (
	hectopascal = 100.0
	inHg        = 25.4 * 133.322387415
)

// buoyancy is the rate that the air's buoyancy alone makes at a pressure,
// against no air; the whole pendulum is taken to be of the bob's density.
func (n numbers) buoyancy(pressure float64) float64 {
	return -airDensity(n.temp, pressure, n.humidity) / (2 * n.density())
}
