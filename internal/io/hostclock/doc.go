// Package hostclock says how good this computer's clock is: whether anything
// keeps it right ([Disciplined]), how far it is from a time server's where
// one is named ([Ask]), and a steady count of seconds for stamping samples
// ([Clock]).
//
// It is for calibrating a recorder (package sampleclock): the error of a
// recorder's crystal can be told no better than that of the clock it is held
// against, and a computer that nothing keeps right may be wrong by 50 ppm,
// four seconds a day, itself.
//
// On Linux the kernel is asked by adjtimex; it says whether a time service
// steers the clock. Its word is taken: a service that steers without telling
// the kernel (chrony without rtcsync) is missed, and a virtual machine's
// kernel may not know what its host does. The steady count of Linux is
// steered with the clock. Other systems have no common way to ask, and their
// steady counts are not steered: they say "not known", and the rate of the
// steady count can be told from two questions to a server ([RateBetween]).
//
// Nothing is sent anywhere unless Ask is called with a server's name.
package hostclock

import (
	"time"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// Clock counts seconds evenly from its start, whatever is done to the time
// of day; not while the computer sleeps. It can be copied and used from many
// goroutines.
type Clock struct{ start time.Time }

// Start begins a count at 0.
func Start() Clock { return Clock{time.Now()} }

// Now is the count, read to well under a microsecond where the system allows.
func (c Clock) Now() unit.Duration { return unit.Duration(time.Since(c.start).Seconds()) }

// Status is what the system says of its own clock.
type Status struct {
	Known        bool          `json:"known"`         // false where the system cannot be asked
	Disciplined  bool          `json:"disciplined"`   // something keeps it right
	How          string        `json:"how"`           // a sentence for the user
	MaxError     unit.Duration `json:"max_error"`     // greatest distance from true time, as the kernel says; 0 not known
	EstError     unit.Duration `json:"est_error"`     // likely distance, as the time service says; 0 not known
	FrequencyPPM float64       `json:"frequency_ppm"` // correction of the computer's own crystal in force, parts in a million, positive speeds it up
}

const (
	nearEst = 0.3e-3 // s: likely and greatest distance of a clock kept by a server in the house
	nearMax = 5e-3
	poorEst = 2e-3 // s: likely distance from which a line is poor
)

// Host is the wander to allow for when a recorder is held against this
// clock. The kernel's figures can make it worse than a distant server's,
// and better only where both are small and given.
func (s Status) Host() sampleclock.Host {
	switch {
	case !s.Known || !s.Disciplined:
		return sampleclock.HostOf(sampleclock.Undisciplined)
	case s.EstError > poorEst:
		h := sampleclock.HostOf(sampleclock.PoorServer)
		h.Wander = max(h.Wander, s.EstError)
		return h
	case s.EstError > 0 && s.EstError <= nearEst && s.MaxError > 0 && s.MaxError <= nearMax:
		return sampleclock.HostOf(sampleclock.NearServer)
	}
	return sampleclock.HostOf(sampleclock.FarServer)
}
