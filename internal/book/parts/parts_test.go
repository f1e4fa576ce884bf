package parts

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/clean"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
)

func head(why string) ledger.Entry {
	return ledger.Entry{When: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC), Who: "A. Bench", Why: why}
}

// must adds an event that is known to be right.
func must(t *testing.T, l *Ledger, e Event) Event {
	t.Helper()
	e, f := l.Add(e)
	if len(f) > 0 {
		t.Fatal(f)
	}
	return e
}

func record(n Number, count int, to State, name string) Event {
	return Event{Entry: head(""), Kind: Recorded, Part: n, Count: count, To: to, Detail: &Detail{Name: name}}
}

func move(n Number, to State) Event {
	e := Event{Entry: head("so it is"), Kind: Moved, Part: n, To: to}
	if to == InBath || to == Dry {
		e.Batch = "b1"
	}
	return e
}

func TestNumbers(t *testing.T) {
	for s, want := range map[string]Number{"2": "2", ".2.1": "2.1", "2026-014.2.1": "2.1", " 3 ": "3"} {
		if got, err := ParseNumber("2026-014", s); err != nil || got != want {
			t.Errorf("%q: %q, %v", s, got, err)
		}
	}
	for _, s := range []string{"", ".", "0", "01", "2.", "2..1", "a", "2.a", "-1", "+1", "10000", strings.Repeat("1.", 8) + "1", "2026-013.1"} {
		if got, err := ParseNumber("2026-014", s); err == nil {
			t.Errorf("%q is read as %q", s, got)
		}
	}
	in := []Number{"10", "2.1", "1.10", "2", "1", "1.2", "1.2.1"}
	slices.SortFunc(in, Compare)
	if want := []Number{"1", "1.2", "1.2.1", "1.10", "2", "2.1", "10"}; !slices.Equal(in, want) {
		t.Errorf("sorted %v, want %v", in, want)
	}
	if Number("2.1").Of("2026-014") != "2026-014.2.1" || Number("2.1").Parent() != "2" || Number("2").Parent() != "" {
		t.Error("of, parent")
	}
	if !Number("2.1").Under("2") || Number("21").Under("2") || !Number("2").Under("") {
		t.Error("under")
	}
}

func TestNumbersAreNeverReused(t *testing.T) {
	var l Ledger
	first := must(t, &l, record("", 1, Off, "hand"))
	if first.Part != "1" {
		t.Fatalf("the first part is %s", first.Part)
	}
	must(t, &l, Event{Entry: ledger.Entry{When: head("").When, Who: "A", Undoes: 1}})
	if got := must(t, &l, record("", 1, Off, "hand")).Part; got != "2" {
		t.Errorf("after an undo the next part is %s, want 2", got)
	}
	if _, f := l.Add(record("1", 1, Off, "hand")); len(f) != 1 {
		t.Errorf("the number of an undone part is given out again: %v", f)
	}
	if got := must(t, &l, record("2.", 1, OnClock, "collet")).Part; got != "2.1" {
		t.Errorf("the first part of 2 is %s", got)
	}
}

// The table of moves has each move once, from every state but the last there
// is a way on, and all that is accounted for can be reached from every state.
func TestMoves(t *testing.T) {
	seen := map[[2]State]bool{}
	for _, m := range Moves() {
		if seen[[2]State{m.From, m.To}] || m.From != "" && !m.From.Known() || !m.To.Known() {
			t.Errorf("%+v", m)
		}
		seen[[2]State{m.From, m.To}] = true
	}
	for _, s := range States() {
		if (len(s.Next()) == 0) != (s == UsedUp) {
			t.Errorf("%s: %v", s, s.Next())
		}
	}
	for _, m := range [][2]State{{OnClock, InBath}, {InBath, BackOn}, {InBath, OnBench}, {UsedUp, OnBench}, {"", BackOn}, {Off, Dry}} {
		if _, ok := FindMove(m[0], m[1]); ok {
			t.Errorf("%s to %s is allowed", m[0], m[1])
		}
	}
}

