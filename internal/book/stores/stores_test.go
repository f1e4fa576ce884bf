package stores

import (
	"encoding/json"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
)

var head = ledger.Entry{When: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC), Who: "Ada"}

func must(t *testing.T, s *Shelf, e Event) Event {
	t.Helper()
	e.Entry.When, e.Entry.Who = head.When, head.Who
	e, f := s.Add(e)
	if len(f) > 0 {
		t.Fatal(f)
	}
	return e
}

func shelf(t *testing.T) *Shelf {
	s := &Shelf{}
	must(t, s, Event{Kind: Named, Is: &Material{Name: "bush 3 mm", Unit: Pieces, Low: 5 * one}})
	must(t, s, Event{Kind: Named, Is: &Material{Name: "Gut line", Unit: "m", Low: 2500}})
	must(t, s, Event{Kind: CameIn, Material: 1, Amount: 20 * one})
	must(t, s, Event{Kind: CameIn, Material: 2, Amount: 10 * one})
	return s
}

func TestAmounts(t *testing.T) {
	for s, want := range map[string]string{"3": "3", "2.5": "2.5", "2,5": "2.5", " 0.125 ": "0.125", "1000000": "1000000", "007": "7", "0": "0"} {
		if a, err := ParseAmount(s); err != nil || a.String() != want {
			t.Errorf("%q: %s, %v", s, a, err)
		}
	}
	for _, s := range []string{"", ".", "1.", ".5", "-1", "+1", "1.2345", "1e3", "1,000,000", "1000001", "99999999999999", "ten", "1 2"} {
		if a, err := ParseAmount(s); err == nil {
			t.Errorf("%q is read as %s", s, a)
		}
	}
	if Amount(-2500).String() != "−2.5" {
		t.Error(Amount(-2500))
	}
}

func TestShelf(t *testing.T) {
	s := shelf(t)
	must(t, s, Event{Kind: Used, Material: 1, Amount: 3 * one, Job: "2026-014"})
	must(t, s, Event{Kind: Used, Material: 1, Amount: 4 * one, Job: "2026-014"})
	wrong := must(t, s, Event{Kind: Used, Material: 2, Amount: 7600, Job: "2026-015"})
	if f := s.Findings(); len(f) != 1 || f[0].Code != "low" || f[0].Text != "Gut line is low: 2.4 m left." {
		t.Errorf("%v", f)
	}
	if u := s.UsedBy("2026-014"); len(u) != 1 || u[0].Amount != 7*one || u[0].Stock.Left != 13*one {
		t.Errorf("%+v", u)
	}
	must(t, s, Event{Entry: ledger.Entry{Undoes: wrong.N}})
	if f := s.Findings(); len(f) != 0 || len(s.UsedBy("2026-015")) != 0 {
		t.Errorf("after the undo: %v", f)
	}
	must(t, s, Event{Kind: Counted, Material: 1, Amount: 11 * one})
	if st := s.Stock()[0]; st.Left != 11*one || st.Lost != 2*one {
		t.Errorf("%+v", st)
	}
	must(t, s, Event{Kind: Used, Material: 1, Amount: 12 * one, Job: "shop"})
	if f := s.Findings(); len(f) != 1 || f[0].Code != "below-nought" {
		t.Errorf("%v", f)
	}
}

func TestFaults(t *testing.T) {
	s := shelf(t)
	for name, c := range map[string]struct {
		e Event
		n int
	}{
		"nothing at all":      {Event{}, 4}, // who, when, what, which
		"not there":           {Event{Entry: head, Kind: CameIn, Material: 9, Amount: one}, 1},
		"half a bush":         {Event{Entry: head, Kind: CameIn, Material: 1, Amount: 500}, 1},
		"no job, nothing":     {Event{Entry: head, Kind: Used, Material: 1}, 2},
		"no name, no unit":    {Event{Entry: head, Kind: Named, Is: &Material{Low: -1}}, 3},
		"nothing named":       {Event{Entry: head, Kind: Named}, 1},
		"another unit":        {Event{Entry: head, Kind: Named, Material: 2, Is: &Material{Name: "Gut line", Unit: "ft"}}, 1},
		"undoing the naming":  {Event{Entry: ledger.Entry{When: head.When, Who: "A", Undoes: 1}}, 1},
		"undoing what is not": {Event{Entry: ledger.Entry{When: head.When, Who: "A", Undoes: 99}}, 1},
	} {
		before := len(s.Log())
		if _, f := s.Add(c.e); len(f) != c.n || len(s.Log()) != before {
			t.Errorf("%s: %d faults, want %d: %v", name, len(f), c.n, f)
		}
	}
}

// What came in is left, used or lost, to the thousandth, and the log alone
// gives the same shelf.
func TestNothingVanishes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s Shelf
		if _, f := s.Add(Event{Entry: head, Kind: Named, Is: &Material{Name: "oil", Unit: "ml"}}); len(f) > 0 {
			t.Fatal(f)
		}
		for range rapid.IntRange(0, 30).Draw(t, "n") {
			e := Event{Entry: head, Material: 1, Amount: Amount(rapid.Int64Range(-10, 100000).Draw(t, "amount")), Job: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "job")}
			e.Kind = rapid.SampledFrom([]Kind{CameIn, Used, Counted, Undone}).Draw(t, "kind")
			if e.Kind == Undone {
				e.Undoes = rapid.IntRange(2, 40).Draw(t, "undoes")
			}
			s.Add(e)
		}
		var in Amount
		standing := ledger.Standing(s.Log())
		for i, e := range s.Log() {
			if standing[i] && e.Kind == CameIn {
				in += e.Amount
			}
		}
		st := s.Stock()[0]
		if st.Left+st.Lost+st.ByJob["a"]+st.ByJob["b"] != in {
			t.Fatalf("%s came in: %+v", in, st)
		}
		b, err := json.Marshal(s.Log())
		if err != nil {
			t.Fatal(err)
		}
		var log []Event
		if err := json.Unmarshal(b, &log); err != nil {
			t.Fatal(err)
		}
		again, err := Fold(log)
		if err != nil || again.Stock()[0].Left != st.Left {
			t.Fatalf("%v %+v", err, again.Stock())
		}
	})
}

func FuzzParseAmount(f *testing.F) {
	for _, s := range []string{"3", "2,5", "0.001", "1000000", "1.", "٣", "1e9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseAmount(s)
		if err != nil {
			return
		}
		if again, err := ParseAmount(a.String()); err != nil || again != a || a < 0 || a > mostAmount {
			t.Errorf("%q is read as %s, that as %s, %v", s, a, again, err)
		}
	})
}
