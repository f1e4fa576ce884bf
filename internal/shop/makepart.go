package shop

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/making"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/work"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// MakeAsk says which part was made by a sheet.
type MakeAsk struct {
	Read     int          // the entry by which the sheet stood when the person read it
	Parent   parts.Number // that the part is of; "" for the clock itself
	Count    int
	Detail   parts.Detail
	Deed     work.Intervention // its line in the originality ledger; Part is filled in
	Drawings []Drawn           // that it was made by, kept as they are
	Unread   meas.Faults       // mistakes of what was typed: with any nothing is kept, and all others are found too
}

// Drawn is a drawing as a file.
type Drawn struct {
	Name  string
	Bytes []byte
}

// mostDrawing is the most bytes of one drawing.
const mostDrawing = 32 << 20

// MakePart writes down that a part was made by a sheet, all of it or nothing:
// the part under the clock's number, the line in the originality ledger, and
// the drawings, each under its SHA-256. The Problem names all mistakes at
// once; of the line their fields begin with "deed.".
func (s *Shop) MakePart(ctx context.Context, by string, clock int64, sheet int, ask MakeAsk) (making.Part, error) {
	var made making.Part
	held, err := s.holdDrawings(ctx, ask.Drawings)
	defer func() {
		for _, h := range held {
			_ = h.Close() // what was kept stays, the rest goes with the next start
		}
	}()
	if err != nil {
		return made, err
	}
	err = s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		m := partMaker{s: s, tx: tx, by: by, clock: c, sheet: sheet}
		made, err = m.make(ask, held)
		return err
	})
	return made, explain(err)
}

func (s *Shop) holdDrawings(ctx context.Context, all []Drawn) ([]*blob.Held, error) {
	var out []*blob.Held
	for _, d := range all {
		h, err := s.ears.files.Hold(ctx, bytes.NewReader(d.Bytes), mostDrawing)
		if err != nil {
			return out, explain(err)
		}
		out = append(out, h)
	}
	return out, nil
}

// partMaker writes down a part inside one change of the store.
type partMaker struct {
	s     *Shop
	tx    *store.Tx
	by    string
	clock job.Clock
	sheet int
}

func (m partMaker) make(ask MakeAsk, held []*blob.Held) (making.Part, error) {
	var made making.Part
	l, b, damaged, err := readMaking(m.tx, m.clock)
	if err != nil {
		return made, err
	}
	if len(damaged) > 0 {
		return made, damagedLog("making", damaged)
	}
	x, ok := b.Find(m.sheet)
	if ok && x.Entry.N != ask.Read {
		return made, &Problem{Code: Conflict, Message: x.Entry.Who + " has worked this out anew meanwhile.", Hint: "Look at the sheet as it stands now before a part is made by it."}
	}
	var faults meas.Faults
	part, err := m.record(ask, x)
	if err := taken(err, "", &faults); err != nil {
		return made, err
	}
	ask.Deed.Part = part.Part
	deed, err := m.intervene(ask.Deed)
	if err := taken(err, "deed.", &faults); err != nil {
		return made, err
	}
	made = making.Part{Number: part.Part, Recorded: part.N, Intervention: deed.N}
	for i, h := range held {
		made.Drawings = append(made.Drawings, making.File{Name: ask.Drawings[i].Name, SHA256: h.Sum(), Size: h.Size()})
	}
	if made.Number == "" { // its number is not known where the part cannot be
		made.Number = "1"
	}
	done, wrong := b.Add(making.Event{Entry: ledger.Entry{When: job.Instant(m.s.now()), Who: m.by}, Kind: making.Made, Sheet: m.sheet, Part: &made})
	if faults = append(faults, wrong...); len(faults)+len(ask.Unread) > 0 {
		return made, badInput(beside(ask.Unread, faults))
	}
	for _, h := range held { // the files are on the disk before the book names them
		if err := h.Keep(); err != nil {
			return made, err
		}
	}
	_, err = store.Append(m.tx, l, done)
	return made, err
}

// beside puts mistakes behind those that were found in reading; of a field that
// could not be read nothing else is said.
func beside(unread, more meas.Faults) meas.Faults {
	out := slices.Clone(unread)
	for _, f := range more {
		if !slices.ContainsFunc(unread, func(u meas.Fault) bool { return u.Field == f.Field }) {
			out = append(out, f)
		}
	}
	return out
}

