package shop

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
)

// TestPartsAreConserved: whatever is moved, bathed, ticked, given up and taken
// back, in whatever order and whether or not it is refused, every piece that
// was recorded is in one state, the close-out comes out, and a part is in the
// bath exactly when a batch under way holds it.
func TestPartsAreConserved(t *testing.T) {
	w := morning()
	s, _ := bathShop(t, t.TempDir(), w)
	clock := 0
	rapid.Check(t, func(rt *rapid.T) {
		clock++
		c := add(t, s, job.Clock{Number: fmt.Sprintf("2027-%03d", clock)})
		var batches []string
		pieces := 0
		for range rapid.IntRange(1, 4).Draw(rt, "parts") {
			n := rapid.IntRange(1, 5).Draw(rt, "pieces")
			d := parts.Detail{Name: "wheel", Made: []clean.Material{clean.Brass}}
			if _, err := s.RecordPart(t.Context(), "tester", c.ID, "", "", parts.Event{To: parts.Off, Count: n, Detail: &d}, ""); err != nil {
				rt.Fatal(err)
			}
			pieces += n
		}
		for range rapid.IntRange(0, 12).Draw(rt, "deeds") {
			batches = deed(t, rt, s, c, batches)
			conserved(t, rt, s, c, pieces)
			held(t, rt, s, c)
		}
	})
}

// deed does one thing with a clock's parts; it may be refused.
func deed(t *testing.T, rt *rapid.T, s *Shop, c job.Clock, batches []string) []string {
	part := parts.Number(fmt.Sprint(rapid.IntRange(1, 4).Draw(rt, "part")))
	what := rapid.SampledFrom([]string{"begin", "tick", "tick", "tick", "undo tick", "give up", "close", "move", "move one", "split", "undo move"}).Draw(rt, "deed")
	switch what {
	case "begin":
		id, _, err := s.BeginBath(t.Context(), "tester", c.ID, BathAsk{Parts: []parts.Number{part}, Query: clean.Query{Liquid: clean.WaterBath}})
		if err == nil {
			batches = append(batches, id)
		}
	case "move":
		_ = s.MoveParts(t.Context(), "tester", c.ID, rapid.SampledFrom(parts.States()).Draw(rt, "to"), "why", part) // refused or not
	case "move one", "split":
		e := parts.Event{Kind: parts.Moved, Part: part, To: rapid.SampledFrom(parts.States()).Draw(rt, "to")}
		if what == "split" {
			e = parts.Event{Kind: parts.Split, Part: part, Count: 1}
		}
		_, _ = s.ChangePart(t.Context(), "tester", c.ID, e, "why") // refused or not
	case "undo move":
		d, err := s.TakeDown(t.Context(), c.ID)
		if err != nil {
			rt.Fatal(err)
		}
		_ = s.UndoParts(t.Context(), "tester", c.ID, rapid.IntRange(5, max(5, len(d.Ledger.Log()))).Draw(rt, "entry"))
	default:
		if len(batches) == 0 {
			return batches
		}
		b, err := s.Bath(t.Context(), rapid.SampledFrom(batches).Draw(rt, "batch"))
		if err != nil {
			rt.Fatal(err)
		}
		step, _ := b.Next()
		kind := map[string]bath.Kind{"tick": bath.Ticked, "undo tick": bath.Undone, "give up": bath.Abandoned, "close": bath.Closed}[what]
		_, _ = s.ChangeBath(t.Context(), "tester", b.ID, BathChange{Kind: kind, Seen: b.Entries, Step: step.Key, Words: "seen"})
	}
	return batches
}

// conserved fails where a piece is lost or doubled.
func conserved(t *testing.T, rt *rapid.T, s *Shop, c job.Clock, pieces int) {
	d, err := s.TakeDown(t.Context(), c.ID)
	if err != nil || len(d.Damaged) > 0 {
		rt.Fatal(err, d.Damaged)
	}
	tally := d.Ledger.Tally()
	sum := 0
	for _, n := range tally.Now {
		sum += n
	}
	if !tally.Holds() || sum != pieces {
		rt.Fatalf("%d pieces of %d: %+v", sum, pieces, tally)
	}
	out := d.Ledger.CloseOut()
	if out.CameOff+out.New != out.Back+out.Kept+out.UsedUp+out.Elsewhere {
		rt.Fatalf("the close-out does not come out: %+v", out)
	}
}

// held fails where a part is in the bath with no batch that holds it, or a
// batch holds a part that is not.
func held(t *testing.T, rt *rapid.T, s *Shop, c job.Clock) {
	d, err := s.TakeDown(t.Context(), c.ID)
	if err != nil {
		rt.Fatal(err)
	}
	all, err := s.Baths(t.Context(), c.ID)
	if err != nil {
		rt.Fatal(err)
	}
	holding := map[string]bool{} // by the batch
	for _, b := range all {
		if b.Ended() || dried(b) {
			continue
		}
		holding[b.ID] = true
		for _, piece := range b.Asked.Pieces {
			n, err := parts.ParseNumber(c.Number, piece.Number)
			p, ok := d.Ledger.Find(n)
			if err != nil || !ok || p.State != parts.InBath || p.Batch != b.ID {
				rt.Fatalf("the batch %s holds %s, which is %s with %q (%v)", b.ID, piece.Number, p.State, p.Batch, err)
			}
		}
	}
	for _, p := range d.Ledger.Parts() {
		if p.State == parts.InBath && !holding[p.Batch] {
			rt.Fatalf("%s is in the bath, and no batch under way holds it: %q", p.Number, p.Batch)
		}
	}
}
