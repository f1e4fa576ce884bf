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
		if !sane(a.At) {
			add(fmt.Sprintf("air[%d].at", i), "A reading of the air needs a day and a time")
		}
	}
	if w := q.Wanted; w.Band < 0 || w.Days < 0 || w.Days > 366 || finite(float64(w.Rate), float64(w.Band), w.Days, float64(w.Move.Value)) != nil {
		add("wanted", "What counts as right must be a band above nought and at most 366 days")
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

const most = 400 * 86400 // s, an error beyond which nothing is a clock

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
	if finite(float64(r.Error), float64(r.Rate), r.U, float64(r.Clock)) != nil || math.Abs(float64(r.Error)) > most {
		add("error", "What the clock is wrong by must be a number of seconds")
	}
	if math.Abs(float64(r.Rate)) >= 0.5 {
		add("rate", "A clock does not gain or lose half of the day in a day")
	}
	if r.U < 0 || r.Clock < 0 {
		add("u", "A doubt is not below nought")
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
	if finite(t.Turns, float64(t.Mass), float64(t.Error), float64(t.U)) != nil {
		add("turns", "A touch is measured in numbers")
	}
	if t.Kind == NutTurned && (t.Turns == 0 || math.Abs(t.Turns) > 1000) {
		add("turns", "Say how far the nut was turned: up or down, in turns")
	}
	if t.Kind == OnTray && (t.Mass == 0 || math.Abs(float64(t.Mass)) > 10) {
		add("mass", "Say how much was laid on the tray or taken off")
	}
	if t.U < 0 {
		add("u", "A doubt is not below nought")
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