func TestLifeOfAPart(t *testing.T) {
	var l Ledger
	must(t, &l, record("", 4, OnClock, "plate screws"))
	for _, s := range []State{Off, InBath, Dry, OnBench} {
		must(t, &l, move("1", s))
	}
	_, f := l.Add(move("1", Dry))
	if len(f) != 1 || !strings.Contains(f[0].Text, "it may go to: in the bath, mended") {
		t.Errorf("a wrong move: %v", f)
	}
	for _, n := range []int{0, 4, 5} {
		if _, f := l.Add(Event{Entry: head(""), Kind: Split, Part: "1", Count: n}); len(f) != 1 {
			t.Errorf("%d of 4 split off: %v", n, f)
		}
	}
	part := must(t, &l, Event{Entry: head("one head is chewed"), Kind: Split, Part: "1", Count: 1})
	must(t, &l, move(part.Into, Mended))
	must(t, &l, move("1", BackOn))
	if ok, _ := l.ReadyForTrial(); ok {
		t.Error("one of four screws is not back, and the clock may go on trial")
	}
	must(t, &l, Event{Entry: head("goes to the engraver first"), Kind: Explained, Part: part.Into})
	if ok, f := l.ReadyForTrial(); !ok || len(f) != 1 || f[0].Code != "explained" {
		t.Errorf("explained: %v %v", ok, f)
	}
	must(t, &l, move(part.Into, OnBench)) // the reason spoke of another place
	if ok, _ := l.ReadyForTrial(); ok {
		t.Error("a reason outlives the place it was for")
	}
	must(t, &l, move(part.Into, BackOn))
	c := l.CloseOut()
	if ok, f := l.ReadyForTrial(); !ok || len(f) > 0 || !c.Balances() || c.CameOff != 4 || c.Back != 4 {
		t.Errorf("%v %v %+v", ok, f, c)
	}
}

func TestCloseOutOfAReplacedPart(t *testing.T) {
	var l Ledger
	must(t, &l, record("", 1, Off, "third wheel"))
	must(t, &l, record("", 2, OnClock, "pillar"))
	made := record("", 1, Mended, "third wheel, new")
	made.Why, made.Detail.Replaces = "teeth gone", "1"
	must(t, &l, made)
	must(t, &l, move("3", BackOn))
	if _, f := l.Add(Event{Entry: head(""), Kind: Moved, Part: "1", To: Kept}); len(f) != 1 || f[0].Field != "why" {
		t.Errorf("kept without a reason: %v", f)
	}
	must(t, &l, move("1", Kept))
	c := l.CloseOut()
	if c.CameOff != 1 || c.New != 1 || c.Back != 1 || c.Kept != 1 || c.LeftInPlace != 2 || !c.Balances() {
		t.Errorf("%+v", c)
	}
	if ok, f := l.ReadyForTrial(); !ok || len(f) != 0 {
		t.Errorf("%v %v", ok, f)
	}
}

func TestSecondLook(t *testing.T) {
	var l Ledger
	e := record("", 1, Off, "pallets")
	e.Detail.Repair = "soft solder at the arbor"
	must(t, &l, e)
	must(t, &l, move("1", BackOn))
	ok, f := l.ReadyForTrial()
	if !ok || len(f) != 1 || f[0].Code != "second-look" || f[0].Level != meas.Doubt {
		t.Errorf("%v %v", ok, f)
	}
	d := *e.Detail
	d.Looked = "sound"
	must(t, &l, Event{Entry: head(""), Kind: Described, Part: "1", Detail: &d})
	if _, f := l.ReadyForTrial(); len(f) != 0 {
		t.Error(f)
	}
}

func TestUndoBringsEveryFieldBack(t *testing.T) {
	var l Ledger
	e := record("", 2, Off, "click")
	e.Detail.Mark, e.Detail.Made = "two dots", []clean.Material{clean.Steel}
	must(t, &l, e)
	before, _ := l.Find("1")
	for _, change := range []Event{
		{Entry: head(""), Kind: Described, Part: "1", Detail: &Detail{Name: "x"}}, move("1", InBath), {Entry: head("lost"), Kind: Recounted, Part: "1", Count: 1},
		{Entry: head(""), Kind: Split, Part: "1", Count: 1}, {Entry: head("so"), Kind: Explained, Part: "1"},
	} {
		done := must(t, &l, change)
		must(t, &l, Event{Entry: ledger.Entry{When: e.When, Who: "A", Undoes: done.N}, Batch: done.Batch})
		if after, _ := l.Find("1"); !cmp.Equal(after, before) {
			t.Errorf("%s: %s", change.Kind, cmp.Diff(before, after))
		}
		if len(l.Parts()) != 1 {
			t.Errorf("%s: %d parts", change.Kind, len(l.Parts()))
		}
	}
}