// taken takes the mistakes of an error in, each under its field with a prefix;
// any other error stays.
func taken(err error, prefix string, into *meas.Faults) error {
	var p *Problem
	if err == nil || errors.As(err, &p) && len(p.Fields) > 0 {
		if p != nil {
			for _, f := range p.Fields {
				*into = append(*into, meas.Fault{Field: prefix + f.Field, Text: f.Text})
			}
		}
		return nil
	}
	return err
}

// record puts the part into the take-down ledger.
func (m partMaker) record(ask MakeAsk, x making.Standing) (parts.Event, error) {
	why := fmt.Sprintf("made new, by sheet %d of the making: %s", x.N, x.Title)
	e := parts.Event{Kind: parts.Recorded, Part: ask.Parent + ".", To: parts.Mended, Count: ask.Count, Detail: &ask.Detail}
	added, err := m.s.changeParts(m.tx, m.by, m.clock, why, addEvent(e))
	if err != nil || len(added) == 0 {
		return parts.Event{}, err
	}
	return added[0], nil
}

// intervene writes the line in the originality ledger.
func (m partMaker) intervene(v work.Intervention) (work.Intervention, error) {
	done, err := m.s.addDeedIn(m.tx, m.by, m.clock, work.Deed{Kind: work.Recorded, Intervention: v}, nil)
	return done.Intervention, err
}

// TakeBackPart takes back that a part was made: the part leaves the take-down
// ledger, its line the originality ledger, and both stay in their logs; the
// drawings stay too. Where something rests on the part the Problem says what,
// and nothing is taken back.
func (s *Shop) TakeBackPart(ctx context.Context, by string, clock int64, entry int) error {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		l, b, damaged, err := readMaking(tx, c)
		if err != nil {
			return err
		}
		if len(damaged) > 0 {
			return damagedLog("making", damaged)
		}
		log := b.Log()
		if entry < 1 || entry > len(log) || log[entry-1].Kind != making.Made {
			return badInput(meas.Faults{{Field: "n", Text: "No part was made by this entry"}})
		}
		done, faults := b.Add(making.Event{Entry: ledger.Entry{When: job.Instant(s.now()), Who: by, Undoes: entry}, Kind: making.Undone})
		if len(faults) > 0 {
			return badInput(faults)
		}
		m := partMaker{s: s, tx: tx, by: by, clock: c, sheet: log[entry-1].Sheet}
		if err := m.unmake(*log[entry-1].Part); err != nil {
			return err
		}
		_, err = store.Append(tx, l, done)
		return err
	})
	return explain(err)
}

// unmake takes the part and its line back, where they stand.
func (m partMaker) unmake(p making.Part) error {
	_, err := m.s.changeParts(m.tx, m.by, m.clock, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		if standing := l.Standing(); p.Recorded < 1 || p.Recorded > len(standing) || !standing[p.Recorded-1] {
			return nil, nil
		}
		head.Undoes = p.Recorded
		done, faults := l.Add(parts.Event{Entry: head})
		return []parts.Event{done}, faults
	})
	if err != nil {
		return err
	}
	for {
		_, o, damaged, err := readOriginality(m.tx, m.clock)
		if err != nil {
			return err
		}
		last, ok := o.Last(p.Intervention)
		if !ok || len(damaged) > 0 {
			return nil
		}
		if _, err := m.s.addDeedIn(m.tx, m.by, m.clock, work.Deed{Entry: ledger.Entry{Undoes: last.N}, Kind: work.Undone}, nil); err != nil {
			return err
		}
	}
}

// NotePart writes what a sheet found as a note on a part that is in the
// take-down ledger.
func (s *Shop) NotePart(ctx context.Context, by string, clock int64, sheet int, part parts.Number) error {
	m, err := s.Making(ctx, clock)
	if err != nil {
		return err
	}
	x, ok := m.Book.Find(sheet)
	if !ok {
		return badInput(meas.Faults{{Field: "part", Text: "There is no such sheet"}})
	}
	_, err = s.ChangeParts(ctx, by, clock, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		p, ok := l.Find(part)
		if !ok {
			return nil, meas.Faults{{Field: "part", Text: fmt.Sprintf("There is no part %q in the ledger of this clock; its number is like 2.1", meas.Clip(string(part)))}}
		}
		before, after := p.Detail, p.Detail
		if after.Note != "" {
			after.Note += "\n"
		}
		after.Note += fmt.Sprintf("%s (sheet %d: %s)", x.Gist, x.N, x.Title)
		done, faults := l.Add(parts.Event{Entry: head, Kind: parts.Described, Part: part, Before: &before, Detail: &after})
		return []parts.Event{done}, faults
	})
	return err
}
