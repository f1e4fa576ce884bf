package simulate

import (
	"math"
	"math/rand/v2"
	"time"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Recipe says what a clock is and does, and how it is looked at.
type Recipe struct {
	Seed  uint64
	Begin time.Time

	Error  unit.Duration // at Begin, fast positive
	Rate   unit.Rate     // at Begin, at the mean of the room
	Wander unit.Duration // scatter of the error after a day, beyond its rate
	Walk   unit.Rate     // scatter of the rate after a day
	Drift  unit.Rate     // by which the rate changes in a day

	PerTurn   unit.Rate // one turn of the nut up
	Slip      float64   // scatter of what a turn does, as a part of it
	Setting   float64   // turns, scatter of how far it is turned
	Lost      float64   // turns of lost motion
	Jolt      unit.Duration
	PerKelvin unit.Rate
	PerHPa    unit.Rate

	Room     Room
	Habit    Habit
	Mistakes Mistakes
	Known    regulate.Known // what is held beforehand
	Wanted   regulate.Wanted
}

// Room is the air about the clock.
type Room struct {
	Mean        unit.Temperature
	Daily       float64       // K, half of the daily wave, highest at three in the afternoon
	Weather     float64       // K, half of the weather wave
	Period      time.Duration // of the weather wave
	Noise       float64       // K
	Barometer   unit.Pressure // scatter of the pressure
	Thermometer Thermometer
}

// Thermometer says how the temperature is read.
type Thermometer struct {
	Looked    float64       // chance that it is read when the clock is
	Logged    time.Duration // how often a logger reads it; 0 for none
	U         float64       // K, scatter of a reading
	Gaps      float64       // chance that a logger's reading is lost
	Barometer bool          // it reads the pressure too
}

// Habit says how the clock is looked at.
type Habit struct {
	How      regulate.How
	PerDay   float64       // looks on a day that has any, one at the least
	Missed   float64       // chance of a day without
	From, To float64       // hours of the day
	Scatter  unit.Duration // of a reading by hand or tap
	Whole    bool          // rounded to the second
	Listen   time.Duration // how long by ear
	Ear      unit.Rate     // scatter of a rate by ear
	Recorder unit.Rate     // scatter of the recorder's clock, common to all
	Unsaid   bool          // the doubt is not stated
}

// Mistakes says how often something goes wrong with nobody knowing.
type Mistakes struct {
	Stray    float64 // chance that a reading is far off
	Minute   float64 // that it is one or two minutes off
	HalfDay  float64 // that it is twelve hours off
	Summer   float64 // that it is one hour off
	Set      float64 // chance in a day that the hands are set
	Turned   float64 // that the nut is turned
	StoodFor float64 // that it stands for some hours
}

// Rod is what the pendulum hangs by.
type Rod string

// The rods.
const (
	Steel       Rod = "steel"
	Wood        Rod = "wood"
	Invar       Rod = "invar"
	Compensated Rod = "compensated"
)

// Rods lists them.
func Rods() []Rod { return []Rod{Steel, Wood, Invar, Compensated} }

// kelvin is the rate for a kelvin by the rod, −α/2, with its doubt: that of
// the material's span, or for a compensated one a twentieth of steel's.
func (r Rod) kelvin() meas.Result[unit.Rate] {
	steel, _ := pendulum.FindMaterial(string(Steel))
	if r == Compensated {
		return doubted(0, float64(steel.Expansion)/2/20)
	}
	m, _ := pendulum.FindMaterial(string(r))
	return doubted(-float64(m.Expansion)/2, float64(m.ExpansionSpan[1]-m.ExpansionSpan[0])/math.Sqrt(12)/2)
}

func doubted(v, u float64) meas.Result[unit.Rate] {
	return meas.Result[unit.Rate]{Value: unit.Rate(v), U: unit.Rate(u), HasU: true, Set: true}
}

// Draw draws a clock that was put together lately, within two minutes a day
// of right: anything between a regulator and a thirty-hour clock, so that the
// quietest walks a hundred times less than the most restless. Someone looks at
// it once to three times a day. The recipe has no mistakes. With backlash the
// nut has up to a third of a turn of lost motion, and its keeper does not know
// how much.
func Draw(seed uint64, rod Rod, backlash bool, how regulate.How) Recipe {
	g := rand.New(rand.NewPCG(seed, 0x5eed))
	between := func(low, high float64) float64 { return low + (high-low)*g.Float64() }
	about := func(low, high float64) float64 { return math.Exp(between(math.Log(low), math.Log(high))) }
	r := Recipe{
		Seed:    seed,
		Begin:   time.Date(2025, 3, 3, 8, 0, 0, 0, time.UTC).AddDate(0, 0, g.IntN(300)),
		Rate:    unit.RatePerDay(between(-120, 120)),
		Setting: about(0.01, 0.03),
		Wander:  unit.Duration(about(0.05, 2)),
		Walk:    unit.RatePerDay(about(0.01, 1)),
		Drift:   unit.RatePerDay(0.02 * g.NormFloat64()),
		Slip:    about(0.02, 0.1),
		Jolt:    unit.Duration(about(0.05, 0.5)),
		Room: Room{
			Mean: unit.Temperature(273.15 + between(12, 22)), Daily: between(0.3, 2.5), Weather: between(0.5, 3),
			Period: time.Duration(between(4, 10) * 24 * float64(time.Hour)), Noise: between(0.3, 1.5), Barometer: 800,
			Thermometer: Thermometer{Looked: between(0.7, 1), U: 0.3},
		},
		Habit: Habit{
			How: how, PerDay: between(1, 3), Missed: between(0, 0.2), From: 7, To: 22,
			Scatter: unit.Duration(between(0.3, 1)), Whole: true, Listen: time.Duration(between(10, 60) * float64(time.Minute)),
			Ear: unit.RatePerDay(about(0.1, 1)), Recorder: unit.RatePerDay(about(0.1, 1)),
		},
		PerHPa: unit.RatePerDay(between(-0.012, 0)),
	}
	if how == regulate.ByTap {
		r.Habit.Scatter, r.Habit.Whole = unit.Duration(between(0.03, 0.1)), false
	}
	kelvin := rod.kelvin()
	turn := unit.RatePerDay(about(20, 90))
	r.Known.PerTurn = doubted(float64(turn), 0.1*float64(turn))
	r.Known.PerKelvin = kelvin
	r.PerTurn = turn + r.Known.PerTurn.U*unit.Rate(g.NormFloat64())
	r.PerKelvin = kelvin.Value + kelvin.U*unit.Rate(g.NormFloat64())
	if backlash {
		r.Lost = between(0, 1.0/3)
	} else {
		r.Known.Lost = meas.Result[unit.Ratio]{HasU: true, Set: true} // a nut that is known to have none
	}
	return r
}
