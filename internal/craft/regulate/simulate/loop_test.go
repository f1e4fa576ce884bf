package simulate_test

import (
	"context"
	"math"
	"os"
	"slices"
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/simulate"
	"seatboard/internal/kit/unit"
)

const (
	band    = 2.0 // s/day
	longest = 90  // days
)

// course is how a clock was brought right by following the advice.
type course struct {
	done    bool
	right   bool    // it is, by the truth: the mean of the week to come
	said    float64 // the chance of it, as stated
	touches int
	days    float64 // until the advice was to leave it
	least   float64 // the bound, 0 where it is never reached
	first   float64 // days until the first touch
}

// regulateIt follows the advice from +3 minutes a day.
func regulateIt(seed uint64, k kind) course {
	r := k.draw(seed)
	r.Rate = unit.RatePerDay(180)
	r.Wanted.Band = unit.RatePerDay(band)
	r.Known.Divisions = 60
	c := simulate.New(r)
	o := course{least: bound(r)}
	var until time.Time
	for c.Now().Sub(r.Begin) < longest*day {
		c.Go(c.NextLook())
		if c.Now().Before(until) {
			continue
		}
		a, err := regulate.Solve(context.Background(), c.Query())
		if err != nil {
			continue
		}
		o.days = c.Now().Sub(r.Begin).Hours() / 24
		switch a.Advice.Do {
		case regulate.Turn:
			if o.touches++; o.touches == 1 {
				o.first = o.days
			}
			c.Turn(float64(a.Advice.Turns.Value))
		case regulate.Leave:
			o.said = a.Advice.AsIs
			o.done, o.right = true, math.Abs(c.Ahead(7*day).Rate.PerDay()) <= band
			return o
		}
		until = a.Advice.Next
	}
	return o
}

// bound is the information bound of bringing a clock right: the least number
// of days that must pass from nothing known until anyone could say of this
// clock, looked at as its keeper does, that its rate is within the band. It
// has two stretches, for the nut must be turned at least twice: what the
// first turn does is known to a tenth, and a tenth of three minutes is more
// than the band. The first ends when the doubt of the rate has come down to
// the doubt of what that turn will do; the second when the 95 % half width of
// the rate is down to the band. The doubt is the bound of Cramér and Rao for
// whoever knows the clock's noise exactly, the effect of the air too, and
// reads at even times: no estimate that must find these out can be quicker on
// average. 0 where even that does not come to the band.
func bound(r simulate.Recipe) float64 {
	spoilt := 180 * math.Hypot(0.1, r.Slip)
	a, b := reach(r, spoilt), reach(r, band/1.96)
	if a == 0 || b == 0 {
		return 0
	}
	return a + b
}

// reach is after how many days the doubt of the rate is down to u s/day. The
// state is error, rate and the error of the recorder's clock; the filter of
// Kalman keeps its variances.
func reach(r simulate.Recipe, u float64) float64 {
	h := r.Habit
	w, q := math.Pow(float64(r.Wander), 2), math.Pow(r.Walk.PerDay(), 2)
	var p [3][3]float64
	p[0][0], p[1][1], p[2][2] = 0.25, 1e6, math.Pow(h.Recorder.PerDay(), 2)
	see, v := [3]float64{1, 0, 0}, math.Pow(float64(h.Scatter), 2)+1.0/12
	if h.How == regulate.ByEar {
		see, v = [3]float64{0, 1, 1}, math.Pow(h.Ear.PerDay(), 2)+w/(h.Listen.Hours()/24)
	}
	dt := 1 / (max(h.PerDay, 1) * (1 - h.Missed))
	for t := dt; t < longest; t += dt {
		a, b, d := p[0][0], p[0][1], p[1][1]
		p[0][0] = a + 2*dt*b + dt*dt*d + w*dt + q*dt*dt*dt/3
		p[0][1] = b + dt*d + q*dt*dt/2
		p[1][1] = d + q*dt
		p[0][2] += dt * p[1][2]
		p[1][0], p[2][0] = p[0][1], p[0][2]
		var g [3]float64
		s := v
		for i := range 3 {
			for j := range 3 {
				g[i] += p[i][j] * see[j]
			}
			s += see[i] * g[i]
		}
		for i := range 3 {
			for j := range 3 {
				p[i][j] -= g[i] * g[j] / s
			}
		}
		if p[1][1] <= u*u {
			return t
		}
	}
	return 0
}

// TestAdviceBringsItRight: from three minutes a day, following the advice
// comes to an end, and the end is right. With SEATBOARD_STUDY it prints
// touches, days and their ratio to the bound.
func TestAdviceBringsItRight(t *testing.T) {
	study := os.Getenv("SEATBOARD_STUDY") != ""
	n := seeds(6)
	done, right := 0, 0
	tried := 0
	for i, k := range kinds() {
		if !study && i%5 != 0 {
			continue
		}
		var touches, days, ratio []float64
		d, ok, said, before := 0, 0, 0.0, tried
		for _, o := range each(n, func(seed uint64) course { return regulateIt(seed+1000*uint64(i), k) }) {
			if o.least == 0 { // nobody could say so of this clock
				continue
			}
			tried++
			if !o.done {
				continue
			}
			d++
			said += o.said
			if o.right {
				ok++
			}
			touches = append(touches, float64(o.touches))
			days = append(days, o.days)
			ratio = append(ratio, o.days/o.least)
		}
		done, right = done+d, right+ok
		if study && d > 0 {
			t.Logf("%s  came to an end %d of %d, right then %.1f %% (stated %.1f); touches %s; days %s; ratio to the bound %s", k, d, tried-before, 100*float64(ok)/float64(d), 100*said/float64(d), quarters(touches), quarters(days), quarters(ratio))
		}
	}
	if float64(done) < 0.8*float64(tried) || float64(right) < 0.5*float64(done) {
		t.Errorf("of %d clocks %d came to an end and %d were right", tried, done, right)
	}
}

// quarters prints the median and the ninth tenth.
func quarters(v []float64) string {
	slices.Sort(v)
	return unit.Number(v[len(v)/2], 1) + " (nine in ten under " + unit.Number(v[len(v)*9/10], 1) + ")"
}
