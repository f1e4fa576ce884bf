package pendulum

import (
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

const degree = math.Pi / 180

// ellipsoid is a reference figure of the earth by its four constants.
type ellipsoid struct {
	name           string
	a, f, gm, spin float64 // m, 1, m³/s², rad/s
	ref            cite.Ref
}

// The two ellipsoids.
var (
	wgs84 = ellipsoid{"wgs84", 6378137, 1 / 298.257223563, 3.986004418e14, 7.292115e-5, cite.Ref{Source: "nga8350", Place: "defining constants, eq. 4-1 and 4-3"}}
	grs80 = ellipsoid{"grs80", 6378137, 1 / 298.257222101, 3.986005e14, 7.292115e-5, cite.Ref{Source: "grs80", Place: "defining constants"}}
)

func findEllipsoid(name string) ellipsoid {
	if name == grs80.name {
		return grs80
	}
	return wgs84
}

// normal is what follows from the constants of an ellipsoid.
type normal struct{ equator, pole, k, m, e2 float64 }

// normal derives gravity at equator and pole (closed formulas of Pizzetti and
// Somigliana, TR8350.2 eq. 3-63 and 3-64; numbering from memory).
func (e ellipsoid) normal() normal {
	b := e.a * (1 - e.f)
	e2 := e.f * (2 - e.f)
	s := math.Sqrt(e2 / (1 - e2)) // second eccentricity
	q0, q1 := bulge(s)
	m := e.spin * e.spin * e.a * e.a * b / e.gm
	ge := e.gm / (e.a * b) * (1 - m - m*s*q1/(6*q0))
	gp := e.gm / (e.a * e.a) * (1 + m*s*q1/(3*q0))
	return normal{ge, gp, b*gp/(e.a*ge) - 1, m, e2}
}

// bulge sums the two functions of the second eccentricity in the formulas,
//
//	q₀ = ((1 + 3/s²) atan s − 3/s)/2    q₀′ = 3 (1 + 1/s²)(1 − atan s/s) − 1,
//
// by their series: the closed forms lose six digits at the earth's s of 0.08.
func bulge(s float64) (q0, q1 float64) {
	sign, power := 1.0, s*s
	for n := 1; n <= 12; n++ {
		d := float64((2*n + 1) * (2*n + 3))
		q0 += sign * 2 * float64(n) / d * power * s
		q1 += sign * 6 / d * power
		sign, power = -sign, power*s*s
	}
	return q0, q1
}

// at is normal gravity at a latitude (rad) and height (m).
func (e ellipsoid) at(latitude, height float64) float64 {
	n := e.normal()
	s2 := math.Pow(math.Sin(latitude), 2)
	g := n.equator * (1 + n.k*s2) / math.Sqrt(1-n.e2*s2)
	h := height / e.a
	return g * (1 - 2*(1+e.f+n.m-2*e.f*s2)*h + 3*h*h)
}

// NormalGravity is gravity on the WGS84 ellipsoid at a latitude, north
// positive, and a height above it, good to about a part in 10 000 of what is
// measured on the ground.
func NormalGravity(latitude unit.Angle, height unit.Length) unit.Acceleration {
	return unit.Acceleration(wgs84.at(float64(latitude), float64(height)))
}

// placeDoubt is how well a place tells its gravity, as a part of gravity.
var placeDoubt = cite.Value[float64]{V: 1e-4, Ref: cite.Ref{Source: "places", Grade: cite.Computed, Note: "observed less normal gravity of twelve places and five pendulum stations"}}

// nowhereDoubt is how well the conventional value tells gravity on earth:
// between 9.780 and 9.832, rectangular.
var nowhereDoubt = cite.Value[float64]{V: 0.0015, Ref: cite.Ref{Source: "nga8350", Place: "equator and pole", Grade: cite.Computed}}
