package clean

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Verdict is the answer in a word.
type Verdict string

// The verdicts, mildest first.
const (
	Go       Verdict = "go"   // may go in
	WithCare Verdict = "care" // may go in, and something is to be watched
	Ask      Verdict = "ask"  // not before the questions are answered
	MustNot  Verdict = "no"   // must not go in
)

// Answer is whether the pieces may go in, and how.
type Answer struct {
	Query     Query                         `json:"query"`
	Verdict   Verdict                       `json:"verdict"`
	Liquid    Liquid                        `json:"liquid"`
	Cells     []Judged                      `json:"cells"`
	Refusals  []Refusal                     `json:"refusals"`
	Questions []meas.Finding                `json:"questions"`
	Flash     meas.Result[unit.Temperature] `json:"flash_point"`
	FlashFrom string                        `json:"flash_from"`
	Limit     meas.Result[unit.Duration]    `json:"limit"` // the longest time in the bath
	Steps     []Step                        `json:"steps"`
	Hazards   []Hazard                      `json:"hazards"`
	Working   []cite.Step                   `json:"working"`
	Findings  []meas.Finding                `json:"findings"`
	Complete  bool                          `json:"complete"`
}

// Judged is a piece beside the cell of one of its materials.
type Judged struct {
	Piece string `json:"piece"` // its number
	Name  string `json:"name"`
	Cell
}

// Refusal is a reason why it must not go in.
type Refusal struct {
	Hard    bool         `json:"hard"` // for the safety of people: nothing written lifts it
	Finding meas.Finding `json:"finding"`
}

// Hard tells whether any refusal is one that nothing lifts.
func (a Answer) Hard() bool {
	for _, r := range a.Refusals {
		if r.Hard {
			return true
		}
	}
	return false
}

// Where a flash point is from.
const (
	FromSheet = "sheet"
	NoneSheet = "sheet says none"
	FromTable = "table"
	FromWater = "water"
	NotKnown  = "not known"
)

// Step is one of the steps of a batch, in their order.
type Step struct {
	Key  string   `json:"key"`
	Name string   `json:"name"`
	What string   `json:"what"`
	Ref  cite.Ref `json:"source"`
}

// The keys of the steps.
const (
	BathStep    = "bath"
	RinseStep   = "rinse"
	SecondStep  = "second-rinse"
	DryStep     = "dry"
	InspectStep = "inspect"
)

// Steps lists what is done with every batch, in order.
func Steps() []Step {
	return []Step{
		{BathStep, "Bath", "In the liquid, no longer than the limit.", practice},
		{RinseStep, "Rinse", "Clean liquid of its own kind or clean water, moved about.", practice},
		{SecondStep, "Second rinse", "Fresh again; alcohol takes the water off, away from heat and flame.", practice},
		{DryStep, "Dry", "Warm dry air, at once, until holes and corners are dry.", practice},
		{InspectStep, "Inspect", "Each part by eye: nothing left in holes, no new crack, count as it went in.", practice},
	}
}

var practice = cite.Ref{Grade: cite.CommonPractice}
