package stops

import (
	"fmt"
	"math"
	"time"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Limits of a question.
const (
	MaxStops   = 40
	MaxTouches = regulate.MaxTouches
	least      = 3 // stops before anything is tested
)

// Query is the stops of one clock and what is known of it. Only the stops are
// needed; what is not stated is not tested. Times of day are the clock's own
// civil time, in the location that the instants carry.
type Query struct {
	Stops    []Stop                      `json:"stops"`
	Train    *train.Query                `json:"train,omitempty"`   // its counts
	Drive    *drive.Query                `json:"drive,omitempty"`   // its weight and case
	Run      meas.Reading[unit.Duration] `json:"run"`               // from wound to down; else of drive or train
	Strikes  Strikes                     `json:"strikes,omitempty"` // "" where not stated
	Counts   train.Counting              `json:"counts,omitempty"`  // what counts the blows; "" for what Train says
	Touches  []regulate.Touch            `json:"touches,omitempty"` // what was done to it meanwhile
	Readings []regulate.Reading          `json:"readings,omitempty"`
	Air      []regulate.Air              `json:"air,omitempty"`
	Since    time.Time                   `json:"since,omitzero"` // the trial began; the first thing known where zero
	Dial     int                         `json:"dial,omitempty"` // hours in one turn of the hour hand, 12 or 24; 0 for those of Train, else 12
}

// turn is one turn of the hour hand, in s.
func (q Query) turn() float64 {
	if q.Dial == 24 || q.Dial == 0 && q.Train != nil && q.Train.DialHours == 24 {
		return 24 * 3600
	}
	return 12 * 3600
}

// Strikes says what the clock strikes.
type Strikes string

// The strikes.
const (
	StrikesNothing Strikes = "nothing"
	StrikesHours   Strikes = "hours"
	StrikesHalves  Strikes = "halves" // hours and halves
)

// The states of the strike in a clock found standing.
const (
	AtRest   = "at rest"
	Warned   = "warned"
	Striking = "striking"
	NotKnown = "not known"
)

// Stop is a clock found standing. What was not looked at is zero or not Set.
type Stop struct {
	ID       int                           `json:"id"`
	Hands    Hands                         `json:"hands"`
	U        unit.Duration                 `json:"u"`              // doubt of the minute hand's place; 0 for half a minute
	Found    time.Time                     `json:"found,omitzero"` // when it was found
	Going    time.Time                     `json:"going,omitzero"` // when it was last seen going
	Wound    time.Time                     `json:"wound,omitzero"` // when it was wound last before
	Weight   meas.Result[unit.Length]      `json:"weight"`         // its bottom above the floor of the case
	Strike   string                        `json:"strike,omitempty"`
	Room     meas.Result[unit.Temperature] `json:"room"`
	Set      Setting                       `json:"set"`                // of the hands, since the stop before
	Pendulum string                        `json:"pendulum,omitempty"` // what was seen of it
	Words    string                        `json:"words,omitempty"`
}

// Setting says how the hands were moved against the train between the stop
// before and this one. The zero Setting is "as the touches say, else left".
type Setting struct {
	How string                     `json:"how,omitempty"`
	By  meas.Result[unit.Duration] `json:"by"` // of "by": forwards positive, ±
}

// The ways of Setting.
const (
	Left  = "left"    // the hands were not moved
	By    = "by"      // by so much
	Moved = "unknown" // moved, and nobody knows how far
)

// Hands is where the hands stand.
type Hands struct {
	Hour   int                        `json:"hour"`   // 0 to 24; of a dial of twelve hours 13 is 1
	Minute float64                    `json:"minute"` // 0 to under 60
	Second meas.Result[unit.Duration] `json:"second"` // of a seconds hand, 0 to under 60 s
}

const (
	usualRead = 30.0 // s, doubt of the minute hand read by eye
	secondU   = 0.5  // s, of a seconds hand
)

// Dial is the place in seconds from twelve, by hour and minute hand; of a
// dial of 24 hours from midnight.
func (h Hands) Dial() float64 { return float64(h.Hour)*3600 + h.Minute*60 }

// doubt is that of the minute hand, in s.
func (s Stop) doubt() float64 {
	if s.U > 0 {
		return float64(s.U)
	}
	return usualRead
}

// Check returns every mistake in the query. Fields of a stop are
// "stops.2.hands" with the stops counted from 1; those of train and drive are
// their own.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	if len(q.Stops) == 0 {
		f = append(f, meas.Fault{Field: "stops", Text: "Write down where the hands stood, like 10:47, for each stop"})
	}
	if len(q.Stops) > MaxStops {
		f = append(f, meas.Fault{Field: "stops", Text: fmt.Sprintf("%d stops are more than can be laid side by side; leave the oldest out, down to %d", len(q.Stops), MaxStops)})
	}
	if len(q.Touches) > MaxTouches || len(q.Readings) > regulate.MaxReadings || len(q.Air) > regulate.MaxReadings {
		f = append(f, meas.Fault{Field: "touches", Text: "There are more touches or readings than can be looked through; begin later"})
	}
	if q.Run.Set && !(q.Run.Value > 0) {
		f = append(f, meas.Fault{Field: "run", Text: fmt.Sprintf("The run from wound to down must be more than nought, like 8 d; “%s” was entered", q.Run)})
	}
	switch q.Strikes {
	case "", StrikesNothing, StrikesHours, StrikesHalves:
	default:
		f = append(f, meas.Fault{Field: "strikes", Text: "A clock strikes nothing, hours, or hours and halves: write nothing, hours or halves"})
	}
	switch {
	case q.Counts != "" && q.Counts != train.ByRack && q.Counts != train.ByCountWheel:
		f = append(f, meas.Fault{Field: "counts", Text: "A strike counts by a rack or by a count wheel: write rack or count-wheel"})
	case q.Counts != "" && q.Strikes == StrikesNothing:
		f = append(f, meas.Fault{Field: "counts", Text: "A clock that strikes nothing has neither rack nor count wheel: leave one of the two empty"})
	}
	if q.Train != nil {
		f = append(f, q.Train.Check()...)
	}
	if q.Drive != nil {
		f = append(f, q.Drive.Check()...)
	}
	if q.Dial != 0 && q.Dial != 12 && q.Dial != 24 {
		f = append(f, meas.Fault{Field: "dial", Text: "A dial has 12 hours or 24"})
	}
	hand := q.secondsHand(len(f) > 0)
	for i, s := range q.Stops[:min(len(q.Stops), MaxStops)] {
		f = append(f, s.check(i, hand)...)
	}
	return append(f, q.twice()...)
}

