package ratio

import (
	"math/big"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is what comes near a wanted ratio.
type Answer struct {
	Query  Query    `json:"query"`
	Limits Limits   `json:"limits"`
	Ratio  *big.Rat `json:"ratio"`  // one or more: turns of the quicker arbor in one of the slower
	Turned bool     `json:"turned"` // the ratio was entered the other way up

	Turn meas.Result[unit.Duration] `json:"turn"` // of one turn of the quicker arbor
	Slow meas.Result[unit.Duration] `json:"slow"` // that one turn of the slower should take

	Quotients []*big.Int `json:"quotients"`
	Fractions []Near     `json:"fractions"` // convergents and intermediate ones
	Walk      []Near     `json:"walk"`
	By360     []Rounded  `json:"by_360"`
	Trains    []Offer    `json:"trains"` // the nearest, and the best with few teeth, by nearness

	Exact []Train `json:"exact"` // those that make the ratio itself, the fewest teeth first

	Working  []cite.Step    `json:"working"`
	Findings []meas.Finding `json:"findings"`
	Complete bool           `json:"complete"` // some train was found
}

// Off is what a ratio that is not quite the wanted one does.
type Off struct {
	Rate unit.Rate                  `json:"rate"` // of the slower arbor, gaining positive
	Turn meas.Result[unit.Duration] `json:"off"`  // what each of its turns is too long by
}

// Near is a fraction with what it does.
type Near struct {
	Fraction
	Off
}

// Offer is a train with what it does.
type Offer struct {
	Train
	Off
}

// Rounded is a pair by the rule of 360 with what it does.
type Rounded struct {
	By360
	Off
}