func TestUndoThatOthersLeanOn(t *testing.T) {
	var l Ledger
	must(t, &l, record("", 1, OnClock, "barrel"))
	must(t, &l, record("1.", 1, OnClock, "click"))
	must(t, &l, move("1", Off))
	before := l.Log()
	_, f := l.Add(Event{Entry: ledger.Entry{When: head("").When, Who: "A", Undoes: 1}})
	if len(f) != 3 || !strings.Contains(f[1].Text, "Entry 2") || !strings.Contains(f[2].Text, "Entry 3") {
		t.Errorf("%v", f)
	}
	if len(l.Log()) != len(before) {
		t.Error("a refused undo is in the log")
	}
}

func TestAddNamesAllFaults(t *testing.T) {
	var l Ledger
	_, f := l.Add(Event{Kind: Recorded, Part: "x", To: Mended, Detail: &Detail{Name: "a\x00", Made: []clean.Material{"cheese"}}})
	if len(f) != 7 {
		t.Errorf("%d faults: %v", len(f), f)
	}
	for _, e := range []Event{move("9", Off), {Entry: head(""), Kind: "melted", Part: "1"}, {Entry: head(""), Kind: Recorded, Count: 1, Part: "7.1", To: Off, Detail: &Detail{}}} {
		if _, f := l.Add(e); len(f) != 1 {
			t.Errorf("%v: %v", e.Kind, f)
		}
	}
}

func TestStaleDescription(t *testing.T) {
	var l Ledger
	must(t, &l, record("", 1, Off, "click"))
	seen := Detail{Name: "click"}
	must(t, &l, Event{Entry: head(""), Kind: Described, Part: "1", Before: &seen, Detail: &Detail{Name: "click", Mark: "dot"}})
	if _, f := l.Add(Event{Entry: head(""), Kind: Described, Part: "1", Before: &seen, Detail: &Detail{Name: "pawl"}}); len(f) != 1 {
		t.Error("a description from an older page overwrites a newer one")
	}
}

func TestMoveAllIsAllOrNothing(t *testing.T) {
	var l Ledger
	for _, s := range []State{Off, OnClock, OnClock} {
		must(t, &l, record("", 1, s, "x"))
	}
	if _, f := l.MoveAll(head(""), InBath, "b1", "1", "2", "3", "4"); len(f) != 3 {
		t.Errorf("faults: %v", f)
	}
	if p, _ := l.Find("1"); p.State != Off {
		t.Error("half of a refused move was made")
	}
	if e, f := l.MoveAll(head(""), InBath, "b1", "1"); len(f) > 0 || len(e) != 1 || e[0].Batch != "b1" {
		t.Errorf("%v %v", e, f)
	}
}

func TestPiecesForABath(t *testing.T) {
	var l Ledger
	e := record("", 1, Off, "barrel")
	e.Detail.Made = []clean.Material{clean.Brass, clean.Radium}
	must(t, &l, e)
	must(t, &l, record("1.", 1, OnClock, "click"))
	got := l.Pieces("2026-014", "1", "9")
	if len(got) != 1 || !got[0].Assembled || got[0].Number != "2026-014.1" {
		t.Errorf("%+v", got)
	}
	must(t, &l, move("1.1", Off))
	if l.Assembled("1") {
		t.Error("its click is off and it still counts as assembled")
	}
	if p, _ := l.Find("1"); len(p.Hazards()) != 1 {
		t.Error("radium brings up no caution")
	}
}

