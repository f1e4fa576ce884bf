package store

import (
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
)

// ImportClock takes in a clock from a file (job.Decode) with its survey and
// its history, and adds to the history that it was brought in. The error is
// ErrUIDTaken where this very clock is in the book, and *NumberTakenError
// where another has its number.
func (tx *Tx) ImportClock(c job.Clock, s job.Survey, history []job.Change) (job.Clock, error) {
	if f := c.Check(); len(f) > 0 {
		return c, meas.Faults(f)
	}
	if err := numbered(c); err != nil {
		return c, err
	}
	c.ID = 0
	if c.Created.IsZero() {
		c.Created = tx.now
	}
	c, err := tx.insert(c)
	if err != nil {
		return c, err
	}
	for key, p := range s {
		if f := p.Check(key); len(f) > 0 {
			return c, meas.Faults(f)
		}
		p.Version = 1
		if err := tx.writePart(c.ID, key, p); err != nil {
			return c, err
		}
	}
	for _, h := range history {
		if err := tx.addChange(c.ID, h); err != nil {
			return c, err
		}
	}
	if err := tx.touchClock(c, s); err != nil {
		return c, err
	}
	return c, tx.addChanges(c.ID, []job.Change{{Record: "clock", Field: job.ImportedField, After: c.Number}})
}

// numbered refuses rows of a file that would be kept as one.
func numbered(c job.Clock) error {
	var f meas.Faults
	seen := map[string]bool{}
	look := func(list string, i, n int) {
		key := fmt.Sprint(list, " ", n)
		if n < 1 || seen[key] {
			f = append(f, meas.Fault{Field: fmt.Sprintf("%s[%d].n", list, i), Text: "Number the rows 1, 2, 3 …, each number once"})
		}
		seen[key] = true
	}
	for i, h := range c.Holders {
		look("holders", i, h.N)
	}
	for i, p := range c.Pieces {
		look("pieces", i, p.N)
	}
	if len(f) > 0 {
		return f
	}
	return nil
}