// secondsHand tells whether a seconds hand can be: false only where the train
// is known and nothing in it turns once a minute.
func (q Query) secondsHand(faulty bool) bool {
	if q.Train == nil || faulty {
		return true
	}
	a, err := train.Solve(*q.Train)
	return err != nil || !a.Complete || a.SecondsHand != nil
}

// check is the mistakes of the stop at place i.
func (s Stop) check(i int, hand bool) meas.Faults {
	var f meas.Faults
	fail := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: fmt.Sprintf("stops.%d.%s", i+1, field), Text: fmt.Sprintf("Stop %d: ", i+1) + fmt.Sprintf(format, a...)})
	}
	h := s.Hands
	if h.Hour < 0 || h.Hour > 24 || !(h.Minute >= 0 && h.Minute < 60) {
		fail("hands", "the hands cannot stand at %d:%s; the hour is 1 to 12 and the minute 0 to 59, like 10:47", h.Hour, unit.Significant(h.Minute, 4))
	}
	if h.Second.Set && !(h.Second.Value >= 0 && h.Second.Value < 60) {
		fail("hands", "the seconds hand stands from 0 to 59")
	}
	if h.Second.Set && !hand {
		fail("hands", "by the counts no arbor of this clock turns once a minute, so there is no seconds hand to read; leave the seconds out, or count the train again")
	}
	if !(s.U >= 0 && s.U <= 1800) {
		fail("u", "the doubt of the hands must be from nought to 30 min")
	}
	if !s.Found.IsZero() && s.Wound.After(s.Found) {
		fail("wound", "it was found standing at %s, before it was wound at %s; which is right?", when(s.Found), when(s.Wound))
	}
	if !s.Found.IsZero() && s.Going.After(s.Found) {
		fail("going", "it was found standing at %s, before it was last seen going at %s; which is right?", when(s.Found), when(s.Going))
	}
	if s.Weight.Set && !(s.Weight.Value >= 0 && s.Weight.Value <= 100) {
		fail("weight", "the bottom of the weight hangs from nought to 100 m above the floor of the case")
	}
	if s.Room.Set && !(s.Room.Value >= 200 && s.Room.Value <= 350) {
		fail("room", "a room is from −73 to 76 °C")
	}
	switch s.Strike {
	case "", AtRest, Warned, Striking, NotKnown:
	default:
		fail("strike", "the strike is at rest, warned, striking or not known")
	}
	f = append(f, s.checkSetting(i)...)
	return f
}

func (s Stop) checkSetting(i int) meas.Faults {
	field, text := fmt.Sprintf("stops.%d.set", i+1), ""
	by := float64(s.Set.By.Value)
	switch {
	case s.Set.How != "" && s.Set.How != Left && s.Set.How != By && s.Set.How != Moved:
		text = "the hands were left, set by so much, or moved by an unknown amount: write left, +12 min or unknown"
	case s.Set.How == By && !s.Set.By.Set:
		text = "say by how much the hands were set, like +12 min or −1 h"
	case s.Set.By.Set && !(math.Abs(by) <= 24*3600 && s.Set.By.U >= 0):
		text = "the hands are set by at most one turn of the dial either way"
	default:
		return nil
	}
	return meas.Faults{{Field: field, Text: fmt.Sprintf("Stop %d: %s", i+1, text)}}
}

// twice finds the same stop written down twice.
func (q Query) twice() meas.Faults {
	var f meas.Faults
	for i, s := range q.Stops[:min(len(q.Stops), MaxStops)] {
		for k, t := range q.Stops[:i] {
			if !s.Found.IsZero() && s.Found.Equal(t.Found) {
				f = append(f, meas.Fault{Field: fmt.Sprintf("stops.%d.found", i+1), Text: fmt.Sprintf("Stop %d was found at the same moment as stop %d, %s; it stopped once: strike one of them out", i+1, k+1, when(s.Found))})
				break
			}
		}
	}
	return f
}

// when writes an instant for words.
func when(t time.Time) string { return t.Format("2006-01-02 15:04") }
