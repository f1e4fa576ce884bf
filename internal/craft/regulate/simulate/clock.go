package simulate

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

const (
	day   = 24 * time.Hour
	step  = 30 * time.Minute
	memoT = 5 * 86400.0 // s, memory of the noise of the temperature
	memoP = 3 * 86400.0 // s, of the pressure
)

// Clock is a clock on trial. It is led on by its methods, which append to
// what its keeper has written down.
type Clock struct {
	r     Recipe
	goes  rand.PCG // what clock and air do
	looks rand.PCG // what whoever looks does

	now        time.Time
	x          float64 // error, s
	base       float64 // rate without nut and air
	nut, screw float64 // turns since Begin; screw is what the bob follows
	warm       float64 // noise of the temperature, K
	press      float64 // pressure above its mean, Pa
	phase      float64 // of the weather wave
	recorder   float64 // error of the recorder's clock

	plan    []time.Time // looks to come today
	day     time.Time   // of which day
	logged  time.Time   // last reading of the logger
	id      int
	q       regulate.Query
	planted []Planted
}

// Planted is a mistake that nobody wrote down.
type Planted struct {
	Kind    regulate.Doubtful
	Reading int // that is wrong, 0 for something done to the clock
	At      time.Time
	Error   unit.Duration // by which readings are off
	Rate    unit.Rate     // by which the rate changed
}

// New puts a clock on trial: its hands were set at Begin.
func New(r Recipe) *Clock {
	c := &Clock{r: r, goes: *rand.NewPCG(r.Seed, 1), looks: *rand.NewPCG(r.Seed, 2), now: r.Begin, x: float64(r.Error), base: float64(r.Rate)}
	c.phase = 2 * math.Pi * uniform(&c.goes)
	c.warm = r.Room.Noise * normal(&c.goes)
	c.press = float64(r.Room.Barometer) * normal(&c.goes)
	c.screw = -r.Lost * uniform(&c.goes)
	c.base -= float64(r.PerTurn) * c.screw
	c.recorder = float64(r.Habit.Recorder) * normal(&c.looks)
	c.day = r.Begin.Truncate(day)
	c.planDay()
	c.q.Known, c.q.Wanted = r.Known, r.Wanted
	c.touch(regulate.Touch{Kind: regulate.HandsSet, HasError: true, Error: unit.Duration(c.x + 0.5*normal(&c.looks)), U: 0.5})
	return c
}

func normal(p *rand.PCG) float64  { return rand.New(p).NormFloat64() }
func uniform(p *rand.PCG) float64 { return rand.New(p).Float64() }

// Now is the instant that the clock was led on to.
func (c *Clock) Now() time.Time { return c.now }

// Fork is a second clock that goes on from here as this one would.
func (c *Clock) Fork() *Clock {
	f := *c
	f.plan = slices.Clone(c.plan)
	f.planted = slices.Clone(c.planted)
	f.q.Readings, f.q.Touches, f.q.Air = slices.Clone(c.q.Readings), slices.Clone(c.q.Touches), slices.Clone(c.q.Air)
	return &f
}

// Advance lets time pass. Only a logger reads meanwhile.
func (c *Clock) Advance(until time.Time) {
	for c.now.Before(until) {
		dt := min(step, until.Sub(c.now))
		if log := c.r.Room.Thermometer.Logged; log > 0 {
			due := c.logged.Add(log)
			if !c.now.Before(due) {
				c.logged = c.now
				if uniform(&c.looks) >= c.r.Room.Thermometer.Gaps {
					c.air()
				}
				due = c.now.Add(log)
			}
			dt = min(dt, due.Sub(c.now))
		}
		c.pass(dt)
	}
}

// pass is one step.
func (c *Clock) pass(d time.Duration) {
	dt := d.Seconds()
	days := dt / 86400
	c.now = c.now.Add(d / 2)
	rate := c.rate() // in the middle
	c.now = c.now.Add(d - d/2)
	walk := float64(c.r.Walk)*math.Sqrt(days)*normal(&c.goes) + float64(c.r.Drift)*days
	c.x += (rate+walk/2)*dt + float64(c.r.Wander)*math.Sqrt(days)*normal(&c.goes)
	c.base += walk
	c.warm = remember(&c.goes, c.warm, c.r.Room.Noise, dt/memoT)
	c.press = remember(&c.goes, c.press, float64(c.r.Room.Barometer), dt/memoP)
}

