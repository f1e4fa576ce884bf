package pendulum

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// groundOff is the part of gravity that the ground may be off the ellipsoid
// before a stated gravity and a stated place count as not agreeing: five
// times the doubt of a place.
var groundOff = cite.Value[float64]{V: 5e-4, Ref: cite.Ref{Grade: cite.Memory, Note: "the largest anomalies on earth are about 4 parts in 10 000"}}

const (
	highestClock = 4000.0 // m, of a place whose height was not stated
	twoGravities = 1e-5   // part by which two statements of gravity may differ: half a second a day
)

// compareGravity sets a stated gravity against the stated place, and against
// the other way of stating it.
func (b *bench) compareGravity() {
	q := b.q
	if q.Gravity.Set && q.SecondsPendulum.Set {
		b.twoGravities()
	}
	if q.Gravity.Set || q.SecondsPendulum.Set {
		b.gravityOfPlace(b.N.gravity, q.Latitude, q.Height, "gravity", "latitude")
	}
	if q.ToGravity.Set {
		b.gravityOfPlace(b.N.toGravity, q.ToLatitude, q.ToHeight, "to-gravity", "to-latitude")
	}
}

func (b *bench) twoGravities() {
	g, l := float64(b.q.Gravity.Value), float64(b.q.SecondsPendulum.Value)
	off := math.Sqrt(g/(l*math.Pi*math.Pi)) - 1
	if math.Abs(off) < twoGravities/2 {
		return
	}
	b.Say(meas.Doubt, "two-gravities", fmt.Sprintf("Gravity and the seconds pendulum were both stated, and are %s a day apart; the gravity is used.", unit.Text(unit.Duration(math.Abs(off)*86400), "s", 1)),
		"Leave one of them out.", pendulumRule, "gravity", "seconds-pendulum")
}

// gravityOfPlace says where a gravity is not one of its latitude and height.
func (b *bench) gravityOfPlace(g float64, latitude meas.Reading[unit.Angle], height meas.Reading[unit.Length], fields ...string) {
	if !latitude.Set {
		return
	}
	e := findEllipsoid(b.q.Ellipsoid)
	normal := e.at(float64(latitude.Value), float64(height.Value))
	low, high := normal*(1-groundOff.V), normal*(1+groundOff.V)
	if !height.Set {
		low = e.at(float64(latitude.Value), highestClock) * (1 - groundOff.V)
	}
	if g >= low && g <= high {
		return
	}
	b.Say(meas.Clash, "gravity-and-place", fmt.Sprintf("A gravity of %s was stated, but the place has %s, %s a day apart; the stated one is used.",
		unit.Text(unit.Acceleration(g), "m/s²", 4), unit.Text(unit.Acceleration(normal), "m/s²", 4), inMinutes(math.Abs(math.Sqrt(g/normal)-1))),
		"Look at both again: nowhere is the ground that far from the figure of the earth.", groundOff.Ref, fields...)
}
