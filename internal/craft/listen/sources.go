package listen

import (
	"slices"

	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/cite"
)

// Sources lists every constant that listening leans on.
func Sources() []cite.Entry {
	return slices.Concat(rate.Sources(), culprit.Sources(), sampleclock.Sources(), []cite.Entry{
		{Name: "out of beat enough to be set right", Value: "2 % of the beat", Ref: practice},
	})
}

// Checks holds printed figures against ours: NIST's two suites of frequency
// stability, a local level, a periodogram with its false alarms.
func Checks() []cite.Check { return slices.Concat(rate.Checks(), culprit.Checks()) }
