package work

import (
	"fmt"
	"slices"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// The kinds of entry of the originality ledger; the third is [Undone].
const (
	Recorded  Kind = "recorded"  // an intervention was written down
	Corrected Kind = "corrected" // and written anew; what stood before stays in the log
)

// Deed is an entry of the originality ledger: an intervention as it stands
// from then on.
type Deed struct {
	ledger.Entry
	Kind         Kind         `json:"kind"`
	Intervention Intervention `json:"intervention,omitzero"` // nothing of Undone
}

// Originality is the originality ledger of a clock, worked out from its log.
// The zero Originality is empty.
type Originality struct{ log []Deed }

// FoldOriginality works a log out. The error is a meas.Faults of the entries
// that cannot be; they are left out, and all others stand.
func FoldOriginality(log []Deed) (o Originality, err error) {
	err = ledger.Fold(log, func(d Deed) meas.Faults { return o.faults(d) }, func(d *Deed) { d.Kind, d.Undoes = "", 0 },
		func(d Deed) { o.log = append(o.log, d) })
	return o, err
}

// Add puts an entry at the end, numbered; with faults nothing is added. A new
// intervention is numbered as well.
func (o *Originality) Add(d Deed) (Deed, meas.Faults) {
	d.N = ledger.Next(o.log)
	if d.Kind == Recorded && d.Intervention.N == 0 {
		d.Intervention.N = o.used() + 1
	}
	if f := append(ledger.CheckHead(d.Entry), o.faults(d)...); len(f) > 0 {
		return Deed{}, f
	}
	o.log = append(o.log, d)
	return d, nil
}

// used is the greatest number that was ever given out.
func (o Originality) used() int {
	n := 0
	for _, d := range o.log {
		n = max(n, d.Intervention.N)
	}
	return n
}

// faults is why an entry cannot follow those that are there.
func (o Originality) faults(d Deed) meas.Faults {
	n := d.Intervention.N
	switch d.Kind {
	case Recorded:
		if n != o.used()+1 {
			return meas.Faults{{Field: "n", Text: fmt.Sprintf("The next intervention is number %d, not %d", o.used()+1, n)}}
		}
		return d.Intervention.Check()
	case Corrected:
		was, ok := o.Last(n)
		if !ok {
			return meas.Faults{{Field: "n", Text: fmt.Sprintf("There is no intervention %d", n)}}
		}
		if len(Diff(was.Intervention, d.Intervention)) == 0 {
			return meas.Faults{{Field: "done", Text: "Nothing was changed"}}
		}
		return d.Intervention.Check()
	case Undone:
		if f := ledger.CanUndo(o.log, d.Undoes); len(f) > 0 {
			return f
		}
		if of := o.log[d.Undoes-1].Intervention.N; of != 0 {
			if last, _ := o.Last(of); last.N != d.Undoes {
				return meas.Faults{{Field: "undoes", Text: fmt.Sprintf("Entry %d is not the last of its intervention; take the later ones back first", d.Undoes)}}
			}
		}
		return nil
	}
	return meas.Faults{{Field: "kind", Text: fmt.Sprintf("“%s” is no kind of entry", d.Kind)}}
}

// Last is the entry that says how an intervention stands; false where there is
// no such intervention, or it was taken back.
func (o Originality) Last(n int) (Deed, bool) {
	standing := ledger.Standing(o.log)
	for i := len(o.log) - 1; i >= 0; i-- {
		if d := o.log[i]; standing[i] && d.Intervention.N == n && (d.Kind == Recorded || d.Kind == Corrected) {
			return d, true
		}
	}
	return Deed{}, false
}

// Standing lists the interventions that stand, by number.
func (o Originality) Standing() []Intervention {
	var out []Intervention
	for n := 1; n <= o.used(); n++ {
		if d, ok := o.Last(n); ok {
			out = append(out, d.Intervention)
		}
	}
	return out
}

// Log lists all entries, oldest first.
func (o Originality) Log() []Deed { return slices.Clone(o.log) }

// Changes lists what each entry about an intervention changed, oldest first;
// an entry that was taken back is there too, with the one that took it back.
func (o Originality) Changes(n int) []DeedChange {
	var out []DeedChange
	was := Intervention{N: n}
	for i, d := range o.log {
		switch {
		case d.Intervention.N == n && n > 0:
			out = append(out, DeedChange{Deed: d, Changes: Diff(was, d.Intervention)})
		case d.Kind == Undone && d.Undoes >= 1 && d.Undoes <= i && o.log[d.Undoes-1].Intervention.N == n:
			out = append(out, DeedChange{Deed: d})
		default:
			continue
		}
		now, _ := Originality{log: o.log[:i+1]}.Last(n)
		was = now.Intervention
		was.N = n
	}
	return out
}

// DeedChange is an entry with what it changed.
type DeedChange struct {
	Deed
	Changes []job.Change
}
