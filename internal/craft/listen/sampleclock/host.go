package sampleclock

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Host is what is known of the clock of the computer that the samples come
// to: how it strays from true time.
type Host struct {
	Kind   Discipline
	Wander unit.Duration // rms distance from true time
	Settle unit.Duration // time in which a distance is forgotten (to 1/e)
	Rate   unit.Rate     // 95 % limit of its steady error, 0 where it is steered
}

// Discipline says what keeps the host's clock right.
type Discipline string

// The kinds.
const (
	Undisciplined Discipline = "not disciplined"        // nothing, or nobody knows
	NearServer    Discipline = "a time server near by"  // in the same building, or a radio clock
	FarServer     Discipline = "a time server far away" // over the internet, a good line
	PoorServer    Discipline = "a time server on a poor line"
	Perfect       Discipline = "exact" // for tests, and where the host's wander is allowed for elsewhere
)

// HostOf is the wander to allow for by the kind of discipline. What is not
// one of the kinds is taken as not disciplined.
func HostOf(d Discipline) Host {
	switch d {
	case Perfect:
		return Host{Kind: d}
	case NearServer:
		return Host{Kind: d, Wander: 0.2e-3, Settle: 300}
	case FarServer:
		return Host{Kind: d, Wander: 1e-3, Settle: 1000}
	case PoorServer:
		return Host{Kind: d, Wander: 5e-3, Settle: 1000}
	}
	return Host{Kind: Undisciplined, Wander: 1e-3, Settle: 1000, Rate: supposed.V}
}

// ppm and its sources.
const ppm = 1e-6

// The figures that are not ours.
var (
	supposed = cite.Value[unit.Rate]{V: 50 * ppm, Ref: cite.Ref{Place: "IEC 60958 level I, ±50 ppm", Grade: cite.Memory}}
	another  = cite.Value[unit.Rate]{V: 1 * ppm, Ref: cite.Ref{Place: "crystal at room temperature, a few kelvin", Grade: cite.Memory}}
	absurd   = cite.Value[unit.Rate]{V: 1000 * ppm, Ref: cite.Ref{Place: "IEC 60958 level II, ±1000 ppm", Grade: cite.Memory}}
)

// Sources lists what the package leans on.
func Sources() []cite.Entry {
	wander := cite.Ref{Place: "wander of a host clock", Grade: cite.Memory, Note: "0.2, 1 and 5 ms rms by kind of line"}
	return []cite.Entry{
		{Name: "error of a recorder of which nothing is known", Value: "±50 ppm", Ref: supposed.Ref},
		{Name: "error beyond which a stated rate is wrong", Value: "±1000 ppm", Ref: absurd.Ref},
		{Name: "change of a recorder's error between days", Value: "±1 ppm", Ref: another.Ref},
		{Name: "wander of a host clock kept by a server", Value: "0.2, 1, 5 ms", Ref: wander},
	}
}
