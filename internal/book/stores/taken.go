package stores

import (
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// Taken is an entry of a shelf about one clock, so that it can leave with the
// clock's file while the shelf stays: the material is in words. It is
// numbered within the clock; Entry.Undoes names another of these.
type Taken struct {
	ledger.Entry
	Kind     Kind   `json:"kind"`  // Used or Undone
	From     int    `json:"entry"` // its number in the log of the shelf that it was taken from
	Material string `json:"material,omitempty"`
	Unit     string `json:"unit,omitempty"`
	Amount   Amount `json:"amount,omitempty"`
	Source   string `json:"source,omitempty"`
}

// TakenFor lists the entries about a clock, by its number, with those that
// undo them, numbered behind the ones that are there already.
func (s *Shelf) TakenFor(job string, there []Taken) []Taken {
	out, as := slices.Clone(there), map[int]int{}
	names := map[int]Material{}
	for _, e := range s.log { // the name of now, or the last there was
		if e.Kind == Named && e.Is != nil {
			names[e.Material] = *e.Is
		}
	}
	for _, x := range s.Stock() {
		names[x.N] = x.Material
	}
	for _, e := range s.log {
		undoes, about := as[e.Undoes]
		if !about && (e.Kind != Used || e.Job != job) {
			continue
		}
		t := Taken{Entry: e.Entry, Kind: e.Kind, From: e.N}
		t.N, t.Undoes = len(out)+1, undoes
		if e.Kind == Used {
			m := names[e.Material]
			t.Material, t.Unit, t.Amount, t.Source = m.Name, m.Unit, e.Amount, e.Source
		}
		as[e.N] = t.N
		out = append(out, t)
	}
	return out
}

// FoldTaken adds up what was used by such entries, by material and unit in the
// order of the first use. The error is a meas.Faults with every entry that
// cannot be.
func FoldTaken(log []Taken) ([]Use, error) {
	faults := ledger.Check(log)
	for i, t := range log {
		bad := ""
		switch {
		case t.Kind == Undone && t.Undoes == 0:
			bad = "It does not say what it undoes"
		case t.Kind == Undone:
		case t.Kind != Used || t.Undoes != 0:
			bad = fmt.Sprintf("“%s” is nothing that leaves with a clock", meas.Clip(string(t.Kind)))
		case strings.TrimSpace(t.Material) == "":
			bad = "Name the material"
		case t.Amount <= 0 || t.Amount > mostAmount:
			bad = "The amount must be more than nothing and at most 1 000 000"
		}
		if bad != "" {
			faults = append(faults, meas.Fault{Field: fmt.Sprintf("events[%d]", i), Text: bad})
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	var out []Use
	for i, stands := range ledger.Standing(log) {
		t := log[i]
		if !stands || t.Kind != Used {
			continue
		}
		at := slices.IndexFunc(out, func(u Use) bool { return u.Stock.Name == t.Material && u.Stock.Unit == t.Unit })
		if at < 0 {
			at, out = len(out), append(out, Use{Stock: Stock{Material: Material{Name: t.Material, Unit: t.Unit}}})
		}
		out[at].Amount += t.Amount
	}
	return out, nil
}
