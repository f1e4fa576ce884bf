package present

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Clean sets out whether a batch may go into its bath.
func Clean(a clean.Answer) doc.Doc {
	d := doc.Doc{Title: "Cleaning batch", Lead: bathLead(a)}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: verdictWords(a)}}}
	if f := bathFacts(a); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	var refused []meas.Finding
	for _, r := range a.Refusals {
		refused = append(refused, r.Finding)
	}
	open.Body = append(open.Body, titled(notices(refused), "Not in this bath")...)
	open.Body = append(open.Body, titled(notices(a.Questions), "To be answered first")...)
	open.Body = append(open.Body, titled(notices(a.Findings), "With care")...)
	open.Margin = bathMargin(a, refused)
	d.Sections = append(d.Sections, open)
	if len(a.Hazards) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "What can hurt", Body: cautions(a.Hazards)})
	}
	if t := cellTable(a); len(t.Rows) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Part by part", Body: []doc.Block{t}})
	}
	if len(a.Steps) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Steps", Body: []doc.Block{stepTable(a)}})
	}
	return d
}

// titled gives framed sentences that do not warn of a danger a title of their
// own.
func titled(blocks []doc.Block, title string) []doc.Block {
	for i, b := range blocks {
		if n, ok := b.(doc.Notice); ok && n.Kind != doc.CautionNotice {
			n.Title = title
			blocks[i] = n
		}
	}
	return blocks
}

func bathLead(a clean.Answer) string {
	lead := a.Liquid.Name
	if a.Query.Product != "" {
		lead = a.Query.Product + ", " + lead
	}
	if n := len(a.Query.Pieces); n == 1 {
		return lead + ", 1 part"
	} else if n > 1 {
		return fmt.Sprintf("%s, %d parts", lead, n)
	}
	return lead
}

func verdictWords(a clean.Answer) string {
	switch a.Verdict {
	case clean.Go:
		return "It may go in."
	case clean.WithCare:
		return "It may go in, with care."
	case clean.Ask:
		return "Not yet: answer the questions first."
	}
	if a.Hard() {
		return "It must not go in, for the safety of people."
	}
	return "It must not go in."
}

func bathFacts(a clean.Answer) doc.Facts {
	var f doc.Facts
	if a.Limit.Set {
		f = append(f, doc.Fact{Label: "Longest in the bath", Value: unit.Number(unit.In(a.Limit.Value, "min"), 0), Unit: "min", Note: "common practice, no source"})
	}
	flash := doc.Fact{Label: "Flash point"}
	switch a.FlashFrom {
	case clean.FromSheet, clean.FromTable:
		flash.Value, flash.Unit = unit.Number(unit.In(a.Flash.Value, "°C"), 0), "°C"
		flash.Note = map[string]string{clean.FromSheet: "of the data sheet", clean.FromTable: "of the table: read the data sheet"}[a.FlashFrom]
	case clean.NoneSheet:
		flash.Value, flash.Note = "none", "by the data sheet"
	case clean.FromWater:
		flash.Value, flash.Note = "none", "water"
	case clean.NotKnown:
		flash.Value, flash.Note = "not known", "read the data sheet"
	default:
		return f
	}
	return append(f, flash)
}

func bathMargin(a clean.Answer, refused []meas.Finding) []doc.Block {
	out := remarks(a.Findings)
	if len(a.Working) > 0 {
		out = append(out, doc.Working{Title: "Working", Steps: a.Working})
	}
	var refs []cite.Ref
	for _, c := range a.Cells {
		refs = append(refs, c.Ref)
	}
	said := append(append(refused[:len(refused):len(refused)], a.Questions...), a.Findings...)
	if s := sources(a.Working, said, refs...); len(s.Refs) > 0 {
		out = append(out, s)
	}
	return out
}

// cautions sets hazards as framed sentences with their authority.
func cautions(list []clean.Hazard) []doc.Block {
	var out []doc.Block
	for _, h := range list {
		out = append(out, caution(h, "Before you touch it"))
	}
	return out
}

func caution(h clean.Hazard, title string) doc.Notice {
	return doc.Notice{Kind: doc.CautionNotice, Title: title, Text: h.Text, Next: "Authority: " + h.Authority + ". " + clean.LastWord, Ref: h.Ref}
}

func cellTable(a clean.Answer) doc.Table {
	t := doc.Table{Caption: "What this liquid does", Columns: []doc.Column{{Head: "Part"}, {Head: "Is or carries"}, {Head: "In this liquid"}, {Head: "Because"}, {Head: "From"}}}
	for _, c := range a.Cells {
		t.Rows = append(t.Rows, []string{strings.TrimSpace(c.Piece + " " + c.Name), c.Material.Words(), effectWords(c.Cell), c.Reason, c.Ref.String()})
	}
	return t
}

func effectWords(c clean.Cell) string {
	words := map[clean.Effect]string{clean.OK: "may go in", clean.Care: "with care", clean.Test: "try one first", clean.No: "no"}[c.Effect]
	if c.Short {
		words += ", short"
	}
	return words
}

// stepTable is the steps with a column left blank for the time.
func stepTable(a clean.Answer) doc.Table {
	t := doc.Table{Caption: "Tick each with its time", Columns: []doc.Column{{Head: "Step"}, {Head: "What"}, {Head: "Done at"}}, Note: "The batch closes when all are ticked."}
	for _, s := range a.Steps {
		t.Rows = append(t.Rows, []string{s.Name, s.What, ""})
	}
	return t
}
