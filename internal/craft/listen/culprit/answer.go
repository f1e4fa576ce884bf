package culprit

import (
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Kind says how a part repeats.
type Kind string

// The kinds of parts.
const (
	Turn    Kind = "turn"    // once in each turn of an arbor, and in its harmonics
	Contact Kind = "contact" // once for each tooth of a mesh
)

// Part is something of the train that repeats in a period of its own.
type Part struct {
	Name   string        `json:"name"` // in the trade's words: "third wheel"
	Kind   Kind          `json:"kind"`
	Arbor  int           `json:"arbor"` // from 0, the barrel's; of a mesh the driver's
	Period unit.Duration `json:"period"`
	Beats  float64       `json:"beats"` // beats in one period, by the counts
}

// Query is beats and the train that made them.
type Query struct {
	Beats       []beat.Beat
	Parts       []Part        // from Parts of a train; empty where the train is not known
	EscapeTeeth int           // 0 where not known
	Scatter     unit.Duration // of each beat by itself, from package rate
	Wander      unit.Duration // of each interval, adding up
	Span        int           // beats from a tooth at the entry to the same at the exit pallet, an odd number; 0 where not known
}

// Standing is how sure a finding is.
type Standing string

// The standings.
const (
	Found  Standing = "found"           // there, the chance that it is nothing is below 1 in 100 for all that was tried
	Clear  Standing = "clear"           // nothing there as large as would matter
	NotYet Standing = "cannot tell yet" // too short, or hidden by the wander
	Unlike Standing = "not resolved"    // two parts of so like a period that they cannot be told apart
)

// Suspect is a part with the evidence against it.
type Suspect struct {
	Part      Part                         `json:"part"`
	Harmonic  int                          `json:"harmonic"`  // the strongest: 1 is once a turn
	Amplitude meas.Interval[unit.Duration] `json:"amplitude"` // half the swing from early to late
	LatestAt  unit.Angle                   `json:"latest_at"` // of the turn, from the first beat, where beats are latest
	Chance    float64                      `json:"chance"`    // that so much comes of nothing, among all that was tried
	Standing  Standing                     `json:"standing"`
	Smallest  unit.Duration                `json:"smallest"`       // amplitude that this record could find nine times in ten
	ListenFor unit.Duration                `json:"listen_for"`     // to find or clear an error of Matters, or to tell it from those in With; 0 where done or where no length would do
	With      []string                     `json:"with,omitempty"` // parts it cannot be told from
}

// Matters is the amplitude that counts as a fault worth finding: the length
// still to listen is reckoned for it.
const Matters unit.Duration = 100e-6

// Tooth is one tooth of the escape wheel: entry and exit pallet paired.
type Tooth struct {
	Number int                          `json:"number"` // from 0, the first that was heard
	Late   meas.Interval[unit.Duration] `json:"late"`   // against the mean of all, positive when late
	Chance float64                      `json:"chance"` // that so much comes of nothing, among all teeth
}

// Peak is a period that was found and belongs to no part.
type Peak struct {
	Period    unit.Duration                `json:"period"`
	Amplitude meas.Interval[unit.Duration] `json:"amplitude"`
	Chance    float64                      `json:"chance"`
}

// Answer is the evidence, the strongest first.
type Answer struct {
	Suspects []Suspect `json:"suspects"`
	Teeth    []Tooth   `json:"teeth"`
	Odd      []int     `json:"odd_teeth"` // numbers of teeth found to be out
	// TeethStanding is how sure the teeth together are: Found where one is
	// out, Clear where none is out by as much as Matters; empty where the
	// teeth are not known.
	TeethStanding Standing      `json:"teeth_standing"`
	TeethFor      unit.Duration `json:"teeth_listen_for"` // to find or clear one tooth that is out by Matters; 0 where done or where no length would do
	Span          int           `json:"span"`             // beats from a tooth at the entry to the same at the exit pallet, as found; 0 where not
	Peaks         []Peak        `json:"peaks"`            // periods that belong to no part: all that were found where the train is not known
}
