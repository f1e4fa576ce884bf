package tap

import (
	"fmt"
	"math"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Way is what was tapped at.
type Way string

// The ways.
const (
	Seconds Way = "seconds" // the seconds hand as it comes round to a mark, once a minute or so
	InBeat  Way = "beat"    // along with the steps of the seconds hand, or with the ticking
	Minutes Way = "minutes" // the minute hand as it creeps onto a mark
	Blow    Way = "blow"    // the first blow of the hour
)

// Ways lists them.
func Ways() []Way { return []Way{Seconds, InBeat, Minutes, Blow} }

// Words says the way on a page.
func (w Way) Words() string {
	switch w {
	case Seconds:
		return "seconds hand at a mark"
	case InBeat:
		return "along with the beat"
	case Minutes:
		return "minute hand at a mark"
	case Blow:
		return "first blow of the hour"
	}
	return string(w)
}

// Limits of a question.
const (
	MaxTaps = 1000
	MaxSpan = unit.Duration(6 * 3600)
)

// dial is how long the hands take to come round.
const dial = 12 * 3600.0

// Query is a row of taps.
type Query struct {
	Taps  []unit.Duration            `json:"taps"`  // after Start, as they came
	Start time.Time                  `json:"start"` // true time, in the zone that the dial is to show
	Way   Way                        `json:"way"`
	Every unit.Duration              `json:"every"` // on the dial from one mark to the next
	Shown meas.Result[unit.Duration] `json:"shown"` // by the dial at the first tap's mark, after twelve
	Near  meas.Result[unit.Duration] `json:"near"`  // what the clock is thought to be wrong by, fast positive
	Beat  unit.Duration              `json:"beat"`  // of the pendulum; 0 where not known
	Lag   meas.Result[unit.Duration] `json:"lag"`   // how late this person taps by habit; wins
	Host  unit.Duration              `json:"host"`  // standard uncertainty of Start
}

// Check returns every mistake in the query; fields are those of its JSON.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	q.checkTaps(add)
	if q.Start.Year() < 1900 || q.Start.Year() > 3000 {
		add("start", "The time of the taps is not stated")
	}
	if !within(q.Every, 0.5, 3600) {
		add("every", "The marks must be between half a second and an hour apart")
	} else if n := dial / float64(q.Every); !q.Shown.Set && math.Abs(n-math.Round(n)) > 1e-9*n {
		add("shown", "Marks %s apart do not divide twelve hours: say what the dial showed at the first tap", unit.Text(q.Every, "s", 3))
	}
	if q.Shown.Set && !(q.Shown.Value >= 0 && q.Shown.Value < dial && within(q.Shown.U, 0, dial)) {
		add("shown", "What the dial showed must be a time of twelve hours, like 9:14:00")
	}
	if q.Near.Set && !(within(q.Near.Value, -dial/2, dial/2) && within(q.Near.U, 0, dial)) {
		add("near", "What the clock is thought to be wrong by must be under six hours")
	}
	if !within(q.Beat, 0, 10) {
		add("beat", "A beat must be between 0 and 10 s")
	}
	if q.Lag.Set && !(within(q.Lag.Value, -1, 1) && within(q.Lag.U, 0, 1)) {
		add("lag", "How late the taps are by habit must be between −1 s and 1 s")
	}
	if !within(q.Host, 0, 3600) {
		add("host", "The doubt of the time of day must be between 0 and an hour")
	}
	return f
}

func (q Query) checkTaps(add func(field, format string, a ...any)) {
	switch n := len(q.Taps); {
	case n == 0:
		add("taps", "There are no taps")
		return
	case n > MaxTaps:
		add("taps", "There are %d taps; %d are the most", n, MaxTaps)
		return
	}
	for i, t := range q.Taps {
		if !within(t, -MaxSpan, MaxSpan) || t-q.Taps[0] > MaxSpan {
			add("taps", "Tap %d is more than six hours from the start", i+1)
			return
		}
		if i > 0 && t < q.Taps[i-1] {
			add("taps", "Tap %d comes before the one before it", i+1)
			return
		}
	}
	for _, w := range Ways() {
		if w == q.Way {
			return
		}
	}
	add("way", "Say what was tapped at: the seconds hand, the beat, the minute hand or the blow")
}

// within is false for what is no number.
func within(x unit.Duration, low, high unit.Duration) bool { return x >= low && x <= high }
