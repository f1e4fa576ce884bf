package pendulum

import (
	"math"

	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// CircularError is the rate that a half arc makes against a very small one,
// exact; it is negative, and −1 at half a turn.
func CircularError(arc unit.Angle) unit.Rate { return unit.Rate(1/stretch(float64(arc)) - 1) }

// stretch is the period at a half arc (rad) over the period at a very small
// one: (2/π) K(sin θ/2), exact.
func stretch(arc float64) float64 { return 2 / math.Pi * num.EllipticK(math.Sin(arc/2)) }

// stretchSeries is the same by the series in even powers of the arc; its six
// terms after the 1 are good to 1e-13 up to 20°.
func stretchSeries(arc float64) float64 {
	x := arc * arc
	sum := 0.0
	for i := len(seriesTerms) - 1; i >= 0; i-- {
		sum = (sum + seriesTerms[i]) * x
	}
	return 1 + sum
}

// seriesTerms are the coefficients of θ², θ⁴, … (the first four as printed on
// course pages; all confirmed by an independent expansion).
var seriesTerms = [...]float64{
	1.0 / 16,
	11.0 / 3072,
	173.0 / 737280,
	22931.0 / 1321205760,
	1319183.0 / 951268147200,
	233526463.0 / 2009078326886400,
}
