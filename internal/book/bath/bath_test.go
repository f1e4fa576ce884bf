package bath

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var start = time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)

func head(minutes int, why string) ledger.Entry {
	return ledger.Entry{When: start.Add(time.Duration(minutes) * time.Minute), Who: "A. Bench", Why: why}
}

func query(m ...clean.Material) clean.Query {
	return clean.Query{Liquid: clean.WaterBath, Pieces: []clean.Piece{{Number: "1.1", Name: "wheel", Materials: m}}}
}

func begun(t *testing.T) Batch {
	t.Helper()
	e, _, f := Begin(head(0, ""), query(clean.Brass), "blue jar", nil)
	if len(f) > 0 {
		t.Fatal(f)
	}
	b, err := Fold([]Event{e})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func tick(minutes int, step, seen string) Event {
	return Event{Entry: head(minutes, seen), Kind: Ticked, Step: step}
}

func TestBatchFromBathToClose(t *testing.T) {
	b := begun(t)
	if got := b.Left(start.Add(5 * time.Minute)); got != 15*time.Minute || !b.InLiquid() {
		t.Errorf("left after five minutes: %v", got)
	}
	if now := start.Add(21 * time.Minute); !b.Rings(now) || b.Left(now) != -time.Minute {
		t.Errorf("a minute over: %v, rings %v", b.Left(now), b.Rings(now))
	}
	for i, s := range clean.Steps() {
		if f := b.Add(Event{Entry: head(i, ""), Kind: Closed}); len(f) != 1 {
			t.Errorf("closed before %s: %v", s.Key, f)
		}
		for _, later := range clean.Steps()[i+1:] {
			if f := b.Add(tick(i+10, later.Key, "clean")); len(f) != 1 {
				t.Errorf("%s before %s: %v", later.Key, s.Key, f)
			}
		}
		if f := b.Add(tick(i+10, s.Key, "clean, counted")); len(f) > 0 {
			t.Errorf("%s: %v", s.Key, f)
		}
		if f := b.Add(tick(i+10, s.Key, "again")); len(f) != 1 {
			t.Errorf("%s twice: %v", s.Key, f)
		}
	}
	if f := b.Add(Event{Entry: head(30, ""), Kind: Closed}); len(f) > 0 || !b.Ended() {
		t.Error(f)
	}
	if b.Rings(start.Add(time.Hour)) || b.Left(start.Add(time.Hour)) != 10*time.Minute {
		t.Errorf("after the end: %v", b.Left(start.Add(time.Hour)))
	}
	if f := b.Add(tick(40, clean.BathStep, "")); len(f) != 1 {
		t.Errorf("a tick after closing: %v", f)
	}
	if f := b.Add(Event{Entry: ledger.Entry{When: start, Who: "A", Undoes: 2}}); len(f) < 2 || !strings.Contains(f[0].Text, "lean") {
		t.Errorf("the first tick is undone under the others: %v", f)
	}
	last := len(b.Log())
	if f := b.Add(Event{Entry: ledger.Entry{When: start, Who: "A", Undoes: last}}); len(f) > 0 || b.Ended() {
		t.Errorf("closing is not undone: %v", f)
	}
}

func TestTicksDoNotGoBack(t *testing.T) {
	b := begun(t)
	if f := b.Add(tick(-1, clean.BathStep, "")); len(f) != 1 {
		t.Errorf("out before it was in: %v", f)
	}
	if f := b.Add(tick(10, clean.BathStep, "")); len(f) > 0 {
		t.Fatal(f)
	}
	if f := b.Add(tick(9, clean.RinseStep, "")); len(f) != 1 {
		t.Errorf("rinsed before it was out: %v", f)
	}
}

func TestInspectionSaysWhatWasSeen(t *testing.T) {
	b := begun(t)
	for i, s := range clean.Steps()[:4] {
		if f := b.Add(tick(i, s.Key, "")); len(f) > 0 {
			t.Fatal(f)
		}
	}
	if f := b.Add(tick(9, clean.InspectStep, " ")); len(f) != 1 {
		t.Errorf("an inspection without a word: %v", f)
	}
}

func TestBegin(t *testing.T) {
	for name, c := range map[string]struct {
		q         clean.Query
		overruled map[string]string
		faults    int
	}{
		"may go in":               {query(clean.Brass), nil, 0},
		"silvered, no reason":     {query(clean.Silvered), nil, 1},
		"silvered, blank reason":  {query(clean.Silvered), map[string]string{"material": "  "}, 1},
		"silvered, with a reason": {query(clean.Silvered), map[string]string{"material": "the silvering is gone and is to be renewed"}, 0},
		"radium, with a reason":   {query(clean.Radium), map[string]string{"radium": "I know", "material": "I know"}, 1},
		"not known":               {query(clean.Unknown), map[string]string{"material": "it looks like brass"}, 1},
		"radium and not known":    {query(clean.Radium, clean.Unknown), nil, 2},
		"a mistake in the query":  {clean.Query{Liquid: "paraffin"}, nil, 1},
	} {
		e, a, f := Begin(head(0, ""), c.q, "", c.overruled)
		if len(f) != c.faults {
			t.Errorf("%s: %v", name, f)
		}
		if c.faults == 0 && (e.Plan == nil || len(e.Plan.Refused) != len(a.Refusals)) {
			t.Errorf("%s: %+v", name, e.Plan)
		}
	}
}

func TestLongerNeedsAReason(t *testing.T) {
	b := begun(t)
	later := Event{Entry: head(5, ""), Kind: Moved, Until: start.Add(25 * time.Minute)}
	if f := b.Add(later); len(f) != 1 {
		t.Errorf("longer without a reason: %v", f)
	}
	later.Why = "still black"
	if f := b.Add(later); len(f) > 0 || b.Left(start) != 25*time.Minute {
		t.Errorf("%v %v", f, b.Left(start))
	}
	if f := b.Add(Event{Entry: head(6, ""), Kind: Moved, Until: start.Add(7 * time.Minute)}); len(f) > 0 {
		t.Errorf("shorter: %v", f)
	}
}

func TestMovesParts(t *testing.T) {
	for _, c := range []struct {
		e    Event
		want parts.State
	}{{Event{Kind: Begun}, parts.InBath}, {Event{Kind: Ticked, Step: clean.DryStep}, parts.Dry}, {Event{Kind: Ticked, Step: clean.RinseStep}, ""}, {Event{Kind: Closed}, ""}} {
		if got, ok := c.e.MovesParts(); got != c.want || ok != (c.want != "") {
			t.Errorf("%s %s: %q", c.e.Kind, c.e.Step, got)
		}
	}
}

// Whatever is done in whatever order, a batch is closed only with all five
// steps in order, and the log alone gives the same batch again.
func TestClosedMeansEveryStep(t *testing.T) {
	keys := []string{"nonsense"}
	for _, s := range clean.Steps() {
		keys = append(keys, s.Key)
	}
	rapid.Check(t, func(t *rapid.T) {
		q := query(clean.Brass)
		q.Time = meas.Of(unit.Duration(rapid.IntRange(1, 1200).Draw(t, "seconds")))
		e, _, f := Begin(head(0, ""), q, "", nil)
		if len(f) > 0 {
			t.Fatal(f)
		}
		b, err := Fold([]Event{e})
		if err != nil {
			t.Fatal(err)
		}
		for i := range rapid.IntRange(0, 30).Draw(t, "events") {
			next := Event{Entry: head(i, "seen"), Kind: rapid.SampledFrom([]Kind{Ticked, Ticked, Ticked, Closed, Undone, Moved, Begun}).Draw(t, "kind"),
				Step: rapid.SampledFrom(keys).Draw(t, "step"), Until: start.Add(time.Hour)}
			if next.Kind == Undone {
				next.Undoes = rapid.IntRange(1, len(b.Log())).Draw(t, "undoes")
			}
			b.Add(next)
		}
		var done []string
		for _, x := range b.Ticks {
			done = append(done, x.Step)
		}
		if !slices.Equal(done, keys[1:1+len(done)]) || b.Ended() && len(done) != 5 {
			t.Fatalf("ended %v with %v", b.Ended(), done)
		}
		raw, err := json.Marshal(b.Log())
		if err != nil {
			t.Fatal(err)
		}
		var log []Event
		if err := json.Unmarshal(raw, &log); err != nil {
			t.Fatal(err)
		}
		again, err := Fold(log)
		if err != nil || !again.Until.Equal(b.Until) || len(again.Ticks) != len(b.Ticks) || again.Ended() != b.Ended() {
			t.Fatalf("%v %+v", err, again)
		}
	})
}
