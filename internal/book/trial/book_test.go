package trial

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var noon = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)

// must writes an event down n minutes after noon.
func must(t *testing.T, b *Book, minutes int, e Event) Event {
	t.Helper()
	e.When, e.Who = noon.Add(time.Duration(minutes)*time.Minute), "Ada"
	done, f := b.Add(e)
	if len(f) > 0 {
		t.Fatal(f)
	}
	return done
}

func fast(minutes int, s float64) regulate.Reading {
	return regulate.Reading{At: noon.Add(time.Duration(minutes) * time.Minute), How: regulate.ByHand, Error: unit.Duration(s), U: 0.5}
}

var right = &Host{From: ByComputer, U: 0.01, Kept: KeptRight}
var loose = &Host{From: ByComputer, Kept: NotKnown}

func TestNumbersOfReadingsNeverChange(t *testing.T) {
	var b Book
	must(t, &b, 0, OfReadings(right, "", fast(0, 1)))
	must(t, &b, 1, OfAir(right, "", regulate.Air{At: noon, Temperature: meas.Exactly(unit.Temperature(291))}))
	table := must(t, &b, 2, OfReadings(nil, "table.csv", fast(2, 2), fast(3, 3), fast(4, 4)))
	must(t, &b, 5, OfReadings(right, "", fast(5, 5)))
	must(t, &b, 6, Undo(table.N))
	q := b.Query(time.UTC)
	if len(q.Readings) != 2 || q.Readings[0].ID != 1 || q.Readings[1].ID != 5 {
		t.Fatalf("%+v", q.Readings)
	}
	for _, c := range [][3]int{{1, 0, 1}, {2, 0, 0}, {3, 0, 2}, {3, 2, 4}, {3, 3, 0}, {4, 0, 5}, {5, 0, 0}, {9, 0, 0}, {4, -1, 0}} {
		id := b.ID(c[0], c[1])
		if id != c[2] {
			t.Errorf("event %d, place %d: reading %d, want %d", c[0], c[1], id, c[2])
		}
		if n, i, ok := b.ReadingOf(id); id > 0 && (!ok || n != c[0] || i != c[1]) {
			t.Errorf("reading %d is %d, %d, %v", id, n, i, ok)
		}
	}
	if _, ok := b.Reading(3); ok {
		t.Error("a reading of a table that was taken back is there")
	}
	must(t, &b, 7, Undo(5))
	if r, ok := b.Reading(3); !ok || r.Error != 3 || r.ID != 3 {
		t.Errorf("after the undo was undone: %+v, %v", r, ok)
	}
}

func TestRepliesAreApplied(t *testing.T) {
	var b Book
	for i, e := range []float64{0, 43200, 61, 7, 99} {
		must(t, &b, i, OfReadings(right, "", fast(i, e)))
	}
	must(t, &b, 10, OfReply(Reply{About: regulate.HalfDay, Reading: 2, Shift: -43200}))
	must(t, &b, 11, OfReply(Reply{About: regulate.WrongMinute, Reading: 3, Shift: -60}))
	taken := must(t, &b, 12, OfReply(Reply{About: regulate.Stray, Reading: 4, Right: true}))
	must(t, &b, 13, OfReply(Reply{About: regulate.Stray, Reading: 5}))
	set := regulate.Touch{At: noon, Kind: regulate.HandsSet, Error: 3, U: 1, HasError: true}
	put := must(t, &b, 14, OfReply(Reply{About: regulate.SetUnnoted, From: noon, Touch: &set}))
	q := b.Query(time.UTC)
	want := []struct {
		error      unit.Duration
		taken, out bool
	}{{0, false, false}, {0, false, false}, {1, false, false}, {7, true, false}, {99, false, true}}
	for i, w := range want {
		if r := q.Readings[i]; r.Error != w.error || r.Taken != w.taken || r.Out != w.out {
			t.Errorf("reading %d: %+v, want %+v", i+1, r, w)
		}
	}
	if len(q.Touches) != 1 || q.Touches[0].ID != put.N || q.Touches[0].Error != 3 {
		t.Errorf("%+v", q.Touches)
	}
	must(t, &b, 15, OfReply(Reply{About: regulate.Stray, Reading: 4})) // on second thoughts
	if r := b.Query(time.UTC).Readings[3]; r.Taken || !r.Out {
		t.Errorf("the last reply does not count: %+v", r)
	}
	must(t, &b, 16, Undo(16-6)) // and on third: entry 10 is the last reply but one
	if e := b.Log()[9]; e.Kind != Answered || b.Stands(10) {
		t.Fatalf("%+v", e)
	}
	if !b.Settled(regulate.Question{About: regulate.Stray, Reading: []int{4}}) || b.Settled(regulate.Question{About: regulate.Stray, Reading: []int{1}}) || taken.N != 8 {
		t.Error("what is settled is wrong")
	}
}

