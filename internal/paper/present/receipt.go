package present

import (
	"cmp"
	"strconv"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/doc"
)

// Receipt is what the owner is given when a clock is left: whose it is, what
// it is, the loose pieces counted, its state as it was seen, and lines to
// sign on. All words are those of the record.
func Receipt(c job.Clock) doc.Doc {
	d := doc.Doc{Title: "Receipt for clock " + c.Number, Lead: c.Title}
	open := doc.Section{Body: []doc.Block{receiptFacts(c)}}
	if c.Owner.Note != "" {
		open.Body = append(open.Body, doc.Para{Text: "The owner says and wishes: " + c.Owner.Note})
	}
	d.Sections = append(d.Sections, open, receiptObject(c), receiptPieces(c))
	d.Sections = append(d.Sections, doc.Section{Heading: "Signed", Body: []doc.Block{
		doc.Para{Text: "What is listed here was handed over and received. This is no estimate and no valuation; nothing is done to the clock before the owner has agreed to it."},
		doc.Blanks{Rows: [][]string{{"Handed over by (name and signature)", "Day"}, {"Received by (name and signature)", "Day"}}},
	}})
	return d
}

func receiptFacts(c job.Clock) doc.Facts {
	f := doc.Facts{{Label: "Owner", Value: cmp.Or(c.Owner.Name, "not written down"), Note: c.Owner.Contact}}
	if !c.Created.IsZero() {
		f = append(f, doc.Fact{Label: "Taken into the book", Value: c.Created.Local().Format("2006-01-02")})
	}
	if c.Promise != "" {
		f = append(f, doc.Fact{Label: "Promised for", Value: c.Promise})
	}
	return f
}

// receiptObject is what the record says of the object, state and damage with
// it: what is not written down is not printed.
func receiptObject(c job.Clock) doc.Section {
	s := doc.Section{Heading: "The clock, and the state it came in"}
	t := doc.Table{Caption: "As written down when it came", Columns: []doc.Column{{Head: "What"}, {Head: "As written"}}}
	for _, l := range job.Checklist(c) {
		if l.Stated {
			t.Rows = append(t.Rows, []string{l.Category, l.Value})
		}
	}
	if len(t.Rows) == 0 {
		s.Body = []doc.Block{doc.Para{Text: "Nothing is written down of it yet. Damage that is there already is best written here before both sign."},
			doc.Blanks{Rows: [][]string{{"Damage that is there already"}, {"Old repairs seen"}}}}
		return s
	}
	s.Body = []doc.Block{t}
	if c.Object.Features == "" {
		s.Body = append(s.Body, doc.Blanks{Rows: [][]string{{"Damage and old repairs, seen together"}}})
	}
	return s
}

// receiptPieces counts the loose pieces.
func receiptPieces(c job.Clock) doc.Section {
	s := doc.Section{Heading: "Loose pieces"}
	pieces := c.StandingPieces()
	if len(pieces) == 0 {
		s.Body = []doc.Block{doc.Para{Text: "No loose piece is written down: weight, pendulum, key, crank or finial, if one came, is to be listed before both sign."}}
		return s
	}
	t := doc.Table{Caption: "Came with the clock", Columns: []doc.Column{{Head: "Piece"}, {Head: "How many", Number: true}, {Head: "Here"}, {Head: "Note"}}}
	for _, p := range pieces {
		here := "not handed over"
		if p.Received {
			here = "yes"
		}
		t.Rows = append(t.Rows, []string{p.What, cmp.Or(p.Count, "not counted"), here, p.Note})
	}
	s.Body = []doc.Block{doc.Say{Text: piecesSaid(pieces)}, t}
	return s
}

// piecesSaid is how many pieces are here; where a count is no number that is
// said and nothing is added up.
func piecesSaid(pieces []job.Piece) string {
	sum, here, uncounted := 0, 0, 0
	for _, p := range pieces {
		if !p.Received {
			continue
		}
		here++
		n, err := strconv.Atoi(strings.TrimSpace(p.Count))
		if err != nil || n < 0 || n > 10000 {
			uncounted++
			continue
		}
		sum += n
	}
	switch {
	case here == 0:
		return "None of the pieces listed was handed over."
	case uncounted > 0:
		return "Of " + many(here, "line", "lines") + " handed over, " + many(uncounted, "has", "have") + " no count in figures; the others come to " + many(sum, "piece", "pieces") + "."
	case here < len(pieces):
		return many(sum, "piece", "pieces") + " handed over; " + many(len(pieces)-here, "line is", "lines are") + " not here."
	}
	return many(sum, "piece", "pieces") + " handed over."
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}
