// Package equipment is the record of what the shop works with, kept once so
// that it is not typed anew for every clock: the plates and heads that it
// divides with. It is a log that only grows; the last entry counts.
package equipment

import (
	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/divide"
)

// Event is one entry of the log: the plates are as it says from now on.
type Event struct {
	ledger.Entry
	Plates divide.Plates `json:"plates"`
}

// Kept is what the log comes to.
type Kept struct {
	Plates  divide.Plates
	Version int // the entry that says so; 0 where nothing was kept yet
}

// Fold is what stands.
func Fold(log []Event) Kept {
	k := Kept{}
	for i, stands := range ledger.Standing(log) {
		if stands {
			k = Kept{log[i].Plates, log[i].N}
		}
	}
	return k
}
