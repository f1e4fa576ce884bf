package shop

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/label"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/labelsheet"
	"seatboard/internal/paper/pdf"
)

// labelBook is the kind of log that profiles, the address of the codes and
// first free positions are kept in; there is one for the shop.
const labelBook = "labels"

// LabelAsk is the labels of a clock as they are asked for.
type LabelAsk struct {
	Parts   []parts.Number // of these parts
	Clock   bool           // and one of the clock itself
	Ahead   int            // and of so many parts to come, under the next numbers
	Profile string         // by name; "" for the one printed with last
	Copies  int
	First   int    // the first free position; 0 for the one that is remembered
	Address string // what codes begin with; "" for the one that is kept
}

// LabelSheets is an order laid out, with what it was laid out by.
type LabelSheets struct {
	labelsheet.Laid
	Ask   LabelAsk // with profile, position and address filled in
	Clock job.Clock
}

// LabelSettings are the shop's profiles, with the address of its codes.
func (s *Shop) LabelSettings(ctx context.Context) (label.Settings, error) {
	var out label.Settings
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		out, _, _, err = labelSettings(tx)
		return err
	})
	return out, explain(err)
}

func labelSettings(tx *store.Tx) (label.Settings, store.Log, []label.Event, error) {
	l, err := tx.Log(labelBook, "")
	if err != nil {
		return label.Settings{}, l, nil, err
	}
	log, err := store.Entries[label.Event](tx, l)
	return label.Fold(log), l, log, err
}

// changeLabels puts events into the log of the shop, each with its head.
func (s *Shop) changeLabels(ctx context.Context, by string, change func(label.Settings) ([]label.Event, error)) error {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		settings, l, log, err := labelSettings(tx)
		if err != nil {
			return err
		}
		events, err := change(settings)
		if err != nil || len(events) == 0 {
			return err
		}
		for i := range events {
			events[i].Entry = ledger.Entry{N: ledger.Next(log) + i, When: job.Instant(s.now()), Who: by}
		}
		_, err = store.Append(tx, l, events...)
		return err
	})
	return explain(err)
}

// SaveLabelProfile keeps a profile under its name. seen is the entry that the
// person saw it at, 0 for one from the stock or a new one: where it was saved
// meanwhile the problem is a Conflict with both.
func (s *Shop) SaveLabelProfile(ctx context.Context, by string, seen int, p label.Profile) error {
	p.Name = strings.TrimSpace(p.Name)
	if f := p.Check(); len(f) > 0 {
		return AsProblem(f)
	}
	return s.changeLabels(ctx, by, func(have label.Settings) ([]label.Event, error) {
		k, ok := have.Find(p.Name)
		switch {
		case ok && k.Entry != seen:
			return nil, meanwhile(nil, profilesDiffer(k.Profile, p))
		case ok && reflect.DeepEqual(k.Profile, p):
			return nil, nil
		}
		return []label.Event{{Kind: label.Saved, Name: p.Name, Profile: &p}}, nil
	})
}

// profilesDiffer lists in what two profiles differ.
func profilesDiffer(a, b label.Profile) []job.Change {
	var out []job.Change
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	for i := range x.NumField() {
		before, after := fmt.Sprint(x.Field(i).Interface()), fmt.Sprint(y.Field(i).Interface())
		if before != after {
			field, _, _ := strings.Cut(x.Type().Field(i).Tag.Get("json"), ",")
			out = append(out, job.Change{Field: strings.ReplaceAll(field, "_", " "), Before: before, After: after})
		}
	}
	return out
}

// RemoveLabelProfile takes a profile out of the list; the log keeps it.
func (s *Shop) RemoveLabelProfile(ctx context.Context, by, name string) error {
	return s.changeLabels(ctx, by, func(have label.Settings) ([]label.Event, error) {
		k, ok := have.Find(name)
		if !ok || name == "" {
			return nil, noProfile(have, name)
		}
		return []label.Event{{Kind: label.Removed, Name: k.Name, Profile: &k.Profile}}, nil
	})
}

// SetLabelAddress keeps what codes begin with.
func (s *Shop) SetLabelAddress(ctx context.Context, by, address string) error {
	address, f := label.CheckAddress(address)
	if len(f) > 0 {
		return AsProblem(f)
	}
	return s.changeLabels(ctx, by, func(have label.Settings) ([]label.Event, error) {
		if have.Address == address {
			return nil, nil
		}
		return []label.Event{{Kind: label.Addressed, Address: address}}, nil
	})
}

// noProfile names the profiles there are.
func noProfile(have label.Settings, name string) error {
	var names []string
	for _, k := range have.Profiles {
		names = append(names, "“"+k.Name+"”")
	}
	return AsProblem(meas.Faults{{Field: "profile", Text: fmt.Sprintf("There is no profile “%s”; there are %s", meas.Clip(name), strings.Join(names, ", "))}})
}

// LayLabels lays the labels of a clock out; nothing is kept.
func (s *Shop) LayLabels(ctx context.Context, clock int64, ask LabelAsk) (LabelSheets, error) {
	t, err := s.TakeDown(ctx, clock)
	if err != nil {
		return LabelSheets{}, err
	}
	have, err := s.LabelSettings(ctx)
	if err != nil {
		return LabelSheets{}, err
	}
	k, ok := have.Find(ask.Profile)
	if !ok {
		return LabelSheets{}, noProfile(have, ask.Profile)
	}
	ask.Profile = k.Name
	if ask.First == 0 {
		ask.First = min(k.Free, max(k.OnSheet(), 1)) // a sheet may have got fewer labels since
	}
	if ask.Address == "" {
		ask.Address = have.Address
	}
	address, _ := label.CheckAddress(ask.Address) // what is wrong with it comes with the rest
	ask.Address = address
	o := labelsheet.Order{Profile: k.Profile, Address: address, Copies: ask.Copies, First: ask.First}
	var faults meas.Faults
	var found condition.Record
	if err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		_, found, _, err = readCondition(tx, t.Clock)
		return err
	}); err != nil {
		return LabelSheets{}, explain(err)
	}
	if o.Labels, faults = labelsOf(t, found, ask); len(faults) > 0 {
		return LabelSheets{}, AsProblem(faults)
	}
	laid, err := labelsheet.Lay(o)
	if errors.As(err, &faults) {
		return LabelSheets{}, AsProblem(err)
	}
	return LabelSheets{laid, ask, t.Clock}, err
}

