package condition

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
)

var head = ledger.Entry{When: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC), Who: "Ada"}

func note(t *testing.T, r *Record, o Observation) Event {
	t.Helper()
	if o.Day == "" {
		o.Day = "2026-03-04"
	}
	e, f := r.Add(Event{Entry: head, Kind: Noted, Observation: o})
	if len(f) > 0 {
		t.Fatal(f)
	}
	return e
}

func keys(list []clean.Hazard) string {
	var out []string
	for _, h := range list {
		out = append(out, h.Key)
	}
	return strings.Join(out, " ")
}

func TestObservationsStandBesideEachOther(t *testing.T) {
	var r Record
	first := note(t, &r, Observation{Area: "dial", Seen: "paint lifting at VII", Thought: "damp", Severity: AtRisk, Hazards: []string{clean.LeadHazard, clean.RadiumHazard}})
	note(t, &r, Observation{Area: "dial", Day: "2026-02-01", Seen: "whole", Severity: Sound})
	if of := r.Of("dial"); len(of) != 2 || of[0].N != first.N {
		t.Errorf("the latest day is not first: %+v", of)
	}
	if got := keys(r.Hazards("dial")); got != "lead radium" || len(r.Hazards("hood")) != 0 {
		t.Errorf("cautions %q", got)
	}
	gone := note(t, &r, Observation{Area: "dial", Seen: "tested: no radium", Gone: []string{clean.RadiumHazard}})
	if got := keys(r.Hazards("dial")); got != "lead" {
		t.Errorf("after the test: %q", got)
	}
	if _, f := r.Add(Event{Entry: ledger.Entry{When: head.When, Who: "Ada", Undoes: gone.N}, Kind: Undone}); len(f) > 0 {
		t.Fatal(f)
	}
	if got := keys(r.Hazards("dial")); got != "lead radium" {
		t.Errorf("a caution did not come back: %q", got)
	}
	note(t, &r, Observation{Area: "hands", Seen: "lumed", Hazards: []string{clean.RadiumHazard}})
	if all := r.AllHazards(); len(all) != 2 || strings.Join(all[1].Areas, " ") != "dial hands" {
		t.Errorf("%+v", all)
	}
}

func TestEveryHazardHasAnAuthority(t *testing.T) {
	for _, key := range HazardKeys() {
		h, ok := clean.FindHazard(key)
		if !ok || h.Text == "" || h.Authority == "" || HazardWords(key) == "" {
			t.Errorf("%s: %+v", key, h)
		}
	}
}

func TestAreas(t *testing.T) {
	for name, want := range map[string]string{"dial feet pins": "dial", "Hands": "hands", "minute hand": "hands", "third wheel": Movement, "hood door glass": "glass", "going weight": "weights", "gut line": "lines", "bun foot": "feet", "": Movement, "bell stand": "bell"} {
		if got := AreaOf(name); got != want {
			t.Errorf("%q is of the %s, want %s", name, got, want)
		}
	}
	var l parts.Ledger
	for _, p := range [][2]string{{"", "dial"}, {"1.", "pins"}, {"", "click"}} {
		e := parts.Event{Entry: head, Kind: parts.Recorded, Part: parts.Number(p[0]), To: parts.Off, Count: 1, Detail: &parts.Detail{Name: p[1]}}
		if _, f := l.Add(e); len(f) > 0 {
			t.Fatal(f)
		}
	}
	for n, want := range map[parts.Number]string{"1": "dial", "1.1": "dial", "2": Movement, "9": Movement} {
		if got := AreaOfPart(&l, n); got != want {
			t.Errorf("part %s is of the %s, want %s", n, got, want)
		}
	}
}

func TestFaults(t *testing.T) {
	good := Observation{Area: "dial", Day: "2026-03-04", Seen: "x"}
	for field, spoil := range map[string]func(*Observation){
		"area": func(o *Observation) { o.Area = "roof" }, "day": func(o *Observation) { o.Day = "4.3." }, "seen": func(o *Observation) { o.Seen = " " },
		"severity": func(o *Observation) { o.Severity = "bad" }, "hazard": func(o *Observation) { o.Hazards = []string{"dragons"} }, "thought": func(o *Observation) { o.Thought = "\x00" },
	} {
		o := good
		spoil(&o)
		if f := o.Check(); len(f) != 1 || f[0].Field != field {
			t.Errorf("%s: %v", field, f)
		}
	}
	o := good
	o.Hazards, o.Gone = []string{clean.LeadHazard}, []string{clean.LeadHazard}
	if len(o.Check()) != 1 {
		t.Error("here and gone at once")
	}
	if n := len((Observation{}).Check()); n != 3 {
		t.Errorf("%d faults of nothing", n)
	}
}

// A damaged entry hides no other.
func TestDamagedLog(t *testing.T) {
	var r Record
	note(t, &r, Observation{Area: "bell", Seen: "cracked"})
	note(t, &r, Observation{Area: "dial", Seen: "whole"})
	log := r.Log()
	log[0].Area = "roof"
	again, err := Fold(log)
	if err == nil || len(again.Of("")) != 1 {
		t.Errorf("%v, %d stand", err, len(again.Of("")))
	}
}

// Whatever is added and taken back, the log alone gives the same record.
func TestTheLogIsTheRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var r Record
		for range rapid.IntRange(0, 20).Draw(t, "n") {
			e := Event{Entry: head, Kind: rapid.SampledFrom([]Kind{Noted, Undone, "x"}).Draw(t, "kind")}
			if e.Kind == Undone {
				e.Undoes = rapid.IntRange(0, 20).Draw(t, "undoes")
			}
			e.Observation = Observation{Area: rapid.SampledFrom(Areas()).Draw(t, "area"), Day: "2026-03-04", Seen: rapid.SampledFrom([]string{"", "worn"}).Draw(t, "seen"),
				Hazards: rapid.SliceOfDistinct(rapid.SampledFrom(HazardKeys()), rapid.ID[string]).Draw(t, "hazards")}
			r.Add(e)
		}
		b, err := json.Marshal(r.Log())
		if err != nil {
			t.Fatal(err)
		}
		var log []Event
		if err := json.Unmarshal(b, &log); err != nil {
			t.Fatal(err)
		}
		again, err := Fold(log)
		if err != nil || len(again.Of("")) != len(r.Of("")) || len(again.AllHazards()) != len(r.AllHazards()) {
			t.Fatal(err)
		}
	})
}