func TestFoundStandingIsATouch(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip(err)
	}
	var b Book
	found := time.Date(2026, 7, 1, 7, 30, 0, 0, time.UTC) // 09:30 there
	must(t, &b, 0, OfStop(right, Stop{Found: found, Hour: 3, Minute: 45, Strike: "at rest"}))
	must(t, &b, 1, OfStop(right, Stop{Found: found, Hour: 9, Minute: 29, Strike: "warned", Second: meas.Exactly(unit.Duration(20))}))
	q := b.Query(berlin)
	for i, want := range []time.Time{time.Date(2026, 7, 1, 1, 45, 0, 0, time.UTC), time.Date(2026, 7, 1, 7, 29, 20, 0, time.UTC)} {
		if x := q.Touches[i]; x.Kind != regulate.Stopped || !x.At.Equal(want) || !x.Until.IsZero() {
			t.Errorf("stood since %v, want %v", x.At, want)
		}
	}
}

// The computer's clock set between two readings: both sides are asked about
// and weigh nothing until they are answered; a clock that was kept right
// vouches for its side.
func TestComputerClockSet(t *testing.T) {
	for name, c := range map[string]struct {
		before, after *Host
		minutes       int // when the second is written, after the first
		asked         []int
	}{
		"went back":            {loose, loose, -30, []int{1, 2}},
		"went back, then kept": {loose, right, -30, []int{1}},
		"kept, then went back": {right, loose, -30, []int{2}},
		"put forward":          {loose, &Host{From: ByComputer, Kept: NotKnown, Stepped: 37}, 30, []int{1, 2}},
		"a hair":               {loose, &Host{From: ByComputer, Kept: NotKnown, Stepped: 0.2}, 30, nil},
		"typed":                {&Host{From: ByTyping}, &Host{From: ByTyping}, -30, nil},
	} {
		var b Book
		must(t, &b, 100, OfReadings(c.before, "", fast(100, 1)))
		must(t, &b, 100+c.minutes, OfReadings(c.after, "", fast(100+c.minutes, 2)))
		var asked []int
		for _, q := range b.Questions() {
			if q.About == regulate.HostStepped {
				asked = append(asked, q.Reading...)
				if q.Used || q.Text == "" || q.Ask == "" {
					t.Errorf("%s: %+v", name, q)
				}
			}
		}
		if !slices.Equal(asked, c.asked) {
			t.Errorf("%s: asked about %v, want %v", name, asked, c.asked)
			continue
		}
		for _, r := range b.Query(time.UTC).Readings {
			if r.Out != slices.Contains(asked, r.ID) {
				t.Errorf("%s: reading %d has weight: %v", name, r.ID, !r.Out)
			}
		}
		for _, id := range asked {
			must(t, &b, 200, OfReply(Reply{About: regulate.HostStepped, Reading: id, Shift: 37}))
		}
		for _, r := range b.Query(time.UTC).Readings {
			if r.Out {
				t.Errorf("%s: reading %d weighs nothing though all is answered", name, r.ID)
			}
		}
		if len(asked) > 0 && len(b.Questions()) > 0 {
			t.Errorf("%s: still asked", name)
		}
	}
}

