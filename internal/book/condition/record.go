package condition

import (
	"fmt"
	"slices"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
)

// Kind is what an entry does.
type Kind string

// The kinds.
const (
	Noted  Kind = "noted"
	Undone Kind = "undone" // an entry was taken back
)

// Event is an entry of the log.
type Event struct {
	ledger.Entry
	Kind Kind `json:"kind"`
	Observation
}

// Record is a log of observations, worked out. The zero Record is empty.
type Record struct{ log []Event }

// Fold works a log out. The error is a meas.Faults of the entries that cannot
// be; they are left out, and all others stand.
func Fold(log []Event) (r Record, err error) {
	err = ledger.Fold(log, func(e Event) meas.Faults { return r.faults(e) }, func(e *Event) { e.Kind, e.Undoes = "", 0 },
		func(e Event) { r.log = append(r.log, e) })
	return r, err
}

// faults is why an entry cannot follow those that are there.
func (r Record) faults(e Event) meas.Faults {
	switch e.Kind {
	case Noted:
		return e.Check()
	case Undone:
		return ledger.CanUndo(r.log, e.Undoes)
	}
	return meas.Faults{{Field: "kind", Text: fmt.Sprintf("“%s” is no kind of entry", e.Kind)}}
}

// Add puts an entry at the end, numbered; with faults nothing is added.
func (r *Record) Add(e Event) (Event, meas.Faults) {
	e.N = ledger.Next(r.log)
	if f := append(ledger.CheckHead(e.Entry), r.faults(e)...); len(f) > 0 {
		return Event{}, f
	}
	r.log = append(r.log, e)
	return e, nil
}

// Len is how many entries there are, those that were taken back too.
func (r Record) Len() int { return len(r.log) }

// Log lists all entries, oldest first.
func (r Record) Log() []Event { return slices.Clone(r.log) }

// Of lists the observations of an area that stand, the latest first: by their
// day, then by their number. With area "" it lists those of all areas.
func (r Record) Of(area string) []Event {
	var out []Event
	for i, stands := range ledger.Standing(r.log) {
		if e := r.log[i]; stands && e.Kind == Noted && (area == "" || e.Area == area) {
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b Event) int {
		if a.Day != b.Day {
			if a.Day > b.Day {
				return -1
			}
			return 1
		}
		return b.N - a.N
	})
	return out
}

// Seen lists the areas that have an observation, in their order.
func (r Record) Seen() []string {
	var out []string
	for _, a := range Areas() {
		if len(r.Of(a)) > 0 {
			out = append(out, a)
		}
	}
	return out
}

// Hazards lists the cautions that hold for an area: those found there, and not
// said to be gone by a later entry.
func (r Record) Hazards(area string) []clean.Hazard {
	here := map[string]bool{}
	for i, stands := range ledger.Standing(r.log) { // in the order written: a day may be put in afterwards
		e := r.log[i]
		if !stands || e.Kind != Noted || e.Area != area {
			continue
		}
		for _, key := range e.Gone {
			here[key] = false
		}
		for _, key := range e.Hazards {
			here[key] = true
		}
	}
	var out []clean.Hazard
	for _, key := range HazardKeys() {
		if h, ok := clean.FindHazard(key); ok && here[key] {
			out = append(out, h)
		}
	}
	return out
}

// AreaHazard is a caution with the areas for which it holds.
type AreaHazard struct {
	clean.Hazard
	Areas []string
}

// AllHazards lists each caution that holds for an area, once.
func (r Record) AllHazards() []AreaHazard {
	var out []AreaHazard
	for _, area := range Areas() {
		for _, h := range r.Hazards(area) {
			i := slices.IndexFunc(out, func(x AreaHazard) bool { return x.Key == h.Key })
			if i < 0 {
				out = append(out, AreaHazard{Hazard: h})
				i = len(out) - 1
			}
			out[i].Areas = append(out[i].Areas, area)
		}
	}
	return out
}
