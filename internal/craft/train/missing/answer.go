package missing

import (
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what the missing counts may be.
type Answer struct {
	Query     Query          `json:"query"`
	HourArbor *int           `json:"hour_arbor"` // of the going train, from 0
	Supposed  bool           `json:"supposed"`   // it was not stated
	Gaps      []Gap          `json:"gaps"`
	Unfixed   []Member       `json:"unfixed,omitempty"` // missing, and nothing says what they must make
	Working   []cite.Step    `json:"working"`
	Findings  []meas.Finding `json:"findings"`
	Complete  bool           `json:"complete"` // every gap was searched to its end, and none is unfixed
}

// Gap is missing counts that one product is known of.
type Gap struct {
	Train   string      `json:"train"`
	What    string      `json:"what"` // "the wheel of arbor 3"
	Members []Member    `json:"members"`
	From    string      `json:"from"` // where the product begins and what fixes its speed
	To      string      `json:"to"`
	Wanted  train.Exact `json:"wanted"` // of the missing wheels over the missing pinions
	Low     train.Exact `json:"low"`    // where it rests on a measurement: what is taken
	High    train.Exact `json:"high"`
	U       float64     `json:"u,omitempty"` // standard doubt of wanted

	Found      int         `json:"found"`     // sets of counts that fit
	FoundAll   bool        `json:"found_all"` // else there are at least so many
	Candidates []Candidate `json:"candidates"`
	Nearest    []Candidate `json:"nearest,omitempty"` // where none fits: from below and from above
}

// Candidate is counts for the members of a gap, in their order.
type Candidate struct {
	Counts  []train.Teeth `json:"counts"`
	Chain   string        `json:"chain"`   // the whole train or work with them, marked as inferred
	Product train.Exact   `json:"product"` // of the missing wheels over the missing pinions
	Points  float64       `json:"points"`  // against it, of all reasons
	Reasons []Reason      `json:"reasons"`
	Circles []int         `json:"circles,omitempty"` // of the plates owned, for each wheel of Counts; 0 where none divides it

	// What it does to the clock, as far as it is known.
	Beats    train.Exact                `json:"beats_per_hour"`
	Rate     meas.Result[unit.Rate]     `json:"rate"`            // on the stated pendulum, positive when gaining
	Pendulum meas.Result[unit.Length]   `json:"pendulum_length"` // that the train wants, to the centre of swing
	Runs     train.Exact                `json:"running_hours"`   // in one winding
	Error    meas.Result[unit.Duration] `json:"period_error"`    // of a slow dial in one period, positive when it comes late
}
