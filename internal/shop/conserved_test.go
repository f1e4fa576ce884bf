package shop

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
)

// TestPartsAreConserved: whatever is moved, bathed, ticked, given up and taken
// back, in whatever order and whether or not it is refused, every piece that
// was recorded is in one state, and the close-out comes out.
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
		}
	})
}

// deed does one thing with a clock's parts; it may be refused.
func deed(t *testing.T, rt *rapid.T, s *Shop, c job.Clock, batches []string) []string {
	part := parts.Number(fmt.Sprint(rapid.IntRange(1, 4).Draw(rt, "part")))
	what := rapid.SampledFrom([]string{"begin", "tick", "tick", "tick", "undo tick", "give up", "close", "move", "undo move"}).Draw(rt, "deed")
	switch what {
	case "begin":
		id, _, err := s.BeginBath(t.Context(), "tester", c.ID, BathAsk{Parts: []parts.Number{part}, Query: clean.Query{Liquid: clean.WaterBath}})
		if err == nil {
			batches = append(batches, id)
		}
	case "move":
		byHand := slices.DeleteFunc(parts.States(), func(s parts.State) bool { return s == parts.InBath })  // into a bath without a batch
		_ = s.MoveParts(t.Context(), "tester", c.ID, rapid.SampledFrom(byHand).Draw(rt, "to"), "why", part) // refused or not
	case "undo move":
		d, err := s.TakeDown(t.Context(), c.ID)
		if err != nil {
			rt.Fatal(err)
		}
		_ = s.UndoParts(t.Context(), "tester", c.ID, rapid.IntRange(5, len(d.Ledger.Log())+5).Draw(rt, "entry"))
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
