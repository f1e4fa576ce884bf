package store

import (
	"errors"
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/kit/meas"
)

// unreadField begins the field of what a file held under a name that is not
// known; its path follows, and After is the JSON.
const unreadField = "unread "

// ImportClock takes in a clock from a file (job.Decode) with its survey, what
// was listened to, the records of its photographs, and its history; adds to the history that it was brought
// in, and what in the file was not understood. The error is ErrUIDTaken where
// this very clock is in the book, *NumberTakenError where another has its
// number, and meas.Faults where one of its listenings or photographs is in
// the book. Its logs are put into the book with Append.
func (tx *Tx) ImportClock(in job.File) (job.Clock, error) {
	c, s, history := in.Clock, in.Survey, in.History
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
	if err := tx.importListenings(c.ID, in.Listenings); err != nil {
		return c, err
	}
	if err := tx.importPhotos(c.ID, in.Photos, in.Main); err != nil {
		return c, err
	}
	for _, h := range history {
		if err := tx.addChange(c.ID, h); err != nil {
			return c, err
		}
	}
	if err := tx.touchClock(c, s); err != nil {
		return c, err
	}
	news := []job.Change{{Record: "clock", Field: job.ImportedField, After: c.Number}}
	for _, u := range in.Unread {
		news = append(news, job.Change{Record: "clock", Field: unreadField + u.Path, After: u.JSON})
	}
	return c, tx.addChanges(c.ID, news)
}

// importListenings keeps listenings of a file as they were kept then.
func (tx *Tx) importListenings(clock int64, all []readings.Listening) error {
	var f meas.Faults
	for i, l := range all {
		at := fmt.Sprintf("listenings[%d].", i)
		for _, x := range l.Check() {
			f = append(f, meas.Fault{Field: at + x.Field, Text: x.Text})
		}
		switch _, err := tx.ListeningByUID(l.UID); {
		case err == nil:
			f = append(f, meas.Fault{Field: at + "uid", Text: "This listening is in the book already, with another clock"})
		case !errors.Is(err, ErrNoListening):
			return err
		}
		if len(f) > 0 {
			continue
		}
		l.ClockID, l.Finished, l.Count = clock, true, len(l.Beats)
		if err := tx.insertListening(&l); err != nil {
			return err
		}
	}
	if len(f) > 0 {
		return f
	}
	return nil
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
