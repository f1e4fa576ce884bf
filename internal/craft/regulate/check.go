package regulate

import (
	"fmt"
	"math"
	"slices"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Check lists every mistake in a query; fields are "readings[2].error".
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if len(q.Readings) > MaxReadings {
		add("readings", "There are %d readings; at most %d can be reckoned with: take a part of them", len(q.Readings), MaxReadings)
		return f
	}
	if len(q.Touches) > MaxTouches {
		add("touches", "There are %d touches; at most %d can be reckoned with", len(q.Touches), MaxTouches)
		return f
	}
	ids := make(map[int]bool, len(q.Readings))
	for i, r := range q.Readings {
		for _, t := range r.faults() {
			add(fmt.Sprintf("readings[%d].%s", i, t.Field), "%s", t.Text)
		}
		if r.ID <= 0 || ids[r.ID] {
			add(fmt.Sprintf("readings[%d].id", i), "The number %d of a reading must be above nought and not used twice", r.ID)
		}
		ids[r.ID] = true
	}
	for i, t := range q.Touches {
		for _, x := range t.faults() {
			add(fmt.Sprintf("touches[%d].%s", i, x.Field), "%s", x.Text)
		}
	}
	for i, a := range q.Air {
		for _, x := range a.faults() {
			add(fmt.Sprintf("air[%d].%s", i, x.Field), "%s", x.Text)
		}
	}
	f = append(f, q.Known.faults()...)
	f = append(f, q.Wanted.faults()...)
	if !q.Now.IsZero() && !sane(q.Now) {
		add("now", "The moment of the answer needs a day and a time")
	}
	return f
}

// mostRate is a rate beyond which nothing is a clock, s/s: 72 minutes a day.
const mostRate = 0.05

// stated tells that a quantity, where it is set, and its doubt are numbers
// from low to high.
func stated[Q unit.Quantity](r meas.Result[Q], low, high float64) bool {
	return !r.Set || inside(float64(r.Value), low, high) && (!r.HasU || inside(float64(r.U), 0, high-low))
}

// inside is false for what is no number.
func inside(x, low, high float64) bool { return x >= low && x <= high }

func (a Air) faults() meas.Faults {
	var f meas.Faults
	need := func(ok bool, field, text string) {
		if !ok {
			f = append(f, meas.Fault{Field: field, Text: text})
		}
	}
	need(sane(a.At), "at", "A reading of the air needs a day and a time")
	need(stated(a.Temperature, 150, 400), "temperature", "The air of a room has from −73 °C to 76 °C")
	need(stated(a.Pressure, 1e4, 2e5), "pressure", "The air has a pressure from 300 to 1200 hPa")
	need(stated(a.Humidity, 0, 1), "humidity", "A humidity is from 0 to 100 %")
	need(stated(a.Arc, 0, math.Pi/2), "arc", "A half arc is from 0° to 90°")
	need(stated(a.Weight, 0, 1000), "weight", "A weight has from 0 to 100 m still to fall")
	return f
}

func (k Known) faults() meas.Faults {
	var f meas.Faults
	for _, x := range []struct {
		field, what string
		r           meas.Result[unit.Rate]
	}{{"known.per_turn", "One turn of the nut", k.PerTurn}, {"known.per_gram", "One gram on the tray", k.PerGram}, {"known.per_kelvin", "One degree warmer", k.PerKelvin}} {
		if !stated(x.r, -mostRate, mostRate) {
			f = append(f, meas.Fault{Field: x.field, Text: x.what + " does at most 4320 s a day either way"})
		}
	}
	if !stated(k.Lost, 0, 10) {
		f = append(f, meas.Fault{Field: "known.lost", Text: "The lost motion of the nut is from 0 to 10 turns"})
	}
	if k.Divisions < 0 || k.Divisions > 100000 {
		f = append(f, meas.Fault{Field: "known.divisions", Text: "A nut has divisions, or 0 where it has none"})
	}
	return f
}

func (w Wanted) faults() meas.Faults {
	var f meas.Faults
	if !inside(float64(w.Band), 0, 0.5) || !inside(float64(w.Rate), -0.5, 0.5) || w.Days != 0 && !inside(w.Days, soonest, 366) {
		f = append(f, meas.Fault{Field: "wanted", Text: "What counts as right must be a rate, a band above nought, and from an hour to 366 days"})
	}
	if !stated(w.Move, -mostRate, mostRate) {
		f = append(f, meas.Fault{Field: "wanted.move", Text: "By going home a clock gains or loses at most 4320 s a day"})
	}
	return f
}

// sane tells an instant that a trial can have.
func sane(t time.Time) bool { return t.Year() >= 1600 && t.Year() < 3000 }

// finite names the first number that is none.
func finite(x ...float64) error {
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("regulate: %v is not a number", v)
		}
	}
	return nil
}

const most = 400 * 86400.0 // s, an error beyond which nothing is a clock

func (r Reading) faults() meas.Faults {
	var f meas.Faults
	add := func(field, text string) { f = append(f, meas.Fault{Field: field, Text: text}) }
	if !sane(r.At) {
		add("at", "A reading needs a day and a time")
	}
	if !slices.Contains(Hows(), r.How) {
		add("how", fmt.Sprintf("“%s” is not a way to read a clock", r.How))
	}
	if !r.From.IsZero() && (!sane(r.From) || !r.From.Before(r.At)) {
		add("from", "A rate is taken from an earlier instant to a later one")
	}
	if finite(float64(r.Error)) != nil || math.Abs(float64(r.Error)) > most {
		add("error", "What the clock is wrong by must be a number of seconds")
	}
	if !(math.Abs(float64(r.Rate)) <= 0.5) {
		add("rate", "A clock does not gain or lose half of the day in a day")
	}
	if !inside(r.U, 0, most) || !inside(float64(r.Clock), 0, 0.5) {
		add("u", "A doubt is not below nought, and not beyond all clocks")
	}
	return f
}

func (t Touch) faults() meas.Faults {
	var f meas.Faults
	add := func(field, text string) { f = append(f, meas.Fault{Field: field, Text: text}) }
	if !sane(t.At) {
		add("at", "A touch needs a day and a time")
	}
	if !t.Until.IsZero() && t.Until.Before(t.At) {
		add("until", "It cannot end before it began")
	}
	if !slices.Contains(Kinds(), t.Kind) {
		add("kind", fmt.Sprintf("“%s” is not something that is done to a clock on trial", t.Kind))
	}
	if finite(t.Turns, float64(t.Mass)) != nil || !inside(float64(t.Error), -most, most) {
		add("turns", "A touch is measured in numbers")
	}
	if t.Kind == NutTurned && (t.Turns == 0 || math.Abs(t.Turns) > 1000) {
		add("turns", "Say how far the nut was turned: up or down, in turns")
	}
	if t.Kind == OnTray && (t.Mass == 0 || math.Abs(float64(t.Mass)) > 10) {
		add("mass", "Say how much was laid on the tray or taken off")
	}
	if !inside(float64(t.U), 0, most) {
		add("u", "A doubt is not below nought, and not beyond all clocks")
	}
	return f
}

// Text is what the clock was wrong by, in words: "12.0 s fast".
func Text(e unit.Duration) string {
	if e < 0 {
		return seconds(float64(e)) + " slow"
	}
	return seconds(float64(e)) + " fast"
}