func TestNamesOffered(t *testing.T) {
	q, err := train.Parse("96/8 60/8 56/7 30")
	if err != nil {
		t.Fatal(err)
	}
	q.Trains = append(q.Trains, train.Train{Name: train.Strike, Chain: train.MustChain("78/8 64/8 48/6"), Pins: 8})
	a, err := train.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	names := NamesFrom(a)
	for _, want := range []string{"great wheel", "centre wheel", "third wheel", "escape wheel", "barrel click", "strike great wheel", "strike barrel click", "strike fly"} {
		if !slices.Contains(names, want) {
			t.Errorf("%q is not offered: %v", want, names)
		}
	}
	var l Ledger
	must(t, &l, record("", 1, Off, "Third wheel"))
	if got := l.Offer(names, "third"); len(got) != 2 || got[0] != "strike third wheel" {
		t.Errorf("%v", got)
	}
}

// play draws a sequence of events, right and wrong ones, and returns the
// ledger with what was declared to come in.
func play(t *rapid.T) (l Ledger, in int) {
	for range rapid.IntRange(0, 60).Draw(t, "events") {
		var n Number = "1"
		if ps := l.Parts(); len(ps) > 0 {
			n = rapid.SampledFrom(ps).Draw(t, "part").Number
		}
		e := Event{Entry: head("why"), Part: n, Count: rapid.IntRange(-1, 6).Draw(t, "count")}
		e.Kind = rapid.SampledFrom([]Kind{Recorded, Recorded, Moved, Moved, Moved, Split, Recounted, Explained, Described, Undone}).Draw(t, "kind")
		switch e.Kind {
		case Recorded:
			e.Part = rapid.SampledFrom([]Number{"", n + ".", n}).Draw(t, "where")
			e.To, e.Detail = rapid.SampledFrom(States()).Draw(t, "to"), &Detail{Name: "x"}
		case Moved:
			e.To = rapid.SampledFrom(States()).Draw(t, "to")
		case Described:
			e.Detail = &Detail{Name: fmt.Sprint(rapid.IntRange(0, 3).Draw(t, "name"))}
		case Undone:
			e.Undoes, e.Part = rapid.IntRange(0, len(l.Log())).Draw(t, "undoes"), ""
		}
		if _, f := l.Add(e); len(f) > 0 {
			continue
		}
	}
	standing := ledger.Standing(l.Log())
	for i, e := range l.Log() {
		switch {
		case !standing[i]:
		case e.Kind == Recorded:
			in += e.Count
		case e.Kind == Recounted:
			in += e.Count - e.Was
		}
	}
	return l, in
}

// Through any sequence of events, refused ones and undone ones among them, no
// piece appears or vanishes but by an event that says so; and the log alone
// gives the same ledger again, also by way of JSON.
func TestPartsAreConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, in := play(t)
		tally, now := l.Tally(), 0
		for _, p := range l.Parts() {
			if p.Count < 0 || !p.State.Known() {
				t.Fatalf("%+v", p)
			}
			now += p.Count
		}
		if !tally.Holds() || now != in {
			t.Fatalf("%d pieces are there, %d were declared: %+v", now, in, tally)
		}
		c := l.CloseOut()
		if c.CameOff+c.New+c.LeftInPlace != now || c.Back+c.Kept+c.UsedUp+c.Elsewhere+c.LeftInPlace != now {
			t.Fatalf("the close-out does not add up to %d: %+v", now, c)
		}
		b, err := json.Marshal(l.Log())
		if err != nil {
			t.Fatal(err)
		}
		var log []Event
		if err := json.Unmarshal(b, &log); err != nil {
			t.Fatal(err)
		}
		again, err := Fold(log)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(l.Parts(), again.Parts()); d != "" || again.Next("") != l.Next("") {
			t.Fatalf("folded again: %s", d)
		}
	})
}

// A log from elsewhere that cannot be is refused with a fault for each event,
// and never panics.
func TestFoldRefusesWhatCannotBe(t *testing.T) {
	e := head("")
	e.N = 1
	second := e
	second.N = 2
	undo, third := second, e
	undo.Undoes, third.N = 1, 3
	recorded := Event{Entry: e, Kind: Recorded, Part: "1", Count: 1, To: Off, Detail: &Detail{}}
	again := recorded
	again.Entry = third
	for name, log := range map[string][]Event{
		"no detail":      {{Entry: e, Kind: Recorded, Part: "1", Count: 1, To: Off}},
		"unknown kind":   {{Entry: e, Kind: "melted", Part: "1"}},
		"part not there": {{Entry: e, Kind: Moved, Part: "1", To: Off}},
		"number twice":   {{Entry: e, Kind: Recorded, Part: "1", Count: 1, To: Off, Detail: &Detail{}}, {Entry: second, Kind: Recorded, Part: "1", Count: 1, To: Off, Detail: &Detail{}}},
		"number reused":  {recorded, {Entry: undo, Kind: Undone}, again},
		"numbered wrong": {{Entry: second}},
	} {
		if _, err := Fold(log); err == nil {
			t.Errorf("%s: folded", name)
		}
	}
}

