package work

import (
	"encoding/json"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
)

var deedHead = ledger.Entry{When: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC), Who: "Ada"}

func deed(t *testing.T, o *Originality, d Deed) Deed {
	t.Helper()
	d.When, d.Who = deedHead.When, deedHead.Who
	done, f := o.Add(d)
	if len(f) > 0 {
		t.Fatal(f)
	}
	return done
}

func TestOriginalityIsCorrectedByFurtherEntries(t *testing.T) {
	var o Originality
	v := Intervention{Who: "Ada", When: deedHead.When, Done: "bushed the third hole", Added: "brass"}
	first := deed(t, &o, Deed{Kind: Recorded, Intervention: v})
	v = first.Intervention
	v.Added = "bronze CuSn8"
	second := deed(t, &o, Deed{Kind: Corrected, Intervention: v})
	if all := o.Standing(); len(all) != 1 || all[0].Added != "bronze CuSn8" || all[0].N != 1 {
		t.Errorf("%+v", all)
	}
	if c := o.Changes(1); len(c) != 2 || len(c[1].Changes) != 1 || c[1].Changes[0].Before != "brass" || c[1].Changes[0].After != "bronze CuSn8" {
		t.Errorf("%+v", c)
	}
	undo := func(n int) Deed {
		return Deed{Entry: ledger.Entry{When: deedHead.When, Who: "Ada", Undoes: n}, Kind: Undone}
	}
	if _, f := o.Add(undo(first.N)); len(f) != 1 {
		t.Errorf("the first was taken back from under the second: %v", f)
	}
	back := deed(t, &o, undo(second.N))
	if o.Standing()[0].Added != "brass" {
		t.Error("taking back does not bring back what stood")
	}
	deed(t, &o, undo(first.N))
	if len(o.Standing()) != 0 {
		t.Error("it still stands")
	}
	if n := deed(t, &o, Deed{Kind: Recorded, Intervention: Intervention{Who: "Ada", When: deedHead.When, Done: "x"}}).Intervention.N; n != 2 {
		t.Errorf("the number %d was given out twice", n)
	}
	_ = back
}

func TestDeedFaults(t *testing.T) {
	var o Originality
	v := deed(t, &o, Deed{Kind: Recorded, Intervention: Intervention{Who: "Ada", When: deedHead.When, Done: "x"}}).Intervention
	for name, d := range map[string]Deed{
		"nothing changed": {Entry: deedHead, Kind: Corrected, Intervention: v},
		"not there":       {Entry: deedHead, Kind: Corrected, Intervention: Intervention{N: 9}},
		"no kind":         {Entry: deedHead, Kind: "x"},
		"wrong number":    {Entry: deedHead, Kind: Recorded, Intervention: Intervention{N: 5}},
		"new ivory":       {Entry: deedHead, Kind: Recorded, Intervention: Intervention{Who: "Ada", When: deedHead.When, Done: "x", Added: "ivory"}},
	} {
		if _, f := o.Add(d); len(f) != 1 || len(o.Log()) != 1 {
			t.Errorf("%s: %v", name, f)
		}
	}
}

// Whatever is written and taken back, the log alone gives the same ledger.
func TestOriginalityIsItsLog(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var o Originality
		for range rapid.IntRange(0, 20).Draw(t, "n") {
			d := Deed{Entry: deedHead, Kind: rapid.SampledFrom([]Kind{Recorded, Corrected, Undone}).Draw(t, "kind")}
			if d.Kind == Undone {
				d.Undoes = rapid.IntRange(1, 20).Draw(t, "undoes")
			} else {
				d.Intervention = Intervention{N: rapid.IntRange(0, 5).Draw(t, "of"), Who: "Ada", When: deedHead.When, Done: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "done")}
			}
			o.Add(d)
		}
		b, err := json.Marshal(o.Log())
		if err != nil {
			t.Fatal(err)
		}
		var log []Deed
		if err := json.Unmarshal(b, &log); err != nil {
			t.Fatal(err)
		}
		again, err := FoldOriginality(log)
		if err != nil || len(again.Standing()) != len(o.Standing()) {
			t.Fatal(err)
		}
	})
}