func TestEveryMistakeAtOnce(t *testing.T) {
	head := ledger.Entry{When: noon, Who: "Ada"}
	nan := math.NaN()
	for name, c := range map[string]struct {
		e      Event
		fields string
	}{
		"nothing":             {Event{}, "who when kind"},
		"no reading":          {Event{Entry: head, Kind: Read}, "readings"},
		"a bad reading":       {Event{Entry: head, Kind: Read, Readings: []regulate.Reading{{Error: unit.Duration(nan), U: -1, Rate: 2}}}, "at how error rate u from"},
		"the second is bad":   {Event{Entry: head, Kind: Read, Readings: []regulate.Reading{fast(0, 0), {}}}, "readings[1].at readings[1].how"},
		"its own answer":      {Event{Entry: head, Kind: Read, Readings: []regulate.Reading{{At: noon, How: regulate.ByTap, Taken: true}}}, "id"},
		"a rate of no time":   {Event{Entry: head, Kind: Read, Readings: []regulate.Reading{{At: noon, From: noon, How: regulate.ByEar}}}, "from"},
		"no touch":            {Event{Entry: head, Kind: Touched}, "touch"},
		"a nut not turned":    {Event{Entry: head, Kind: Touched, Touch: &regulate.Touch{At: noon, Kind: regulate.NutTurned, Mass: 1}}, "touch.turns touch.mass"},
		"worked, no words":    {Event{Entry: head, Kind: Touched, Touch: &regulate.Touch{At: noon, Kind: regulate.Worked, Error: 3}}, "touch.words touch.error"},
		"no air":              {Event{Entry: head, Kind: Aired, Air: []regulate.Air{{At: noon}}}, "temperature"},
		"boiling":             {Event{Entry: head, Kind: Aired, Air: []regulate.Air{{At: noon, Temperature: meas.Exactly(unit.Temperature(373)), Humidity: meas.Exactly(unit.Ratio(45))}}}, "temperature humidity"},
		"a stop":              {Event{Entry: head, Kind: Stood, Stop: &Stop{Hour: 12, Minute: 60}}, "found hour minute strike"},
		"a reply to nothing":  {Event{Entry: head, Kind: Answered, Answer: &Reply{About: "weather"}}, "answer.about answer.reading"},
		"a reply, no reading": {Event{Entry: head, Kind: Answered, Answer: &Reply{About: regulate.Stray, Reading: 7, Right: true, Shift: 1}}, "answer.shift answer.reading"},
		"an aim":              {Event{Entry: head, Kind: Aimed, Aim: &Aim{Gates: []Gate{{Key: "a", Name: "A", Days: 7}, {Key: "a", Days: -1}}}}, "band gates[1].key gates[1].name gates[1].days"},
		"a gate of no aim":    {OfGate(Failed, "stand", ""), "who when why gate"},
		"no strike":           {Event{Entry: head, Kind: Struck, Strike: &Strike{At: noon, Hour: 13, Blows: -1}}, "hour blows"},
		"undoing nothing":     {Event{Entry: head, Kind: Undone}, "undoes undoes"},
		"undoing by the way":  {Event{Entry: ledger.Entry{When: noon, Who: "A", Undoes: 1}, Kind: Read, Readings: []regulate.Reading{fast(0, 0)}}, "undoes"},
		"a NUL":               {Event{Entry: head, Kind: Read, Source: "\x00", Readings: []regulate.Reading{fast(0, 0)}}, "source"},
	} {
		var b Book
		_, f := b.Add(c.e)
		var fields []string
		for _, x := range f {
			fields = append(fields, x.Field)
			if x.Text == "" {
				t.Errorf("%s: %s has no words", name, x.Field)
			}
		}
		if got := strings.Join(fields, " "); got != c.fields || b.Len() != 0 {
			t.Errorf("%s: %s, want %s: %v", name, got, c.fields, f)
		}
	}
}