func BenchmarkFold500Parts(b *testing.B) {
	var l Ledger
	for range 500 {
		e, f := l.Add(record("", 1, OnClock, "part"))
		if len(f) > 0 {
			b.Fatal(f)
		}
		for _, s := range []State{Off, InBath, Dry, OnBench, BackOn} {
			if _, f := l.Add(move(e.Part, s)); len(f) > 0 {
				b.Fatal(f)
			}
		}
	}
	for b.Loop() {
		if _, err := Fold(l.Log()); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"2.1", "2026-014.2.1", ".1", "01", "1..2", "9999.1", "１"} {
		f.Add("2026-014", s)
	}
	f.Fuzz(func(t *testing.T, clock, s string) {
		n, err := ParseNumber(clock, s)
		if err != nil {
			return
		}
		if again, err := ParseNumber(clock, n.Of(clock)); strings.TrimSpace(clock) != "" && (err != nil || again != n) {
			t.Errorf("%q of %q is read as %q, that as %q, %v", s, clock, n, again, err)
		}
	})
}

// TestAfter: numbers run on as the ledger gives them out.
func TestAfter(t *testing.T) {
	for n, want := range map[Number]Number{"": "", "2": "3", "9": "10", "2.9": "2.10", "1.2.3": "1.2.4"} {
		if got := n.After(); got != want {
			t.Errorf("after %q comes %q, want %q", n, got, want)
		}
	}
}

// TestABatchAloneMovesThroughItsBath: by hand nothing goes into a bath, comes
// out of one that holds it, or takes back what a batch did; a log that did so
// before is read.
func TestABatchAloneMovesThroughItsBath(t *testing.T) {
	var l Ledger
	must(t, &l, record("", 2, Off, "wheel"))
	refused := func(what string, e Event, words string) {
		t.Helper()
		before := len(l.Log())
		if _, f := l.Add(e); len(f) != 1 || !strings.Contains(f[0].Text, words) || len(l.Log()) != before {
			t.Errorf("%s: %v", what, f)
		}
	}
	undo := func(n int, batch string) Event {
		return Event{Entry: ledger.Entry{When: head("").When, Who: "A", Undoes: n}, Batch: batch}
	}
	byHand := func(to State) Event { return Event{Entry: head(""), Kind: Moved, Part: "1", To: to} }
	refused("into the bath by hand", byHand(InBath), "with a batch only")
	in := must(t, &l, move("1", InBath))
	refused("out by hand", byHand(Dry), "the page of that bath")
	other := move("1", Dry)
	other.Batch = "b2"
	refused("out by another batch", other, "the page of that bath")
	refused("undone by hand", undo(in.N, ""), "made by a bath")
	refused("undone by another batch", undo(in.N, "b2"), "made by a bath")
	back := must(t, &l, undo(in.N, "b1"))
	refused("the undo undone by hand", undo(back.N, ""), "made by a bath")
	if p, _ := l.Find("1"); p.State != Off || l.BatchOf(back.N) != "b1" || l.BatchOf(1) != "" || l.BatchOf(99) != "" {
		t.Errorf("%+v, taken back by %q", p, l.BatchOf(back.N))
	}
	old := l.Log()[0:2:2]
	old[1].Batch = ""
	read, err := Fold(old)
	if p, _ := read.Find("1"); err != nil || p.State != InBath {
		t.Fatalf("an older log: %v %+v", err, p)
	}
	if _, f := read.Add(byHand(Dry)); len(f) > 0 {
		t.Errorf("a part in no batch cannot be taken out: %v", f)
	}
}
