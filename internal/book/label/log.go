package label

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// EventKind is what an entry of the log does.
type EventKind string

// The kinds of entry.
const (
	Saved     EventKind = "saved"     // a profile is as it says from now on
	Removed   EventKind = "removed"   // a profile is not offered any more
	Printed   EventKind = "printed"   // labels were printed; Next is free now
	Addressed EventKind = "addressed" // codes carry Address from now on
)

// Event is one entry of the log.
type Event struct {
	ledger.Entry
	Kind    EventKind `json:"kind"`
	Profile *Profile  `json:"profile,omitempty"`
	Name    string    `json:"name,omitempty"` // of the profile
	Next    int       `json:"next,omitempty"` // first free position, from 1
	Labels  int       `json:"labels,omitempty"`
	Address string    `json:"address,omitempty"`
}

// Kept is a profile with what the log says of it.
type Kept struct {
	Profile
	Entry int // the entry that saved it last; 0 for one of [Stock]
	Free  int // the first free position of the sheet that was begun, from 1
}

// Settings are what follows from the log.
type Settings struct {
	Profiles []Kept
	Address  string // what codes begin with: "http://192.168.1.20:7870"; "" where none was set
	Last     string // the profile that was printed with last, "" for none
}

// Fold works the settings out. What was removed can be saved again.
func Fold(log []Event) Settings {
	s := Settings{}
	for _, p := range Stock() {
		s.Profiles = append(s.Profiles, Kept{Profile: p, Free: 1})
	}
	for i, stands := range ledger.Standing(log) {
		if stands {
			s.apply(log[i])
		}
	}
	return s
}

func (s *Settings) apply(e Event) {
	i := slices.IndexFunc(s.Profiles, func(k Kept) bool { return k.Name == e.Name })
	switch {
	case e.Kind == Saved && e.Profile != nil && i < 0:
		s.Profiles = append(s.Profiles, Kept{Profile: *e.Profile, Entry: e.N, Free: 1})
	case e.Kind == Saved && e.Profile != nil:
		s.Profiles[i].Profile, s.Profiles[i].Entry = *e.Profile, e.N
	case e.Kind == Removed && i >= 0:
		s.Profiles = slices.Delete(s.Profiles, i, i+1)
	case e.Kind == Printed && i >= 0:
		s.Profiles[i].Free, s.Last = e.Next, e.Name
	case e.Kind == Addressed:
		s.Address = e.Address
	}
}

// Find is the profile of a name; with "" the one printed with last, or the
// first.
func (s Settings) Find(name string) (Kept, bool) {
	if name == "" {
		name = s.Last
	}
	for _, k := range s.Profiles {
		if k.Name == name || name == "" {
			return k, true
		}
	}
	return Kept{}, false
}

// mostAddress is the most letters of an address: more make a code too dense
// for a small label.
const mostAddress = 60

// CheckAddress is the fault of an address that a code cannot begin with; what
// it gives back is the address as codes carry it.
func CheckAddress(s string) (string, meas.Faults) {
	s = strings.TrimRight(strings.TrimSpace(s), "/")
	u, err := url.Parse(s)
	wrong := ""
	switch {
	case s == "":
		wrong = "Enter the address under which phones reach this computer, like http://192.168.1.20:7870"
	case err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.User != nil || u.RawQuery != "" || u.Fragment != "":
		wrong = "The address must begin with http:// or https:// and name the computer, like http://192.168.1.20:7870"
	case strings.Trim(s, addressSigns) != "":
		wrong = "The address may have Latin letters, digits and . : / - _ alone: cameras misread others"
	case len(s) > mostAddress:
		wrong = fmt.Sprintf("The address may have %d letters at most, so that its code stays coarse enough to be read", mostAddress)
	}
	if wrong != "" {
		return s, meas.Faults{{Field: "address", Text: wrong}}
	}
	return s, nil
}

const addressSigns = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.:/-_[]"
