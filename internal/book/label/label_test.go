package label

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TestShortIDs: every UID lies in the range of its own mark and in no other,
// and what is printed is read again, also as it is mistaken.
func TestShortIDs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		uid := fmt.Sprintf("%016x", rapid.Uint64().Draw(t, "uid"))
		n := parts.Number(rapid.SampledFrom([]string{"", "1", "2.1", "12.3.4"}).Draw(t, "n"))
		s := Short(uid, n)
		for _, typed := range []string{s, strings.ToLower(s), " " + s[:3] + " " + s[3:], "http://10.0.0.2:7870/p/" + s, strings.NewReplacer("5", "S", "8", "b", "2", "z").Replace(s[:places]) + s[places:]} {
			d, ok := Parse(typed)
			if !ok || d.String() != s || d.Number != n {
				t.Fatalf("%q is read as %q, %v", typed, d, ok)
			}
			from, to := d.UIDs()
			if uid < from || uid > to {
				t.Fatalf("%s is not between %s and %s", uid, from, to)
			}
		}
	})
	for _, edge := range []string{"0000000000000000", "ffffffffffffffff"} {
		d, ok := Parse(Short(edge, ""))
		if from, to := d.UIDs(); !ok || edge < from || edge > to {
			t.Errorf("%s: %v %s %s", edge, ok, from, to)
		}
	}
	next, _ := Parse("222223")
	first, _ := Parse("222222")
	_, to := first.UIDs()
	from, _ := next.UIDs()
	if to >= from || to[:15] > from[:15] {
		t.Errorf("ranges meet: %s %s", to, from)
	}
}

func TestNoShortID(t *testing.T) {
	for _, s := range []string{"", "A", "ABC", "ACDEF0", "ACDEFG.", "ACDEFG.0", "ACDEFG.1.x", "ACDEFGH", "ACDEFI", "2026-014", "longcase"} {
		if d, ok := Parse(s); ok {
			t.Errorf("%q is read as %v", s, d)
		}
	}
	if Short("short", "1") != "" || Short("zzzzzzzzzzzzzzzz", "1") != "" {
		t.Error("what is no UID has a short id")
	}
}

func TestStockIsSound(t *testing.T) {
	for _, p := range Stock() {
		if f := p.Check(); len(f) > 0 {
			t.Errorf("%s: %v", p.Name, f)
		}
	}
}

func TestProfileMistakesAllAtOnce(t *testing.T) {
	mm := func(x float64) Length { return meas.Of(unit.Millimetres(x)) }
	for what, c := range map[string]struct {
		p    Profile
		want []string
	}{
		"nothing":        {Profile{}, []string{"name", "kind"}},
		"an empty sheet": {Profile{Name: "x", Kind: Sheet}, []string{"columns", "rows", "page-width", "page-height", "width", "height"}},
		"beyond the edges": {Profile{Name: "x", Kind: Sheet, PageWidth: mm(210), PageHeight: mm(297), Width: mm(70), Height: mm(40), Left: mm(5), Columns: 3, Rows: 8},
			[]string{"width", "height"}},
		"over one another": {Profile{Name: "x", Kind: Sheet, PageWidth: mm(210), PageHeight: mm(297), Width: mm(60), Height: mm(40), StepRight: mm(50), StepDown: mm(30), Columns: 3, Rows: 7},
			[]string{"step-right", "step-down"}},
		"a bad printer": {Profile{Name: "x", Kind: Tape, Height: mm(12), Right: mm(-70), BarAcross: mm(10)}, []string{"right", "bar-across"}},
		"a thin tape":   {Profile{Name: "x", Kind: Tape, Height: mm(2)}, []string{"height"}},
	} {
		var got []string
		for _, f := range c.p.Check() {
			got = append(got, f.Field)
		}
		if strings.Join(got, " ") != strings.Join(c.want, " ") {
			t.Errorf("%s: %v, want %v", what, got, c.want)
		}
	}
}

func TestFold(t *testing.T) {
	var log []Event
	add := func(e Event) {
		e.Entry = ledger.Entry{N: len(log) + 1, Undoes: e.Undoes}
		log = append(log, e)
	}
	mine := Stock()[4]
	mine.Name = "Mine"
	add(Event{Kind: Saved, Name: "Mine", Profile: &mine})
	add(Event{Kind: Addressed, Address: "http://a"})
	add(Event{Kind: Printed, Name: Stock()[0].Name, Next: 9})
	add(Event{Kind: Removed, Name: Stock()[1].Name})
	add(Event{Kind: Removed, Name: "Mine"})
	add(Event{Kind: Removed, Name: "no such"})
	log = append(log, Event{Entry: ledger.Entry{N: 7, Undoes: 5}})
	s := Fold(log)
	if k, ok := s.Find("Mine"); !ok || k.Entry != 1 {
		t.Errorf("taking the removal back did not bring it again: %v", k)
	}
	if k, ok := s.Find(""); !ok || k.Name != Stock()[0].Name || k.Free != 9 {
		t.Errorf("last used: %v", k)
	}
	if _, ok := s.Find(Stock()[1].Name); ok || s.Address != "http://a" || len(s.Profiles) != len(Stock()) {
		t.Errorf("%+v", s)
	}
}

func TestAddress(t *testing.T) {
	if a, f := CheckAddress(" https://werkstatt.local:7870/ "); a != "https://werkstatt.local:7870" || len(f) > 0 {
		t.Errorf("%q %v", a, f)
	}
	for _, bad := range []string{"", "192.168.1.20", "ftp://x", "http://", "http://bücher.example", "http://a@b", "http://a?x=1", "javascript:alert(1)", "http://" + strings.Repeat("a", 80)} {
		if _, f := CheckAddress(bad); len(f) != 1 {
			t.Errorf("%q: %v", bad, f)
		}
	}
}
