package simulate

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Go lets time pass until then, with the looks that the keeper's habit has.
func (c *Clock) Go(until time.Time) {
	for {
		at := c.NextLook()
		if at.After(until) {
			break
		}
		c.plan = c.plan[1:]
		c.Advance(at)
		c.Look()
	}
	c.Advance(until)
}

// NextLook is when the habit has the next look.
func (c *Clock) NextLook() time.Time {
	for len(c.plan) == 0 || c.plan[0].Before(c.now) {
		if len(c.plan) > 0 {
			c.plan = c.plan[1:]
			continue
		}
		c.day = c.day.Add(day)
		c.planDay()
	}
	return c.plan[0]
}

// planDay draws the looks of the day, and what happens on it unnoted.
func (c *Clock) planDay() {
	g, h := rand.New(&c.looks), c.r.Habit
	if g.Float64() < h.Missed {
		return
	}
	n := int(h.PerDay + g.Float64()) // on average as often as the habit says
	for range max(n, 1) {
		hour := h.From + (h.To-h.From)*g.Float64()
		c.plan = append(c.plan, c.day.Add(time.Duration(hour*float64(time.Hour))).Truncate(time.Second))
	}
	slices.SortFunc(c.plan, time.Time.Compare)
}

// Look is one look as the habit has it: the clock, and perhaps the
// thermometer.
func (c *Clock) Look() {
	c.happen()
	if uniform(&c.looks) < c.r.Room.Thermometer.Looked {
		c.air()
	}
	if c.r.Habit.How == regulate.ByEar {
		c.Listen()
		return
	}
	c.Read()
}

// air reads the thermometer.
func (c *Clock) air() {
	th := c.r.Room.Thermometer
	a := regulate.Air{At: c.now, Temperature: meas.Result[unit.Temperature]{
		Value: unit.Temperature(c.temperature() + th.U*normal(&c.looks)), U: unit.Temperature(th.U), HasU: true, Set: true,
	}}
	if th.Barometer {
		a.Pressure = meas.Result[unit.Pressure]{Value: unit.Pressure(101325 + c.press + 50*normal(&c.looks)), U: 50, HasU: true, Set: true}
	}
	c.q.Air = append(c.q.Air, a)
}

// Read reads the hands now, by eye or tap, with the mistakes of the recipe.
func (c *Clock) Read() regulate.Reading {
	h := c.r.Habit
	seen := c.x + float64(h.Scatter)*normal(&c.looks)
	u := float64(h.Scatter)
	if h.Whole {
		seen, u = math.Round(seen), math.Hypot(u, 1/math.Sqrt(12))
	}
	if h.Unsaid {
		u = 0
	}
	c.id++
	off, kind := c.mistake()
	if kind != "" {
		c.planted = append(c.planted, Planted{Kind: kind, Reading: c.id, At: c.now, Error: unit.Duration(off)})
	}
	r := regulate.Reading{ID: c.id, At: c.now, How: h.How, Error: unit.Duration(seen + off), U: u}
	c.q.Readings = append(c.q.Readings, r)
	return r
}

// mistake draws by how much a reading is off.
func (c *Clock) mistake() (float64, regulate.Doubtful) {
	g, m := rand.New(&c.looks), c.r.Mistakes
	sign := 1 - 2*float64(g.IntN(2))
	v := g.Float64()
	for _, k := range []struct {
		chance, off float64
		kind        regulate.Doubtful
	}{
		{m.Stray, math.Round(float64(c.r.Habit.Scatter) * (10 + 30*g.Float64())), regulate.Stray},
		{m.Minute, 60 * float64(1+g.IntN(2)), regulate.WrongMinute},
		{m.HalfDay, 43200, regulate.HalfDay},
		{m.Summer, 3600, regulate.SummerTime},
	} {
		if v < k.chance {
			return sign * k.off, k.kind
		}
		v -= k.chance
	}
	return 0, ""
}

// Listen listens from now for as long as the habit says and reads the rate.
func (c *Clock) Listen() regulate.Reading {
	h := c.r.Habit
	from, x := c.now, c.x
	c.Advance(c.now.Add(h.Listen))
	rate := (c.x-x)/h.Listen.Seconds() + float64(h.Ear)*normal(&c.looks) + c.recorder
	u := float64(h.Ear)
	if h.Unsaid {
		u = 0
	}
	c.id++
	r := regulate.Reading{ID: c.id, From: from, At: c.now, How: regulate.ByEar, Rate: unit.Rate(rate), U: u, Clock: h.Recorder}
	c.q.Readings = append(c.q.Readings, r)
	return r
}

// happen does what is done on a day with nobody writing it down.
func (c *Clock) happen() {
	g, m := rand.New(&c.looks), c.r.Mistakes
	often := max(c.r.Habit.PerDay, 1) * (1 - c.r.Habit.Missed)
	sign := 1 - 2*float64(g.IntN(2))
	size := g.Float64()
	v := g.Float64() * often
	at := c.now
	switch {
	case v < m.Set:
		by := sign * math.Round(15+200*size)
		c.x += by
		c.planted = append(c.planted, Planted{Kind: regulate.SetUnnoted, At: at, Error: unit.Duration(by)})
	case v < m.Set+m.Turned:
		before := c.rate()
		c.turn(sign * (0.3 + size))
		c.planted = append(c.planted, Planted{Kind: regulate.RateUnnoted, At: at, Rate: unit.Rate(c.rate() - before)})
	case v < m.Set+m.Turned+m.StoodFor:
		by := -float64(time.Duration((0.5+5*size)*float64(time.Hour)) / time.Second)
		c.x += by // it stood before this look
		c.planted = append(c.planted, Planted{Kind: regulate.SetUnnoted, At: at, Error: unit.Duration(by)})
	}
}
