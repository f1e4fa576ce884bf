package making

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
)

func at(n int) ledger.Entry {
	return ledger.Entry{Who: "A", When: time.Unix(int64(n), 0).UTC()}
}

func sheet(title string) *Sheet {
	return &Sheet{Calculation: "train", Title: title, Values: map[string][]string{"going": {title}}, Answer: json.RawMessage(`{"beats":3600}`), Program: "test"}
}

func TestLifeOfASheet(t *testing.T) {
	var b Book
	add := func(e Event, wrong string) {
		t.Helper()
		e.Who, e.When = "A", time.Unix(int64(len(b.Log())), 0).UTC()
		_, faults := b.Add(e)
		if wrong == "" && len(faults) > 0 || wrong != "" && !strings.Contains(fmt.Sprint(faults), wrong) {
			t.Fatalf("%+v: %v, want %q", e, faults, wrong)
		}
	}
	part := &Part{Number: "2", Recorded: 9, Intervention: 1, Drawings: []File{{"wheel.svg", strings.Repeat("a", 64), 10}}}
	add(Event{Kind: Kept, Is: sheet("one")}, "")
	add(Event{Kind: Kept, Is: sheet("two")}, "")
	add(Event{Kind: Changed, Sheet: 1, Is: sheet("one")}, "Nothing was changed")
	add(Event{Kind: Changed, Sheet: 1, Is: sheet("one and a half")}, "")
	add(Event{Kind: Changed, Sheet: 3, Is: sheet("x")}, "no sheet 3")
	add(Event{Kind: Made, Sheet: 1}, "which part")
	add(Event{Kind: Made, Sheet: 1, Part: &Part{Number: "x", Drawings: []File{{"../a", "b", 1}}}}, "no number")
	add(Event{Kind: Made, Sheet: 1, Part: part}, "")
	add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: 3}}, "Entry 4 rests on it")
	add(Event{Kind: Struck, Sheet: 1}, "")
	add(Event{Kind: Made, Sheet: 1, Part: part}, "struck out")
	add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: 4}}, "Entry 5 rests on it")
	add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: 5}}, "")
	add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: 4}}, "")
	add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: 3}}, "")
	x, ok := b.Find(1)
	if !ok || x.Title != "one" || x.Version != 1 || x.Struck != 0 || len(x.Parts) != 0 || len(b.All()) != 2 {
		t.Errorf("%+v", x)
	}
	again, err := Fold(b.Log())
	if err != nil || len(again.All()) != 2 {
		t.Error(err)
	}
	entries, standing := b.Of(1)
	if len(entries) != 4 || !slices.Equal(standing, []bool{false, false, false, true}) {
		t.Errorf("%v %v", entries, standing)
	}
}

// An entry that cannot be is left out; all others stand under their numbers.
func TestDamagedSheet(t *testing.T) {
	log := []Event{{Entry: at(1), Kind: Kept, Sheet: 1, Is: &Sheet{}}, {Entry: at(2), Kind: Kept, Sheet: 2, Is: sheet("two")}, {Entry: at(3), Kind: "lost", Sheet: 2}}
	for i := range log {
		log[i].N = i + 1
	}
	b, err := Fold(log)
	if err == nil || len(b.All()) != 1 || b.All()[0].N != 2 {
		t.Errorf("%+v %v", b.All(), err)
	}
}

// Whatever is done and taken back, a log folds to what adding made of it, and
// comes back out of JSON the same.
func TestFoldIsAdding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b Book
		for i := range rapid.IntRange(1, 25).Draw(t, "n") {
			e := Event{Entry: at(i), Kind: rapid.SampledFrom([]Kind{Kept, Changed, Struck, Made, Undone}).Draw(t, "kind"), Sheet: rapid.IntRange(0, 4).Draw(t, "sheet")}
			switch e.Kind {
			case Kept:
				e.Sheet, e.Is = 0, sheet(fmt.Sprint(i))
			case Changed:
				e.Is = sheet(fmt.Sprint(i))
			case Made:
				e.Part = &Part{Number: "1"}
			case Undone:
				e.Sheet, e.Undoes = 0, rapid.IntRange(0, i+1).Draw(t, "undoes")
			}
			b.Add(e)
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
			t.Fatalf("%v of %s", err, text)
		}
		if fmt.Sprintf("%+v", again.All()) != fmt.Sprintf("%+v", b.All()) {
			t.Fatalf("%+v\n%+v", again.All(), b.All())
		}
	})
}

func TestDiffering(t *testing.T) {
	for _, c := range []struct {
		kept, now string
		want      string
	}{
		{`{"a":1,"b":[1,2]}`, `{"b":[1,2],"a":1.0000000001,"new":3}`, ``},
		{`{"a":1}`, `{"a":1.0001}`, `a: 1, 1.0001`},
		{`{"a":{"b":[1,{"c":"x"}]}}`, `{"a":{"b":[1,{"c":"y"}]}}`, `a.b[1].c: x, y`},
		{`{"a":[1,2]}`, `{"a":[1]}`, `a: a list of 2, a list of 1`},
		{`{"a":1}`, `{}`, `a: 1, `},
		{`{"a":null,"b":true}`, `{"a":null,"b":false}`, `b: true, false`},
		{`{"a":"1"}`, `{"a":1}`, `a: 1, 1`},
		{`{"a":{}}`, `{"a":"x"}`, `a: 0 values, x`},
		{``, `{}`, `: , {}`},
		{``, ``, ``},
		{`{"a":0}`, `{"a":-0.0}`, ``},
	} {
		var got []string
		for _, x := range Differing(json.RawMessage(c.kept), json.RawMessage(c.now)) {
			got = append(got, x.Field+": "+x.Before+", "+x.After)
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s, %s: %q, want %q", c.kept, c.now, s, c.want)
		}
	}
}