// mostAhead is how many labels are made ahead: bags for a whole clock.
const mostAhead = 300

// labelsOf is what stands on each label: words, cautions and code from the
// record as it is now.
func labelsOf(t TakeDown, found condition.Record, ask LabelAsk) ([]labelsheet.Label, meas.Faults) {
	var out []labelsheet.Label
	var faults meas.Faults
	if ask.Clock {
		out = append(out, labelsheet.Label{Clock: t.Clock.Number, Name: t.Clock.Title, Short: label.Short(t.Clock.UID, ""), Cautions: briefly(clockHazards(found))})
	}
	if ask.Ahead < 0 || ask.Ahead > mostAhead {
		faults = append(faults, meas.Fault{Field: "ahead", Text: fmt.Sprintf("Labels can be made ahead for %d parts at most", mostAhead)})
		ask.Ahead = 0
	}
	for _, n := range ask.Parts {
		p, ok := t.Ledger.Find(n)
		if !ok {
			faults = append(faults, meas.Fault{Field: "part", Text: fmt.Sprintf("There is no part %s in the ledger of this clock", n)})
			continue
		}
		name := p.Name
		if p.Count != 1 {
			name = strings.TrimSpace(fmt.Sprintf("%d %s", p.Count, name))
		}
		out = append(out, labelsheet.Label{Clock: t.Clock.Number, Part: string(p.Number), Name: name, Short: label.Short(t.Clock.UID, p.Number), Cautions: briefly(hazardsOfPart(t.Ledger, found, n))})
	}
	next := t.Ledger.Next("")
	for range ask.Ahead {
		out = append(out, labelsheet.Label{Clock: t.Clock.Number, Part: string(next), Short: label.Short(t.Clock.UID, next)})
		next = next.After()
	}
	return out, faults
}

// clockHazards are the cautions that were found on a clock.
func clockHazards(found condition.Record) (out []clean.Hazard) {
	for _, h := range found.AllHazards() {
		out = append(out, h.Hazard)
	}
	return out
}

// briefly is cautions as labels say them.
func briefly(all []clean.Hazard) (out []clean.Brief) {
	for _, h := range all {
		if b, ok := h.Brief(); ok {
			out = append(out, b)
		}
	}
	return out
}

// PrintLabels lays labels out as PDF, and remembers the profile, the address
// and the position that is free then.
func (s *Shop) PrintLabels(ctx context.Context, by string, clock int64, ask LabelAsk) ([]byte, LabelSheets, error) {
	l, err := s.LayLabels(ctx, clock, ask)
	if err != nil {
		return nil, l, err
	}
	b, err := pdf.Sheets("Labels of "+l.Clock.Number, s.now().Local(), l.Sheets...)
	if err != nil {
		return nil, l, err
	}
	err = s.changeLabels(ctx, by, func(have label.Settings) ([]label.Event, error) {
		events := []label.Event{{Kind: label.Printed, Name: l.Ask.Profile, Next: l.Next, Labels: l.Labels}}
		if have.Address != l.Ask.Address {
			events = append(events, label.Event{Kind: label.Addressed, Address: l.Ask.Address})
		}
		return events, nil
	})
	return b, l, err
}

// LabelTestPage is the page by which a printer is measured, as PDF.
func (s *Shop) LabelTestPage(ctx context.Context, profile string, corrected bool) ([]byte, error) {
	have, err := s.LabelSettings(ctx)
	if err != nil {
		return nil, err
	}
	k, ok := have.Find(profile)
	if !ok {
		return nil, noProfile(have, profile)
	}
	sheet, err := labelsheet.TestSheet(k.Profile, corrected)
	if err != nil {
		return nil, AsProblem(err)
	}
	return pdf.Sheets("Test page, "+k.Name, s.now().Local(), sheet)
}

// Meant is what a short id may mean.
type Meant struct {
	Clock  job.Summary
	Number parts.Number // "" for the clock itself
	Part   *parts.Part  // as it stands; nil where the ledger has none of that number
}

// mostMeant is how many clocks that share a short id are told apart.
const mostMeant = 10

// ShortID finds what a short id means: one clock, none, or, where two clocks
// share it, both. ok is false for what is no short id at all.
func (s *Shop) ShortID(ctx context.Context, text string) (id label.ID, found []Meant, ok bool, err error) {
	if id, ok = label.Parse(text); !ok {
		return id, nil, false, nil
	}
	var clocks []job.Clock
	err = s.store.View(ctx, func(tx *store.Tx) (err error) {
		from, to := id.UIDs()
		clocks, err = tx.ClocksBetween(from, to, mostMeant)
		return err
	})
	for _, c := range clocks {
		m := Meant{Clock: c.Summary(), Number: id.Number}
		if id.Number != "" && err == nil {
			var t TakeDown
			if t, err = s.TakeDown(ctx, c.ID); err == nil {
				if p, there := t.Ledger.Find(id.Number); there {
					m.Part = &p
				}
			}
		}
		found = append(found, m)
	}
	return id, found, true, explain(err)
}
