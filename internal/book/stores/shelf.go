package stores

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

// Kind is what an event does.
type Kind string

// The kinds.
const (
	Named   Kind = "named"   // a material is named, or its name, unit or warning changed
	CameIn  Kind = "came-in" // Amount came in
	Used    Kind = "used"    // Amount was used for Job
	Counted Kind = "counted" // Amount is what is left
	Undone  Kind = "undone"
)

// Pieces is the unit of what is counted in whole numbers.
const Pieces = "pieces"

// Event is one entry of the log of the shelf.
type Event struct {
	ledger.Entry
	Kind     Kind      `json:"kind"`
	Material int       `json:"material"`         // its number, from 1
	Is       *Material `json:"is,omitempty"`     // of Named
	Amount   Amount    `json:"amount,omitempty"` // in thousandths of the unit
	Job      string    `json:"job,omitempty"`    // the clock's number
	Source   string    `json:"source,omitempty"` // whose it is, batch, price, in words
}

// Material is a material on the shelf.
type Material struct {
	Name string `json:"name"`
	Unit string `json:"unit"` // "pieces", "m", "ml", "g", any other
	Low  Amount `json:"low"`  // warn at this or less; 0 for never
	Note string `json:"note"`
}

// Stock is a material with what is left of it.
type Stock struct {
	N int
	Material
	Left  Amount
	ByJob map[string]Amount // used, by the clock's number
	Lost  Amount            // taken away by counting; negative: found
}

// Shelf is the log with what follows from it. The zero Shelf is empty.
type Shelf struct {
	log   []Event
	stock map[int]*Stock
	last  int // the greatest number given out
}

// Fold makes a shelf of a log; the error is a meas.Faults with every event
// that cannot be.
func Fold(log []Event) (Shelf, error) {
	s := Shelf{log: slices.Clone(log), stock: map[int]*Stock{}}
	faults := ledger.Check(log)
	if len(faults) > 0 {
		return s, faults
	}
	standing := ledger.Standing(log)
	for i, e := range log {
		s.last = max(s.last, e.Material)
		if !standing[i] || e.Kind == Undone {
			continue
		}
		for _, f := range s.apply(e) {
			faults = append(faults, meas.Fault{Field: fmt.Sprintf("events[%d].%s", i, f.Field), Text: f.Text})
		}
	}
	if len(faults) > 0 {
		return s, faults
	}
	return s, nil
}

// faults lists what is wrong with an event on this shelf.
func (s *Shelf) faults(e Event) meas.Faults {
	f := e.check(s.stock[e.Material])
	if e.Kind != Named && e.Material >= 1 && s.stock[e.Material] == nil {
		f = append(f, meas.Fault{Field: "material", Text: fmt.Sprintf("There is no material %d on the shelf; name it first", e.Material)})
	}
	return f
}

// apply does what an event says; with faults nothing is done.
func (s *Shelf) apply(e Event) meas.Faults {
	if f := s.faults(e); len(f) > 0 {
		return f
	}
	stock, known := s.stock[e.Material]
	switch e.Kind {
	case Named:
		if !known {
			stock = &Stock{N: e.Material, ByJob: map[string]Amount{}}
			s.stock[e.Material] = stock
		}
		stock.Material = *e.Is
	case CameIn:
		stock.Left += e.Amount
	case Used:
		stock.Left -= e.Amount
		stock.ByJob[e.Job] += e.Amount
	case Counted:
		stock.Lost += stock.Left - e.Amount
		stock.Left = e.Amount
	}
	return nil
}

// check lists what is wrong with an event for a material, nil where it is not
// known.
func (e Event) check(of *Stock) meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	for _, t := range [][2]string{{"why", e.Why}, {"job", e.Job}, {"source", e.Source}} {
		f = append(f, ledger.CheckText(t[0], t[1])...)
	}
	if e.Material < 1 {
		add("material", "Choose the material")
	}
	switch e.Kind {
	case Named:
		return append(f, e.Is.check(of)...)
	case CameIn, Used:
		if e.Amount <= 0 || e.Amount > mostAmount {
			add("amount", "Enter how much, more than nought and at most 1 000 000")
		}
	case Counted:
		if e.Amount < 0 || e.Amount > mostAmount {
			add("amount", "Enter what is left, from nought to 1 000 000")
		}
	default:
		add("kind", "“%s” is nothing that happens on a shelf", meas.Clip(string(e.Kind)))
	}
	if e.Kind == Used && strings.TrimSpace(e.Job) == "" {
		add("job", "Say for which clock; for the shop itself write shop")
	}
	if of != nil && of.Unit == Pieces && !e.Amount.Whole() {
		add("amount", "%s is counted in pieces; %s is not a whole number", of.Name, e.Amount)
	}
	return f
}

