package shop

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/stores"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// storesBook is the kind of log that the shelf is kept in; there is one,
// without a name.
const storesBook = "stores"

// Stores is what is on the shelf.
type Stores struct {
	Shelf   *stores.Shelf
	Damaged meas.Faults // entries of the log that cannot be; the shelf is then empty
}

// Stores reads the shelf.
func (s *Shop) Stores(ctx context.Context) (Stores, error) {
	var out Stores
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		_, out, err = readStores(tx)
		return err
	})
	return out, explain(err)
}

func readStores(tx *store.Tx) (store.Log, Stores, error) {
	l, err := tx.Log(storesBook, "")
	if err != nil {
		return l, Stores{}, err
	}
	log, err := store.Entries[stores.Event](tx, l)
	if err != nil {
		return l, Stores{}, err
	}
	shelf, err := stores.Fold(log)
	out := Stores{Shelf: &shelf}
	if err != nil && !errors.As(err, &out.Damaged) {
		return l, out, err
	}
	return l, out, nil
}

// lowStores keeps what was found low when the shelf was read last, so that a
// page need not read a long log again.
type lowStores struct {
	mu      sync.Mutex
	entries int
	touched time.Time
	found   []meas.Finding
}

// UsedElsewhere lists what a clock, by its UID, used from the shelf of another
// shop, as it came with the clock's file.
func (s *Shop) UsedElsewhere(ctx context.Context, uid string) ([]stores.Use, error) {
	var out []stores.Use
	err := s.store.View(ctx, func(tx *store.Tx) error {
		l, err := tx.Log(takenBook, uid)
		if err != nil {
			return err
		}
		log, err := store.Entries[stores.Taken](tx, l)
		if err != nil {
			return err
		}
		out, err = stores.FoldTaken(log)
		if err != nil {
			return &Problem{Code: Storage, Message: "What this clock used in another shop cannot be read: its log is damaged.", Hint: "Restore the shop from a backup, or bring the clock in again from its file.", cause: err}
		}
		return nil
	})
	return out, explain(err)
}

// LowStores lists what is low or cannot be right on the shelf.
func (s *Shop) LowStores(ctx context.Context) ([]meas.Finding, error) {
	var found []meas.Finding
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		l, err := tx.Log(storesBook, "")
		if err != nil {
			return err
		}
		s.low.mu.Lock()
		defer s.low.mu.Unlock()
		if s.low.entries != l.Entries || !s.low.touched.Equal(l.Touched) {
			_, st, err := readStores(tx)
			if err != nil {
				return err
			}
			s.low.found = nil
			if len(st.Damaged) == 0 {
				s.low.found = st.Shelf.Findings()
			}
			s.low.entries, s.low.touched = l.Entries, l.Touched
		}
		found = s.low.found
		return nil
	})
	return found, explain(err)
}

// ChangeStores adds an event to the log of the shelf. read is how many entries
// the person had seen: where a material was counted or named anew since, the
// problem is a Conflict with both, and nothing is kept; what came in or was
// used meanwhile only adds up.
func (s *Shop) ChangeStores(ctx context.Context, by string, read int, e stores.Event) (stores.Event, error) {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		l, st, err := readStores(tx)
		if err != nil {
			return err
		}
		if len(st.Damaged) > 0 {
			return damagedLog("stores", st.Damaged)
		}
		if e.Kind == stores.Used {
			if err := clockOfUse(tx, &e); err != nil {
				return err
			}
		}
		if p := storedMeanwhile(st.Shelf, read, e); p != nil {
			return p
		}
		e.When, e.Who = job.Instant(s.now()), by
		done, faults := st.Shelf.Add(e)
		if len(faults) > 0 {
			return badInput(faults)
		}
		e = done
		_, err = store.Append(tx, l, e)
		return err
	})
	return e, explain(err)
}

// clockOfUse writes the number of the clock as the book has it.
func clockOfUse(tx *store.Tx, e *stores.Event) error {
	if strings.EqualFold(strings.TrimSpace(e.Job), "shop") {
		e.Job = "shop"
		return nil
	}
	id, faults, err := clockTyped(tx, e.Job)
	if err != nil || id == 0 && len(faults) == 0 { // nothing was typed: the shelf says so
		return err
	}
	if len(faults) > 0 {
		return badInput(meas.Faults{{Field: "job", Text: faults[0].Text + "; for the shop itself write shop"}})
	}
	c, err := tx.Clock(id)
	e.Job = c.Number
	return err
}

// storedMeanwhile is the conflict of a count or a description with what was
// written of the same material since; nil where there is none.
func storedMeanwhile(shelf *stores.Shelf, read int, e stores.Event) *Problem {
	if e.Kind != stores.Counted && (e.Kind != stores.Named || e.Material == 0) {
		return nil
	}
	log := shelf.Log()
	standing := ledger.Standing(log)
	for i := len(log) - 1; i >= max(0, read); i-- {
		x := log[i]
		if !standing[i] || x.Material != e.Material || e.Kind == stores.Named && x.Kind != stores.Named {
			continue
		}
		p := &Problem{Code: Conflict, Message: x.Who + " has written of this material meanwhile.", Hint: "Look at what stands, and save again where yours is still right."}
		at := slices.IndexFunc(shelf.Stock(), func(m stores.Stock) bool { return m.N == e.Material })
		if at < 0 {
			return p
		}
		now := shelf.Stock()[at]
		if e.Kind == stores.Counted {
			p.Differ = []job.Change{{Field: "left", Before: now.Left.String() + " " + now.Unit, After: e.Amount.String() + " " + now.Unit}}
			return p
		}
		for _, d := range [][3]string{{"name", now.Name, e.Is.Name}, {"unit", now.Unit, e.Is.Unit}, {"warn at", now.Low.String(), e.Is.Low.String()}, {"note", now.Note, e.Is.Note}} {
			if d[1] != d[2] {
				p.Differ = append(p.Differ, job.Change{Field: d[0], Before: d[1], After: d[2]})
			}
		}
		return p
	}
	return nil
}

// demoStores puts invented materials on the shelf of the demonstration.
func (s *Shop) demoStores(ctx context.Context, number string) error {
	for i, m := range []struct {
		is       stores.Material
		in, used string
	}{
		{stores.Material{Name: "bushes, 3 mm bore", Unit: stores.Pieces, Low: 5000}, "20", "2"},
		{stores.Material{Name: "gut line, 1.4 mm", Unit: "m", Low: 4000, Note: "natural"}, "6", "2.6"},
		{stores.Material{Name: "hide glue, dry", Unit: "g", Low: 100000}, "500", ""},
	} {
		if _, err := s.ChangeStores(ctx, DemoName, 0, stores.Event{Kind: stores.Named, Is: &m.is}); err != nil {
			return err
		}
		for _, x := range []struct {
			kind   stores.Kind
			amount string
		}{{stores.CameIn, m.in}, {stores.Used, m.used}} {
			if x.amount == "" {
				continue
			}
			a, err := stores.ParseAmount(x.amount)
			if err != nil {
				return err
			}
			e := stores.Event{Kind: x.kind, Material: i + 1, Amount: a}
			if x.kind == stores.Used {
				e.Job = number
			}
			if _, err := s.ChangeStores(ctx, DemoName, 0, e); err != nil {
				return err
			}
		}
	}
	return nil
}