// remember leads a noise with a memory on.
func remember(p *rand.PCG, v, scatter, part float64) float64 {
	keep := math.Exp(-part)
	return keep*v + scatter*math.Sqrt(1-keep*keep)*normal(p)
}

// rate is what the clock does now, wander left out.
func (c *Clock) rate() float64 {
	return c.base + float64(c.r.PerTurn)*c.screw + float64(c.r.PerKelvin)*(c.temperature()-float64(c.r.Room.Mean)) + float64(c.r.PerHPa)*c.press/100
}

// temperature is that of the room now, K.
func (c *Clock) temperature() float64 {
	room := c.r.Room
	hour := c.now.Sub(c.now.Truncate(day)).Hours()
	t := float64(room.Mean) + room.Daily*math.Cos(2*math.Pi*(hour-15)/24) + c.warm
	if room.Period > 0 {
		t += room.Weather * math.Cos(2*math.Pi*float64(c.now.Sub(c.r.Begin))/float64(room.Period)+c.phase)
	}
	return t
}

// touch writes down what was done now.
func (c *Clock) touch(t regulate.Touch) {
	c.id++
	t.ID, t.At = c.id, c.now
	c.q.Touches = append(c.q.Touches, t)
}

// Turn turns the nut, up positive, and writes it down.
func (c *Clock) Turn(turns float64) {
	c.turn(turns)
	c.touch(regulate.Touch{Kind: regulate.NutTurned, Turns: turns})
}

func (c *Clock) turn(turns float64) {
	c.nut += turns*(1+c.r.Slip*normal(&c.goes)) + c.r.Setting*normal(&c.goes)
	c.screw = min(max(c.screw, c.nut-c.r.Lost), c.nut)
	c.x += float64(c.r.Jolt) * normal(&c.goes)
}

// Set sets the hands to a known error and writes it down; they come to stand
// within half a second of it.
func (c *Clock) Set(to unit.Duration) {
	c.x = float64(to) + 0.5*normal(&c.looks)
	c.touch(regulate.Touch{Kind: regulate.HandsSet, HasError: true, Error: to, U: 0.5})
}

// Stand lets the clock stand from now for so long, and writes it down.
func (c *Clock) Stand(d time.Duration) {
	from, x := c.now, c.x
	c.Advance(c.now.Add(d))
	c.x = x - d.Seconds()
	c.id++
	c.q.Touches = append(c.q.Touches, regulate.Touch{ID: c.id, Kind: regulate.Stopped, At: from, Until: c.now})
}

// Query is what the keeper knows now.
func (c *Clock) Query() regulate.Query {
	q := c.Fork().q
	q.Now = c.now
	return q
}

// Planted lists the mistakes made so far that nobody wrote down.
func (c *Clock) Planted() []Planted { return slices.Clone(c.planted) }

// Truth is how the clock is.
type Truth struct {
	At          time.Time
	Error       unit.Duration
	Rate        unit.Rate // in the air of now; of a week, its mean
	Temperature unit.Temperature
}

// Truth is how the clock is now.
func (c *Clock) Truth() Truth {
	return Truth{At: c.now, Error: unit.Duration(c.x), Rate: unit.Rate(c.rate()), Temperature: unit.Temperature(c.temperature())}
}

// Ahead is how the clock will be after so long, as it stands, and the mean
// rate and temperature of the time until then.
func (c *Clock) Ahead(d time.Duration) Truth {
	f := c.Fork()
	f.r.Room.Thermometer.Logged = 0
	sum, n := 0.0, 0.0
	for end := c.now.Add(d); f.now.Before(end); n++ {
		f.pass(min(step, end.Sub(f.now)))
		sum += f.temperature()
	}
	return Truth{At: f.now, Error: unit.Duration(f.x), Rate: unit.Rate((f.x - c.x) / d.Seconds()), Temperature: unit.Temperature(sum / n)}
}

// InAir is the rate of now with the room at another temperature.
func (c *Clock) InAir(t unit.Temperature) unit.Rate {
	return unit.Rate(c.rate() + float64(c.r.PerKelvin)*(float64(t)-c.temperature()))
}