// check lists what is wrong with a material; was is what it was, nil for a new
// one.
func (m *Material) check(was *Stock) meas.Faults {
	if m == nil {
		return meas.Faults{{Field: "name", Text: "Enter the name of the material"}}
	}
	var f meas.Faults
	if strings.TrimSpace(m.Name) == "" {
		f = append(f, meas.Fault{Field: "name", Text: "Enter the name of the material"})
	}
	if strings.TrimSpace(m.Unit) == "" {
		f = append(f, meas.Fault{Field: "unit", Text: "Enter its unit, like pieces, m, ml or g"})
	}
	if m.Low < 0 || m.Low > mostAmount {
		f = append(f, meas.Fault{Field: "low", Text: "Warn at an amount from nought to 1 000 000"})
	}
	if was != nil && was.Unit != m.Unit && (was.Left != 0 || len(was.ByJob) > 0) {
		f = append(f, meas.Fault{Field: "unit", Text: fmt.Sprintf("%s is kept in %s and was moved already; name a new material for another unit", was.Name, was.Unit)})
	}
	for _, t := range [][2]string{{"name", m.Name}, {"unit", m.Unit}, {"note", m.Note}} {
		f = append(f, ledger.CheckText(t[0], t[1])...)
	}
	return f
}

// Add puts an event at the end of the log, numbered; a material named for the
// first time (number 0) gets the next number. With faults the shelf stays as
// it is.
func (s *Shelf) Add(e Event) (Event, meas.Faults) {
	e.N = ledger.Next(s.log)
	if e.Undoes != 0 {
		e.Kind = Undone
		if f := ledger.CanUndo(s.log, e.Undoes); len(f) > 0 {
			return Event{}, f
		}
	}
	if e.Kind == Named && e.Material == 0 {
		e.Material = s.last + 1
	}
	f := ledger.CheckHead(e.Entry)
	if e.Kind != Undone {
		f = append(f, s.faults(e)...)
	}
	if len(f) > 0 {
		return Event{}, f
	}
	after, err := Fold(append(slices.Clone(s.log), e))
	if err != nil { // only an undo that others lean on
		return Event{}, meas.Faults{{Field: "undoes", Text: fmt.Sprintf("What was written of the material after entry %d leans on it; take that back first", e.Undoes)}}
	}
	*s = after
	return e, nil
}

// Log is the events, oldest first. It must not be changed.
func (s *Shelf) Log() []Event { return s.log }

// Stock lists the materials by name.
func (s *Shelf) Stock() []Stock {
	var out []Stock
	for _, x := range s.stock {
		out = append(out, *x)
	}
	slices.SortFunc(out, func(a, b Stock) int {
		return cmp.Or(strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)), a.N-b.N)
	})
	return out
}

// Use is what a job used of a material.
type Use struct {
	Stock  Stock
	Amount Amount
}

// UsedBy lists what a job used, by the name of the material.
func (s *Shelf) UsedBy(job string) []Use {
	var out []Use
	for _, x := range s.Stock() {
		if a := x.ByJob[job]; a > 0 {
			out = append(out, Use{x, a})
		}
	}
	return out
}

// Findings warns of what is low, and says where the shelf cannot be right.
func (s *Shelf) Findings() []meas.Finding {
	var out []meas.Finding
	for _, x := range s.Stock() {
		about, ref := []string{fmt.Sprint(x.N)}, cite.Ref{Grade: cite.CommonPractice}
		left := x.Left.String() + " " + x.Unit
		switch {
		case x.Left < 0:
			out = append(out, meas.Finding{Level: meas.Clash, Code: "below-nought", Text: fmt.Sprintf("More %s was used than was there: %s.", x.Name, left), Next: "Count what is left.", About: about, Ref: ref})
		case x.Low > 0 && x.Left <= x.Low:
			out = append(out, meas.Finding{Level: meas.Doubt, Code: "low", Text: fmt.Sprintf("%s is low: %s left.", x.Name, left), Next: "Buy more.", About: about, Ref: ref})
		}
	}
	return out
}
