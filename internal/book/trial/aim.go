package trial

import (
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Aim is what counts as right for one clock, and the gates it must pass in
// this order.
type Aim struct {
	Rate      unit.Rate     `json:"rate"`       // to aim at, gaining positive; 0 for true
	Band      unit.Rate     `json:"band"`       // right is within so much of it, each way
	BeatError unit.Duration `json:"beat_error"` // the most, 0 for not asked
	Strikes   bool          `json:"strikes"`    // its strike is counted
	Promise   string        `json:"promise"`    // what the owner was told, in words
	Home      *Home         `json:"home,omitempty"`
	ForHome   ForHome       `json:"for_home,omitempty"` // when it is set here so that it is right at Home
	Goes      string        `json:"goes,omitempty"`     // from wound to down, as typed where the survey does not tell it; NotWound
	Gates     []Gate        `json:"gates"`
}

// NotWound is the Goes of a clock whose winding is not to be reminded of.
const NotWound = "never"

// Going is how long a clock goes wound up, as somebody said; a bare number is
// days.
func (a Aim) Going() (unit.Duration, bool) {
	r, err := meas.Parse[unit.Duration](a.Goes, "d")
	return r.Value, err == nil && r.Set && r.Value >= 3600 && r.Value <= 500*unit.Day
}

// ForHome says when a clock is regulated for its home, that is, set here so
// that it is right there.
type ForHome string

// When it is: what gravity and warmth of the home do is taken into account from
// then on.
const (
	AtLastGate ForHome = ""      // once all gates but the last are signed
	FromNow    ForHome = "now"   // as someone said
	NotAtAll   ForHome = "never" // as someone said: it is put right there
)

// Gate is one stretch of going that must be right from end to end.
type Gate struct {
	Key   string  `json:"key"`   // "stand", "case", any other
	Name  string  `json:"name"`  // "A week right on the stand"
	Days  float64 `json:"days"`  // how long
	Least int     `json:"least"` // readings that there must be at the least
	Gap   float64 `json:"gap"`   // the longest time in days without a reading
}

// Home is where the clock goes.
type Home struct {
	Place       string `json:"place"`
	Latitude    string `json:"latitude"`    // as typed; "" where not known
	Height      string `json:"height"`      // above the sea
	Gravity     string `json:"gravity"`     // measured; wins
	Temperature string `json:"temperature"` // of the room there
}