// anyEvent draws an event that may be as wrong as JSON can make it.
func anyEvent(t *rapid.T, n int) Event {
	kinds := []Kind{Read, Tabled, Touched, Aired, Stood, Answered, Aimed, Began, Passed, Failed, Struck, Undone, "", "x"}
	e := Event{Kind: rapid.SampledFrom(kinds).Draw(t, "kind")}
	e.N, e.Who, e.When = n, "Ada", noon.Add(time.Duration(rapid.IntRange(-100, 100).Draw(t, "minutes"))*time.Minute)
	if rapid.Bool().Draw(t, "host") {
		e.Host = &Host{From: rapid.SampledFrom([]string{ByComputer, ByTyping}).Draw(t, "from"), Kept: rapid.SampledFrom([]string{KeptRight, NotKnown}).Draw(t, "kept")}
	}
	for range rapid.IntRange(0, 3).Draw(t, "readings") {
		e.Readings = append(e.Readings, fast(rapid.IntRange(0, 99).Draw(t, "at"), rapid.Float64Range(-1e5, 1e5).Draw(t, "error")))
	}
	if rapid.Bool().Draw(t, "filled") {
		e.Touch = &regulate.Touch{At: noon, Kind: rapid.SampledFrom(regulate.Kinds()).Draw(t, "touch"), Turns: rapid.Float64Range(-1, 1).Draw(t, "turns"), Words: "w"}
		e.Touches, e.Source = []regulate.Touch{*e.Touch, *e.Touch}, "table.csv"
		e.Air = []regulate.Air{{At: noon, Pressure: meas.Exactly(unit.Pressure(101325))}}
		e.Stop = &Stop{Found: noon, Hour: rapid.IntRange(0, 12).Draw(t, "hour"), Strike: "at rest"}
		e.Aim = &Aim{Band: 1e-5, Gates: []Gate{{Key: "stand", Name: "Stand", Days: 7}}}
		e.Answer = &Reply{About: regulate.Stray, Reading: rapid.IntRange(0, 9).Draw(t, "reading"), From: noon, Right: rapid.Bool().Draw(t, "right")}
		e.Strike = &Strike{At: noon, Hour: 3, Blows: 3}
		e.Gate, e.Why = "stand", "why"
	}
	if e.Kind == Undone || rapid.IntRange(0, 9).Draw(t, "stray undo") == 0 {
		e.Undoes = rapid.IntRange(0, n).Draw(t, "undoes")
	}
	return e
}

// Whatever the log: what Add takes, Fold takes without a fault, the same book
// comes of both and of its JSON; numbers of readings are 1, 2, 3 … and do not
// change as the log grows; what Query has is what stands.
func TestBookHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b Book
		ids := map[[2]int]int{}
		for range rapid.IntRange(0, 12).Draw(t, "events") {
			before, e := b.Len(), anyEvent(t, b.Len()+1)
			done, f := b.Add(e)
			if (len(f) == 0) != (b.Len() == before+1) || len(f) == 0 && done.N != b.Len() {
				t.Fatalf("%d faults, %d events after %d", len(f), b.Len(), before)
			}
		}
		next := 1
		for n, e := range b.Log() {
			for i := range e.Readings {
				if ids[[2]int{n + 1, i}] = b.ID(n+1, i); ids[[2]int{n + 1, i}] != next {
					t.Fatalf("reading %d of event %d is number %d, want %d", i, n+1, b.ID(n+1, i), next)
				}
				next++
			}
		}
		text, err := json.Marshal(b.Log())
		if err != nil {
			t.Fatal(err)
		}
		var log []Event
		if err := json.Unmarshal(text, &log); err != nil {
			t.Fatal(err)
		}
		again, err := Fold(log)
		if err != nil {
			t.Fatalf("a log of the book's own has faults: %v", err)
		}
		x, y := b.Query(time.UTC), again.Query(time.UTC)
		if !reflect.DeepEqual(x, y) || !reflect.DeepEqual(b.standing, again.standing) || b.stand != again.stand || b.touches != again.touches {
			t.Fatalf("%+v\nand %+v", x, y)
		}
		if len(x.Readings) != b.stand || len(x.Touches) != b.touches {
			t.Fatalf("%d readings of %d, %d touches of %d", len(x.Readings), b.stand, len(x.Touches), b.touches)
		}
		for _, r := range x.Readings {
			n, i, ok := b.ReadingOf(r.ID)
			if !ok || ids[[2]int{n, i}] != r.ID || !b.Stands(n) {
				t.Fatalf("reading %d is of event %d, %d", r.ID, n, i)
			}
		}
	})
}

