package present

import (
	"slices"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/text"
)

func shownWhole(d doc.Doc) string { return text.Render(d, text.Options{Width: 132, Working: true}) }

func cleaned(t *testing.T, q clean.Query) clean.Answer {
	t.Helper()
	a, err := clean.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The documents of a batch that must not go in, and of one that may.
func TestCleanGolden(t *testing.T) {
	check.Golden(t, "clean-refused.txt", shownWhole(Clean(cleaned(t, clean.Query{
		Liquid: clean.Alcohol, Ultrasound: true, Time: meas.Of[unit.Duration](25 * 60),
		Pieces: []clean.Piece{
			{Number: "2026-014.1", Name: "third wheel", Materials: []clean.Material{clean.Brass, clean.Steel}},
			{Number: "2026-014.2", Name: "pallets", Materials: []clean.Material{clean.Steel, clean.Shellac}},
			{Number: "2026-014.3", Name: "hand", Materials: []clean.Material{clean.Radium}},
			{Number: "2026-014.4", Name: "click"},
		}}))))
	check.Golden(t, "clean-care.txt", shownWhole(Clean(cleaned(t, clean.Query{
		Liquid: clean.BrassLiquid, NoFlash: true, Blue: true, Uses: 3, Age: meas.Of[unit.Duration](40 * 86400),
		Pieces: []clean.Piece{{Number: "2026-014.5", Name: "front plate", Materials: []clean.Material{clean.Brass}}}}))))
}

// Every caution stands on the page with its authority and defers to the law.
func TestCautionsCarryTheirAuthority(t *testing.T) {
	d := Clean(cleaned(t, clean.Query{Liquid: clean.BrassLiquid, Pieces: []clean.Piece{{Number: "1", Materials: []clean.Material{clean.Radium, clean.Lead, clean.Gilt, clean.Spring}}}}))
	n := 0
	for _, s := range d.Sections {
		for _, b := range s.Body {
			if c, ok := b.(doc.Notice); ok && c.Kind == doc.CautionNotice {
				n++
				if !strings.Contains(c.Next, clean.LastWord) || c.Ref.String() == "" {
					t.Errorf("%q: %q, %s", c.Text, c.Next, c.Ref)
				}
			}
		}
	}
	if n < 5 {
		t.Errorf("%d cautions, want radium twice, lead, mercury, the spring and ammonia", n)
	}
}

func TestCloseOutGolden(t *testing.T) {
	var l parts.Ledger
	add := func(e parts.Event) {
		t.Helper()
		e.Who, e.When = "Ada", time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
		if _, f := l.Add(e); len(f) > 0 {
			t.Fatal(f)
		}
	}
	check.Golden(t, "closeout-empty.txt", shownWhole(CloseOut("2026-014", &l)))
	add(parts.Event{Kind: parts.Recorded, Count: 1, To: parts.Off, Detail: &parts.Detail{Name: "third wheel", Place: "tray 2"}})
	add(parts.Event{Kind: parts.Recorded, Count: 4, To: parts.Off, Detail: &parts.Detail{Name: "plate screws", Place: "bag 7", Repair: "one head filed"}})
	add(parts.Event{Kind: parts.Recorded, Count: 2, To: parts.OnClock, Detail: &parts.Detail{Name: "pillar", Place: parts.LeftInPlace}})
	add(parts.Event{Kind: parts.Recorded, Count: 1, To: parts.Mended, Entry: ledger.Entry{Why: "teeth gone"}, Detail: &parts.Detail{Name: "third wheel", Replaces: "1"}})
	add(parts.Event{Kind: parts.Moved, Part: "1", To: parts.Kept, Entry: ledger.Entry{Why: "original, in the case"}})
	add(parts.Event{Kind: parts.Split, Part: "2", Count: 1})
	add(parts.Event{Kind: parts.Moved, Part: "2", To: parts.BackOn})
	add(parts.Event{Kind: parts.Moved, Part: "4", To: parts.BackOn})
	check.Golden(t, "closeout-open.txt", shownWhole(CloseOut("2026-014", &l)))
	add(parts.Event{Kind: parts.Moved, Part: "5", To: parts.BackOn})
	add(parts.Event{Kind: parts.Described, Part: "2", Detail: &parts.Detail{Name: "plate screws", Place: "bag 7", Repair: "one head filed", Looked: "sound"}})
	if got := shownWhole(CloseOut("2026-014", &l)); strings.Contains(got, "waits") || !strings.Contains(got, "Everything is accounted for") {
		t.Error(got)
	}
}

func TestEstimateGolden(t *testing.T) {
	h := func(x float64) meas.Reading[unit.Duration] { return meas.Of(unit.Duration(x * 3600)) }
	q := estimate.Query{Seed: 1, Tasks: []estimate.Task{
		{N: 1, What: "Take down and clean", Low: h(6), Likely: h(8), High: h(14)},
		{N: 2, What: "Third wheel", Low: h(4), Likely: h(6), High: h(12), Decision: estimate.Replace, Why: "eleven teeth gone", CanUndo: "freely, the old one is kept"},
		{N: 3, What: "Dial", LeftOut: true, Low: h(0), Likely: h(0), High: h(0), Decision: estimate.Keep},
	}}
	answer := func() estimate.Answer {
		a, err := estimate.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	check.Golden(t, "estimate-tasks.txt", shownWhole(Estimate(answer(), Worked{})))
	for _, r := range []float64{1.1, 1.4, 0.9, 1.2} {
		q.Finished = append(q.Finished, estimate.Finished{Job: "x", Estimated: 36000, Actual: unit.Duration(36000 * r)})
	}
	check.Golden(t, "estimate-learned.txt", shownWhole(Estimate(answer(), Worked{})))
	if d := Estimate(estimate.Answer{}, Worked{}); len(d.Sections) != 1 || slices.ContainsFunc(d.Sections[0].Body, func(b doc.Block) bool { _, say := b.(doc.Say); return say }) {
		t.Errorf("of nothing: %+v", d)
	}
}
