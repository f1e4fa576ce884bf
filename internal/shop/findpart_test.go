package shop

import (
	"strings"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
)

func TestWholeNumber(t *testing.T) {
	s := open(t)
	for _, number := range []string{"2026-014", "7", "7.2"} {
		c := add(t, s, job.Clock{Number: number})
		for _, parent := range []parts.Number{"", "", "2"} {
			if _, err := s.RecordPart(t.Context(), "tester", c.ID, parent, "", parts.Event{To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "wheel"}}, ""); err != nil {
				t.Fatal(err)
			}
		}
	}
	for text, want := range map[string]struct {
		clock int64
		part  parts.Number
	}{"2026-014.2.1": {1, "2.1"}, " 2026-014.2 ": {1, "2"}, "7.1": {2, "1"}, "7.2.1": {3, "1"}, "2026-014.9": {}, "2026-014": {}, "3.5 mm": {}, "...": {}, "": {}, "1999.1": {}, ".2": {}} {
		clock, n, ok, err := s.WholeNumber(t.Context(), text)
		if err != nil || ok != (want.clock != 0) || ok && (clock != want.clock || n != want.part) {
			t.Errorf("%q: clock %d part %s %v %v, want %+v", text, clock, n, ok, err, want)
		}
	}
}

// found are the whole numbers of the parts that the box lists.
func found(t *testing.T, s *Shop, text string) string {
	t.Helper()
	l, err := s.Find(t.Context(), text, "")
	if err != nil {
		t.Fatal(err)
	}
	var whole []string
	for _, p := range l.Parts {
		whole = append(whole, p.Whole())
	}
	return strings.Join(whole, " ")
}

// A part is found as it stands after every change of the ledger: in the same
// change, not later.
func TestPartsAreFoundAsTheyStand(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "2026-014", UID: strings.Repeat("4", 16)})
	e := off("third wheel")
	e.Detail.Place = "box 7"
	recorded(t, s, c.ID, "", e)
	recorded(t, s, c.ID, "1", off("click spring"))
	want := func(text, want string) {
		t.Helper()
		if got := found(t, s, text); got != want {
			t.Errorf("%q finds %q, want %q", text, got, want)
		}
	}
	want("third wheel", "2026-014.1")
	want("box 7", "2026-014.1")
	want("spring", "2026-014.1.1")
	want("014.1", "2026-014.1 2026-014.1.1")
	was := find(t, s, c.ID, "1").Detail
	is := was
	is.Place = "bag 9"
	if err := s.DescribePart(t.Context(), "tester", c.ID, "1", was, is); err != nil {
		t.Fatal(err)
	}
	want("box", "")
	want("bag", "2026-014.1")
	if err := s.UndoParts(t.Context(), "tester", c.ID, 3); err != nil {
		t.Fatal(err)
	}
	want("box", "2026-014.1")
	if err := s.UndoParts(t.Context(), "tester", c.ID, 2); err != nil {
		t.Fatal(err)
	}
	want("spring", "")
	other := open(t)
	if _, err := other.Import(t.Context(), "tester", strings.NewReader(exported(t, s, c.ID))); err != nil {
		t.Fatal(err)
	}
	if got := found(t, other, "third wheel"); got != "2026-014.1" {
		t.Errorf("of a clock that was brought in: %q", got)
	}
}

// A ledger that an earlier program wrote is read as it stands; one that cannot
// be read hides nothing else.
func TestLedgerOfBeforeIsFound(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "2026-014"})
	recorded(t, s, c.ID, "", off("third wheel"))
	err := s.store.Update(t.Context(), "tester", func(tx *store.Tx) error { return tx.IndexParts(c.ID, nil) })
	if err != nil || found(t, s, "third") != "" {
		t.Fatalf("%q %v", found(t, s, "third"), err)
	}
	if err := s.store.Update(t.Context(), "tester", func(tx *store.Tx) error { return indexLedgers(tx, c.ID) }); err != nil {
		t.Fatal(err)
	}
	if got := found(t, s, "third"); got != "2026-014.1" {
		t.Errorf("found: %q", got)
	}
	other := add(t, s, job.Clock{Number: "2026-015"})
	err = s.store.Update(t.Context(), "tester", func(tx *store.Tx) error {
		_, err := store.Append(tx, store.Log{Book: partsBook, Name: other.UID, ClockID: other.ID}, verbatim{ledger.Entry{N: 1}, []byte(`{"n":"one"}`)})
		if err != nil {
			return err
		}
		return indexLedgers(tx, other.ID)
	})
	if err != nil {
		t.Errorf("a ledger that cannot be read: %v", err)
	}
}
