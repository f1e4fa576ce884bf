package identify

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what a thing may be.
type Answer struct {
	Query      Query                   `json:"query"`
	Pitch      meas.Result[unit.Pitch] `json:"pitch"`      // as measured or counted
	Candidates []Candidate             `json:"candidates"` // the likeliest first
	None       float64                 `json:"none"`       // chance that it is of none of these
	Tied       int                     `json:"tied"`       // how many of the first cannot be told apart
	Next       string                  `json:"next"`       // what to measure, and how well, "" where nothing
	Working    []cite.Step             `json:"working"`
	Findings   []meas.Finding          `json:"findings"`
	Complete   bool                    `json:"complete"` // one is found, or that it is none
}

// Candidate is a standard size that it may be.
type Candidate struct {
	Name   string      `json:"name"`
	Thread *Thread     `json:"thread,omitempty"`
	Gauge  *Gauge      `json:"gauge,omitempty"`
	Low    unit.Length `json:"low"` // a genuine one measures from Low to High
	High   unit.Length `json:"high"`
	Chance float64     `json:"chance"` // among all these and none
	Off    unit.Length `json:"off"`    // measured less nearest that is allowed
	Later  bool        `json:"later"`  // than the clock
	Since  int         `json:"since,omitempty"`
	Make   *Making     `json:"make,omitempty"` // of a thread: how it is made
	Fits   []Fit       `json:"fits,omitempty"` // of a parallel pin: how it sits in holes
}

// Making is what it takes to make a thread.
type Making struct {
	Shape
	Engagement unit.Ratio  `json:"engagement"`
	Tapping    unit.Length `json:"tapping"`
	Drills     []Gauge     `json:"tapping_drills"`
	Clearance  Gauge       `json:"clearance_drill"`
}
