package shop

import (
	"context"
	"fmt"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// DetailsDiffer lists the texts in which two details of a part differ.
func DetailsDiffer(a, b parts.Detail) []job.Change {
	var out []job.Change
	for _, t := range [][3]string{{"name", a.Name, b.Name}, {"place", a.Place, b.Place}, {"way round", a.Way, b.Way}, {"index mark", a.Mark, b.Mark}, {"earlier repair", a.Repair, b.Repair},
		{"second look", a.Looked, b.Looked}, {"material", a.Material, b.Material}, {"made of", madeWords(a.Made), madeWords(b.Made)}, {"replaces", string(a.Replaces), string(b.Replaces)}, {"note", a.Note, b.Note}} {
		if t[1] != t[2] {
			out = append(out, job.Change{Field: t[0], Before: t[1], After: t[2]})
		}
	}
	return out
}

func madeWords(made []clean.Material) string {
	var words []string
	for _, m := range made {
		words = append(words, m.Words())
	}
	return strings.Join(words, "; ")
}

// PlaceAsk is parts that go into another place together.
type PlaceAsk struct {
	Parts []parts.Number
	From  string // and all that lie in this place; "" for none
	Into  string
}

// PlaceParts puts parts into a place, all or none; what lies there already
// stays as it is. A box that is carried elsewhere takes along what lies in it:
// From names it.
func (s *Shop) PlaceParts(ctx context.Context, by string, clock int64, ask PlaceAsk) (moved []parts.Number, err error) {
	ask.Into = strings.TrimSpace(ask.Into)
	_, err = s.ChangeParts(ctx, by, clock, "", func(l *parts.Ledger, head ledger.Entry) (out []parts.Event, faults meas.Faults) {
		moved = nil
		wanted := map[parts.Number]bool{}
		for _, n := range ask.Parts {
			if _, ok := l.Find(n); !ok {
				faults = append(faults, meas.Fault{Field: "part", Text: fmt.Sprintf("There is no part %s in the ledger of this clock", meas.Clip(string(n)))})
			}
			wanted[n] = true
		}
		if ask.Into == "" {
			faults = append(faults, meas.Fault{Field: "into", Text: "Write where they go, like tray 3"})
		}
		for _, p := range l.Parts() {
			if !wanted[p.Number] && (ask.From == "" || p.Place != ask.From) || len(faults) > 0 || p.Place == ask.Into {
				continue
			}
			d := p.Detail
			d.Place = ask.Into
			e, f := l.Add(parts.Event{Entry: head, Kind: parts.Described, Part: p.Number, Detail: &d})
			if faults = append(faults, f...); len(f) == 0 {
				out, moved = append(out, e), append(moved, p.Number)
			}
		}
		if len(out)+len(faults) == 0 {
			faults = meas.Faults{{Field: "part", Text: "Tick the parts that go there, or choose the place whose parts all do"}}
			if len(ask.Parts) > 0 || ask.From != "" {
				faults[0].Text = fmt.Sprintf("They lie in “%s” already", meas.Clip(ask.Into))
			}
		}
		return out, faults
	})
	return moved, err
}

// PhotographedParts tells which parts of a clock a photograph shows.
func (s *Shop) PhotographedParts(ctx context.Context, clock int64) (shot map[parts.Number]bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) error {
		shot, err = tx.PhotographedParts(clock)
		return err
	})
	return shot, explain(err)
}
