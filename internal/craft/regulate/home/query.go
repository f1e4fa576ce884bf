package home

import (
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is the two places, and what is known of the clock.
type Query struct {
	Latitude meas.Reading[unit.Angle]        `json:"latitude"` // here; north positive
	Height   meas.Reading[unit.Length]       `json:"height"`   // above the sea
	Gravity  meas.Reading[unit.Acceleration] `json:"gravity"`  // measured; wins
	Warmth   meas.Reading[unit.Temperature]  `json:"temperature"`

	ToLatitude meas.Reading[unit.Angle]        `json:"to_latitude"` // there
	ToHeight   meas.Reading[unit.Length]       `json:"to_height"`
	ToGravity  meas.Reading[unit.Acceleration] `json:"to_gravity"`
	ToWarmth   meas.Reading[unit.Temperature]  `json:"to_temperature"`

	Rate      meas.Reading[unit.Rate] `json:"rate"`       // here now
	PerKelvin meas.Reading[unit.Rate] `json:"per_kelvin"` // found or held; negative for a bare rod
	Rod       string                  `json:"rod,omitempty"`
	PerTurn   meas.Reading[unit.Rate] `json:"per_turn"` // of the nut up
	Divisions int                     `json:"divisions,omitempty"`
	PerGram   meas.Reading[unit.Rate] `json:"per_gram"`
	Want      meas.Reading[unit.Rate] `json:"want"` // there; 0 for true
	Band      meas.Reading[unit.Rate] `json:"band"` // each way; ±2 s/day where not stated
}

// Check returns every mistake; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	here, there := q.Latitude.Set || q.Gravity.Set, q.ToLatitude.Set || q.ToGravity.Set
	add := func(field, text string) { f = append(f, meas.Fault{Field: field, Text: text}) }
	if there && !here {
		add("latitude", "Enter the latitude here too; the change needs both places")
	}
	if here && !there {
		add("to-latitude", "Enter the latitude there too; the change needs both places")
	}
	f = append(f, q.pendulum().Check()...)
	for _, t := range []struct {
		field, other string
		r, o         meas.Reading[unit.Temperature]
	}{{"to-temperature", "temperature", q.ToWarmth, q.Warmth}, {"temperature", "to-temperature", q.Warmth, q.ToWarmth}} {
		if t.r.Set && (t.r.Value < 233 || t.r.Value > 343) {
			add(t.field, "A room has between −40 °C and 70 °C; “"+t.r.String()+"” was entered")
		}
		if t.r.Set && !t.o.Set {
			add(t.other, "Enter both temperatures; the change needs both rooms")
		}
	}
	for _, x := range []struct {
		field, what string
		r           meas.Reading[unit.Rate]
	}{{"per-turn", "One turn of the nut up", q.PerTurn}, {"per-gram", "One gram on the tray", q.PerGram}, {"band", "Right within", q.Band}} {
		if x.r.Set && !(x.r.Value > 0) {
			add(x.field, x.what+" must be more than nought; “"+x.r.String()+"” was entered")
		}
	}
	for _, x := range []struct {
		field string
		r     meas.Reading[unit.Rate]
	}{{"rate", q.Rate}, {"want", q.Want}, {"per-kelvin", q.PerKelvin}} {
		if v := float64(x.r.Value); x.r.Set && !(v > -0.05 && v < 0.05) {
			add(x.field, "A rate must be within 4320 s a day either way; “"+x.r.String()+"” was entered")
		}
	}
	if q.Divisions < 0 || q.Divisions > 1000 {
		add("divisions", "A nut has up to 1000 divisions")
	}
	return f
}

// pendulum is the question of the two gravities, and of the rod.
func (q Query) pendulum() pendulum.Query {
	return pendulum.Query{Latitude: q.Latitude, Height: q.Height, Gravity: q.Gravity, ToLatitude: q.ToLatitude, ToHeight: q.ToHeight, ToGravity: q.ToGravity, Rod: q.Rod}
}

// Answer is what follows from a Query.
type Answer struct {
	Query     Query                          `json:"query"`
	Here      meas.Result[unit.Acceleration] `json:"here"`
	There     meas.Result[unit.Acceleration] `json:"there"`
	ByGravity meas.Result[unit.Rate]         `json:"by_gravity"`
	ByWarmth  meas.Result[unit.Rate]         `json:"by_warmth"`
	Gain      meas.Result[unit.Rate]         `json:"gain"`
	Expect    meas.Result[unit.Rate]         `json:"expect"`
	Aim       meas.Result[unit.Rate]         `json:"aim"`
	Turns     meas.Result[unit.Ratio]        `json:"turns"`
	Divisions float64                        `json:"divisions"`
	Mass      meas.Result[unit.Mass]         `json:"mass"`
	After     meas.Result[unit.Rate]         `json:"after"`
	AsIs      float64                        `json:"as_is"`
	Right     float64                        `json:"right"`
	Do        Do                             `json:"do"`
	Words     string                         `json:"words"`
	Days      []Day                          `json:"days"`
	Setting   []Look                         `json:"setting"`

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"`
}

// Do is what is advised before it leaves.
type Do string

// The advice.
const (
	Turn    Do = "turn"    // the nut
	Weigh   Do = "weigh"   // the tray
	Leave   Do = "leave"   // as it is, and touch it there
	Unknown Do = "unknown" // something is wanting
)

// Day is what the clock is to be wrong by there after so many days, set right
// on the day.
type Day struct {
	Day   float64                      `json:"day"`
	Error meas.Interval[unit.Duration] `json:"error"`
}

// Look is one thing to do or to look at, when it goes home.
type Look struct {
	When string   `json:"when"` // "before it leaves", "on the day", "day 1"
	What string   `json:"what"`
	Ref  cite.Ref `json:"source"`
}
