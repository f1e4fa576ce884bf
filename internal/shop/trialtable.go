package shop

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"seatboard/internal/book/picture"
	"seatboard/internal/book/trial"
	"seatboard/internal/book/trial/table"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/progress"
)

// tables are files that were looked at and wait for a word on what their
// columns mean. They are held in memory, packed, for an hour.
type tables struct {
	mu  sync.Mutex
	all map[string]*heldTable
}

type heldTable struct {
	HeldTable
	clock  int64
	packed []byte
	since  time.Time

	busy  bool // it is being brought in
	count *progress.Counter
}

// HeldTable is a file that was looked at.
type HeldTable struct {
	ID    string
	Name  string
	Bytes int64
	Guess table.Guess
}

// Limits of held tables.
const (
	mostTables  = 8
	tableIdle   = time.Hour
	tableIDSize = 16
)

var errTableGone = &Problem{Code: Gone, Message: "This table is not held any more.", Hint: "Choose the file again: nothing of it was written down."}

// HoldTable looks at a file and holds it until its columns are confirmed.
func (s *Shop) HoldTable(clock int64, name string, r io.Reader) (HeldTable, error) {
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	n, err := io.Copy(z, io.LimitReader(r, table.MaxBytes+1))
	if err == nil {
		err = z.Close()
	}
	switch {
	case err != nil:
		return HeldTable{}, err
	case n > table.MaxBytes:
		return HeldTable{}, explainTable(table.ErrTooLarge)
	case n == 0:
		return HeldTable{}, badInput(meas.Faults{{Field: "file", Text: "Choose a table: this file is empty"}})
	}
	h := &heldTable{HeldTable: HeldTable{Name: picture.CleanName(name), Bytes: n}, clock: clock, packed: packed.Bytes(), since: s.now()}
	if h.Guess, err = table.Look(h.open()); err != nil {
		return HeldTable{}, explainTable(err)
	}
	id := make([]byte, tableIDSize)
	rand.Read(id) // it never fails
	h.ID = hex.EncodeToString(id)
	s.tables.put(h)
	return h.HeldTable, nil
}

// open reads the file again.
func (h *heldTable) open() io.Reader {
	z, err := gzip.NewReader(bytes.NewReader(h.packed))
	if err != nil {
		return bytes.NewReader(nil) // it was packed here
	}
	return z
}

// put keeps a table; the oldest makes room, one that is being brought in last
// of all.
func (t *tables) put(h *heldTable) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.all == nil {
		t.all = map[string]*heldTable{}
	}
	for len(t.all) >= mostTables {
		var oldest *heldTable
		for _, x := range t.all {
			if oldest == nil || oldest.busy && !x.busy || oldest.busy == x.busy && x.since.Before(oldest.since) {
				oldest = x
			}
		}
		delete(t.all, oldest.ID)
	}
	t.all[h.ID] = h
}

func (t *tables) find(clock int64, id string, now time.Time) (*heldTable, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	h, ok := t.all[id]
	if !ok || h.clock != clock || now.Sub(h.since) > tableIdle {
		return nil, errTableGone
	}
	return h, nil
}

// HeldTable gives a table that is held for a clock.
func (s *Shop) HeldTable(clock int64, id string) (HeldTable, error) {
	h, err := s.tables.find(clock, id, s.now())
	if err != nil {
		return HeldTable{}, err
	}
	return h.HeldTable, nil
}

// TableProgress is how far a held table has come, in bytes; busy tells whether
// it is being brought in.
func (s *Shop) TableProgress(clock int64, id string) (done, total int64, busy bool, err error) {
	h, err := s.tables.find(clock, id, s.now())
	if err != nil {
		return 0, 0, false, err
	}
	s.tables.mu.Lock()
	defer s.tables.mu.Unlock()
	done, total = h.count.Sample()
	return done, total, h.busy, nil
}

// BringHeld takes a held table into its clock's trial by a plan, and lets it
// go. Where anything is wrong it is held on, and nothing is written.
func (s *Shop) BringHeld(ctx context.Context, by string, clock int64, id string, p table.Plan) (table.Table, error) {
	h, err := s.tables.find(clock, id, s.now())
	if err != nil {
		return table.Table{}, err
	}
	s.tables.mu.Lock()
	if h.busy {
		s.tables.mu.Unlock()
		return table.Table{}, &Problem{Code: InUse, Message: "This table is being brought in already.", Hint: "Wait until it is done."}
	}
	h.busy, h.count = true, &progress.Counter{}
	h.count.Expect(h.Bytes)
	s.tables.mu.Unlock()
	got, err := s.BringTable(ctx, by, clock, h.Name, h.open(), p, h.count)
	s.tables.mu.Lock()
	defer s.tables.mu.Unlock()
	if h.busy = false; err == nil {
		delete(s.tables.all, id)
	}
	return got, err
}

// BringTable takes a table made elsewhere into a clock's trial as one entry,
// all of it or nothing. count is told of bytes and may be nil.
func (s *Shop) BringTable(ctx context.Context, by string, clock int64, name string, r io.Reader, p table.Plan, count *progress.Counter) (table.Table, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return table.Table{}, err
	}
	p.Marks = t.Query.Known.Divisions
	got, err := table.Read(ctx, r, p, s.Zone(), count)
	if err != nil {
		return table.Table{}, explainTable(err)
	}
	e := trial.OfTable(picture.CleanName(name), got.Readings, got.Air, got.Touches)
	_, err = s.AddTrial(ctx, by, clock, 0, e)
	return got, err
}

// LookTable guesses what a file is.
func LookTable(r io.Reader) (table.Guess, error) {
	g, err := table.Look(r)
	return g, explainTable(err)
}

// explainTable says what is wrong with a file.
func explainTable(err error) error {
	var faults meas.Faults
	switch {
	case err == nil:
		return nil
	case errors.As(err, &faults):
		p := &Problem{Code: BadInput, Message: "The table was not brought in: nothing was written down.", Fields: faults, cause: err}
		if len(faults) > 1 {
			p.Message = fmt.Sprintf("The table was not brought in: there are %d mistakes, and nothing was written down.", len(faults))
		}
		return p
	case errors.Is(err, table.ErrTooLarge):
		return &Problem{Code: TooLarge, Message: fmt.Sprintf("This table is larger than %d MB.", table.MaxBytes>>20), Hint: "Leave out the columns that are not wanted, or bring it in in parts.", cause: err}
	case errors.Is(err, table.ErrNotText):
		return &Problem{Code: BadInput, Message: "This file is not a text table.", Hint: "Save it as CSV, the lines of a table as text, and choose that.", cause: err}
	}
	return err
}
