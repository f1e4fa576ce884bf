package divide

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query    Query          `json:"query"`
	Ways     []Way          `json:"ways"`
	Close    []Near         `json:"close"`
	Moves    []Move         `json:"moves"`
	Reached  []Reached      `json:"reached"`
	Below    int            `json:"below"` // nearest count that is reached, 0 for none
	Above    int            `json:"above"`
	Wanted   []Wanted       `json:"wanted"`
	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // there is an exact way
}

// Kind is how it is divided.
type Kind string

// The kinds.
const (
	Direct   Kind = "direct"   // a ring of holes on the arbor itself
	Simple   Kind = "simple"   // a crank, one circle
	Compound Kind = "compound" // a crank, two circles one after the other
)

// Way is how far to go at each division.
type Way struct {
	Kind   Kind   `json:"kind"`
	By     string `json:"by"`
	Ratio  int    `json:"ratio"`  // turns of the crank for one of the arbor; 0 of a plate
	Circle int    `json:"circle"` // holes of the ring or circle
	Turns  int    `json:"turns"`  // whole turns of the crank
	Holes  int    `json:"holes"`  // and holes on

	Second      int `json:"second"`       // holes of the second circle; 0 for none
	SecondHoles int `json:"second_holes"` // in it, negative: back
}

// Near is a division that is not exact.
type Near struct {
	Way      Way                      `json:"way"`
	SameMove bool                     `json:"same_move"` // each time; else the nearest hole each time
	Tooth    unit.Angle               `json:"tooth"`     // most that a tooth is off its place
	Space    unit.Angle               `json:"space"`     // most that a space is too wide or too narrow
	OnRim    meas.Result[unit.Length] `json:"on_rim"`    // Tooth at the diameter stated

	steps int // in one turn of the arbor
}

// Move is where one division is.
type Move struct {
	Division   int        `json:"division"`    // from 1
	Turns      int        `json:"turns"`       // of the crank, whole, from the beginning
	Hole       int        `json:"hole"`        // from the one begun at, in the ring or circle
	SecondHole int        `json:"second_hole"` // the same in the second circle
	Off        unit.Angle `json:"off"`         // positive ahead of its place
}

// Reached is a count that divides exactly.
type Reached struct {
	Count int  `json:"count"`
	Kind  Kind `json:"kind"` // the simplest
}

// Wanted is a ring or circle that would reach the count.
type Wanted struct {
	By     string `json:"by"`
	Circle int    `json:"circle"` // or any whole number of times as many holes
}