// A table is one entry: what it says stands and falls together, and its touches
// have numbers unlike those of any other.
func TestTableIsOneEntry(t *testing.T) {
	var b Book
	must(t, &b, 0, OfTouch(right, regulate.Touch{At: noon, Kind: regulate.Wound}))
	wound := regulate.Touch{At: noon, Kind: regulate.Wound}
	n := must(t, &b, 1, OfTable("old.csv", []regulate.Reading{fast(1, 1), fast(2, 2)}, []regulate.Air{{At: noon, Pressure: meas.Exactly(unit.Pressure(1e5))}}, []regulate.Touch{wound, wound})).N
	q := b.Query(time.UTC)
	seen := map[int]bool{}
	for _, x := range q.Touches {
		seen[x.ID] = true
	}
	if len(q.Readings) != 2 || len(q.Air) != 1 || len(seen) != 3 || q.Readings[1].ID != 2 {
		t.Errorf("%+v", q)
	}
	must(t, &b, 2, Undo(n))
	if q = b.Query(time.UTC); len(q.Readings)+len(q.Air) != 0 || len(q.Touches) != 1 {
		t.Errorf("%+v", q)
	}
	e := OfTable(" ", nil, nil, []regulate.Touch{{Kind: regulate.NutTurned}})
	e.When, e.Who = noon, "Ada"
	if _, f := b.Add(e); !strings.Contains(f.Error(), "which table") || !strings.Contains(f.Error(), "how many turns") {
		t.Errorf("%v", f)
	}
}

// Taking an event back and that again leaves what stood.
func TestUndoTwiceIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b Book
		for range rapid.IntRange(1, 8).Draw(t, "events") {
			_, _ = b.Add(anyEvent(t, b.Len()+1)) // what cannot be is left out
		}
		if b.Len() == 0 {
			return
		}
		n := rapid.IntRange(1, b.Len()).Draw(t, "which")
		if !b.CanUndo(n) {
			return
		}
		before := b.Query(time.UTC)
		for _, undoes := range []int{n, b.Len() + 1} {
			e := Undo(undoes)
			e.When, e.Who = b.Log()[b.Len()-1].When, "Ada"
			if _, f := b.Add(e); len(f) > 0 {
				t.Fatal(f)
			}
		}
		if after := b.Query(time.UTC); !reflect.DeepEqual(before, after) {
			t.Fatalf("%+v\nafter %+v", before, after)
		}
	})
}

func FuzzFold(f *testing.F) {
	f.Add([]byte(`[{"n":1,"when":"2026-03-04T12:00:00Z","who":"A","kind":"read","readings":[{"at":"2026-03-04T12:00:00Z","how":"hand","error":3}]},{"n":2,"when":"2026-03-04T12:00:00Z","who":"A","kind":"undone","undoes":1}]`))
	f.Add([]byte(`[{"n":1,"kind":"answered","answer":{"about":"stray","reading":1,"shift":1}},{"n":1,"kind":"stood","stop":{"hour":-9}},{"kind":"aimed"},{"kind":"touched"}]`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var log []Event
		if json.Unmarshal(text, &log) != nil {
			return
		}
		b, err := Fold(log)
		if b.Len() != len(log) {
			t.Fatalf("%d of %d events", b.Len(), len(log))
		}
		q := b.Query(time.UTC)
		b.Questions()
		b.Standing()
		if _, ok := b.Aim(); err == nil && ok && q.Wanted.Band <= 0 {
			t.Fatal("a band of nothing")
		}
	})
}

func BenchmarkFoldAYearOfHours(b *testing.B) {
	var log []Event
	for i := range 8760 {
		e := OfReadings(right, "", fast(60*i, float64(i)/10))
		e.N, e.When, e.Who = i+1, noon.Add(time.Duration(i)*time.Hour), "Ada"
		log = append(log, e)
	}
	for b.Loop() {
		book, err := Fold(log)
		if err != nil {
			b.Fatal(err)
		}
		book.Query(time.UTC)
	}
}
