package job

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

func sample() Clock {
	return Clock{
		UID: "0123456789abcdef", Number: "2026-014", Title: "Longcase clock, eight-day", Stage: Work,
		Owner: Owner{Name: "Møller", Contact: "Quay Lane 3\n+00 1"},
		Object: Object{Type: "clock, longcase", Measurements: "H 2130 mm", Materials: "oak", Inscriptions: "J□hn [...] fecit",
			Made: Made{Text: "about 1790", From: "1785", To: "1795", Certainty: "likely"}, Maker: Maker{AsRead: "J□hn"},
			Features: "plinth cut", Description: "…"},
		Holders: []Holder{{N: 1, Name: "Reading room", From: "1901"}, {N: 2, Name: "A niece"}},
		Pieces:  []Piece{{N: 1, What: "weights", Count: "2", Received: true}},
		Created: time.Date(2026, 1, 2, 3, 4, 5, 6e6, time.UTC), Touched: time.Date(2026, 2, 2, 3, 4, 5, 0, time.UTC),
	}
}

func TestCheckRefusesOnlyWhatCannotBeStored(t *testing.T) {
	odd := sample()
	odd.Promise, odd.Object.Made.From, odd.Object.Made.To = "soon", "1900", "1700"
	odd.Pieces[0].Count = "a few"
	if f := odd.Check(); len(f) != 0 {
		t.Errorf("a contradictory record is refused: %v", f)
	}
	for field, spoil := range map[string]func(*Clock){
		"uid":                  func(c *Clock) { c.UID = "x" },
		"number":               func(c *Clock) { c.Number = " \t " },
		"stage":                func(c *Clock) { c.Stage = "melting" },
		"title":                func(c *Clock) { c.Title = "a\x00b" },
		"owner.note":           func(c *Clock) { c.Owner.Note = "\xff" },
		"object.maker.as_read": func(c *Clock) { c.Object.Maker.AsRead = strings.Repeat("x", MaxText+1) },
		"holders[1].how":       func(c *Clock) { c.Holders[1].How = "\x00" },
		"pieces[0].note":       func(c *Clock) { c.Pieces[0].Note = "\x00" },
		"pieces":               func(c *Clock) { c.Pieces = make([]Piece, MaxRows+1) },
		"created":              func(c *Clock) { c.Created = time.Date(10001, 1, 1, 0, 0, 0, 0, time.UTC) },
	} {
		c := sample()
		spoil(&c)
		if f := c.Check(); len(f) != 1 || f[0].Field != field {
			t.Errorf("%s: %v", field, f)
		}
	}
	all := sample()
	all.UID, all.Number, all.Stage = "", strings.Repeat("9", 61), ""
	if f := all.Check(); len(f) != 3 {
		t.Errorf("not all faults at once: %v", f)
	}
}

func TestPartCheck(t *testing.T) {
	for key, ok := range map[string]bool{"train": true, "drive/strike": true, "a-1": true, "": false, "Train": false, "a/b/c": false, "../x": false, "é": false} {
		if got := len((Part{}).Check(key)) == 0; got != ok {
			t.Errorf("%q: %v", key, got)
		}
	}
	p := Part{Values: map[string][]string{"going": {"half a train", "sixty", "\x00"}}}
	if f := p.Check("train"); len(f) != 1 || f[0].Field != "survey.train.values.going" {
		t.Error(f)
	}
}

func TestFindings(t *testing.T) {
	codes := func(c Clock) (out []string) {
		for _, f := range c.Findings() {
			if _, ok := cite.Find(f.Ref.Source); f.Ref.Source != "" && !ok {
				t.Errorf("%s: unknown source", f.Code)
			}
			out = append(out, f.Code+" "+f.About[0])
		}
		return out
	}
	if got := codes(sample()); !cmp.Equal(got, []string{"illegible object.inscriptions"}) {
		t.Error(got)
	}
	odd := sample()
	odd.Promise, odd.Object.Made, odd.Pieces[0].Count = "soon", Made{From: "1900", To: "1700"}, "some"
	want := []string{"years-reversed object.made.to", "promise-unread promise", "illegible object.inscriptions", "count-unread pieces.1.count"}
	if got := codes(odd); !cmp.Equal(got, want) {
		t.Error(cmp.Diff(want, got))
	}
	odd.Object.Made = Made{Text: "old", From: "early"}
	if got := codes(odd); got[0] != "year-unread object.made.from" {
		t.Error(got)
	}
	if got := codes(Clock{}); len(got) != 8 { // the eight categories asked of every record
		t.Error(got)
	}
}

func TestChecklistIsTheStandards(t *testing.T) {
	f, err := os.Open(check.Shared(t, "reference", "tables", "objectid_checklist.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	plain := strings.NewReplacer("&", "and", "/", " or ", "-", " ")
	lines := Checklist(sample())
	for i, row := range rows[2:] { // heading, photographs
		if i >= len(lines) || lines[i].N != row[0] || !strings.EqualFold(plain.Replace(lines[i].Category), strings.ReplaceAll(plain.Replace(row[1]), "  ", " ")) {
			t.Errorf("%v is not line %d", row, i)
		}
	}
	if len(rows)-2 != len(lines) {
		t.Errorf("%d categories, want %d", len(lines), len(rows)-2)
	}
}

func TestYears(t *testing.T) {
	for text, want := range map[string][2]int{
		"about 1790": {1790, 1790}, "c. 1780–90": {1780, 1790}, "1780 to 1810": {1780, 1810}, "1780s": {1780, 1789},
		"late 18th century": {1700, 1799}, "17. Jh.": {1600, 1699}, "around 1800/1810": {1800, 1810}, "2010s": {2010, 2019},
	} {
		if f, to, ok := (Made{Text: text}).Years(); !ok || f != want[0] || to != want[1] {
			t.Errorf("%q: %d–%d %v", text, f, to, ok)
		}
	}
	for _, text := range []string{"", "old", "12345", "no. 17905", "99"} {
		if f, to, ok := (Made{Text: text}).Years(); ok {
			t.Errorf("%q: %d–%d", text, f, to)
		}
	}
	if f, to, ok := (Made{Text: "1600", From: " 1790 ", To: "?"}).Years(); f != 1790 || to != 1790 || !ok {
		t.Error(f, to, ok)
	}
}

func TestNextNumber(t *testing.T) {
	for _, c := range []struct {
		want     string
		existing []string
	}{
		{"2026-001", nil},
		{"2026-001", []string{"2025-099", "old 7", "2026-x"}},
		{"2026-015", []string{"2026-014", "2026-9", "2026-002a"}},
		{"2026-1000", []string{" 2026–999 "}},
	} {
		if got := NextNumber(2026, c.existing); got != c.want {
			t.Errorf("%v: %s", c.existing, got)
		}
	}
	if NumberKey("  2026-A  1 ") != NumberKey("2026-a 1") || NumberKey("2026-1") == NumberKey("2026-01") {
		t.Error("keys")
	}
}

func TestFold(t *testing.T) {
	for in, want := range map[string]string{
		"Møller  &\tSønner": "moller & sonner", "Großuhr": "grossuhr", "Ægir": "aegir", "Œuf": "oeuf", "Łódź": "lodz",
		"D’Arcy": "d'arcy", "1780–90": "1780-90", "½": "1/2", "ÉMILE": "emile", "ﬁnial": "finial", "  a \n b ": "a b",
		"Ｓｅｔｈ": "seth", "soft\u00adhyphen": "softhyphen", "": "", "🕰️": "🕰",
	} {
		if got := Fold(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		if f := Fold(s); Fold(f) != f {
			t.Errorf("%q folds to %q, then to %q", s, f, Fold(f))
		}
	})
}

func TestEveryTextIsFound(t *testing.T) {
	c := sample()
	text := SearchText(c, Survey{"train": {Values: map[string][]string{"going": {"96/8 60/8"}}}})
	for _, q := range []string{"moller 2026-014", "NIECE reading", "plinth", "96/8", "1785", "quay   lane", "026-01"} {
		if !matches(text, Words(q)) {
			t.Errorf("%q is not found in\n%s", q, text)
		}
	}
	if matches(text, Words("moller nobody")) || !matches(text, nil) {
		t.Error("matching")
	}
	c.Holders[1].Removed = c.Touched
	if matches(SearchText(c, nil), Words("niece")) {
		t.Error("a removed row is found")
	}
	if w := Words(strings.Repeat("a b c d e f g h i j k l m n ", 5)); len(w) != 12 {
		t.Error(w)
	}
}

func TestDiffNamesEachField(t *testing.T) {
	before, after := sample(), sample()
	after.Owner.Name, after.Object.Maker.AsRead, after.Stage, after.Pieces[0].Received = "Q", "John", Trial, false
	after.Removed = after.Touched
	after.Holders = append(slices.Clone(after.Holders), Holder{N: 3, Name: "C"})
	after.Holders[0], after.Holders[1] = after.Holders[1], after.Holders[0]
	want := []Change{
		{Record: "clock", Field: "stage", Before: "work", After: "trial"},
		{Record: "owner", Field: "name", Before: "Møller", After: "Q"},
		{Record: "clock", Field: "object.maker.as_read", Before: "J□hn", After: "John"},
		{Record: "holder", Field: "3.name", After: "C"},
		{Record: "piece", Field: "1.received", Before: "yes", After: "no"},
		{Record: "clock", Field: "removed", Before: "no", After: "yes"},
		{Record: "holder", Field: "order", Before: "1 2", After: "2 1 3"},
	}
	if diff := cmp.Diff(want, Diff(before, after)); diff != "" {
		t.Error(diff)
	}
	if d := Diff(before, before); len(d) != 0 {
		t.Error(d)
	}
	gone := sample()
	gone.Holders = gone.Holders[:1]
	if d := Diff(before, gone); len(d) != 1 || d[0] != (Change{Record: "holder", Field: "2.name", Before: "A niece"}) {
		t.Error(d)
	}
}

func TestDiffPart(t *testing.T) {
	before := Part{Values: map[string][]string{"a": {"1"}, "b": {"x", "y"}, "gone": {"z"}, "empty": {""}}}
	after := Part{Values: map[string][]string{"a": {"2"}, "b": {"x"}, "new": {"n"}}, Removed: time.Unix(1, 0)}
	want := []Change{
		{Record: "survey/train", Field: "a", Before: "1", After: "2"},
		{Record: "survey/train", Field: "b", Before: `["x","y"]`, After: "x"},
		{Record: "survey/train", Field: "gone", Before: "z"},
		{Record: "survey/train", Field: "new", After: "n"},
		{Record: "survey/train", Field: "removed", Before: "no", After: "yes"},
	}
	if diff := cmp.Diff(want, DiffPart("train", before, after)); diff != "" {
		t.Error(diff)
	}
}

func TestSettleKeepsRowsLeftOut(t *testing.T) {
	now := time.Date(2026, 5, 5, 0, 0, 0, 0, time.UTC)
	before, after := sample(), sample()
	after.Holders = []Holder{{Name: "new"}, {N: 1, Name: "Reading room"}}
	got, err := Settle(before, after, now)
	want := []Holder{{N: 3, Name: "new"}, {N: 1, Name: "Reading room"}, {N: 2, Name: "A niece", Removed: now}}
	if err != nil || !cmp.Equal(got.Holders, want) {
		t.Fatal(err, cmp.Diff(want, got.Holders))
	}
	again, err := Settle(got, got, now.AddDate(1, 0, 0))
	if err != nil || !cmp.Equal(again, got) {
		t.Fatal("settling twice differs", err)
	}
	for _, bad := range [][]Holder{{{N: 9}}, {{N: 1}, {N: 1}}, {{N: -1}}} {
		after.Holders = bad
		if _, err := Settle(before, after, now); err == nil {
			t.Errorf("%v is accepted", bad)
		} else if _, ok := err.(meas.Faults); !ok {
			t.Errorf("%T", err)
		}
	}
	if after.Pieces[0].N != 1 {
		t.Error("the form's rows were written to")
	}
}

func TestPromiseAndCounts(t *testing.T) {
	for s, want := range map[string]string{"2026-12-24": "2026-12-24", " 24.12.2026 ": "2026-12-24", "2026-02-30": "", "": "", "Easter": ""} {
		d, ok := Clock{Promise: s}.PromiseDay()
		if ok != (want != "") || ok && d.Format(time.DateOnly) != want {
			t.Errorf("%q: %v %v", s, d, ok)
		}
	}
	if n, ok := (Piece{Count: " 2 "}).Number(); n != 2 || !ok {
		t.Error(n, ok)
	}
	if m, g := Illegible("□□ [...] a [b] […]"); m != 2 || g != 2 {
		t.Error(m, g)
	}
}

func TestSurveyOrder(t *testing.T) {
	s := Survey{"drive/strike": {}, "zz": {}, "drive": {}, "train": {}, "bell": {}, "pendulum": {}}
	want := []string{"train", "pendulum", "drive", "drive/strike", "bell", "zz"}
	if got := s.Keys(); !cmp.Equal(got, want) {
		t.Error(got)
	}
}

func TestStages(t *testing.T) {
	for _, s := range Stages() {
		if !s.Known() || s.Words() == string(s) {
			t.Error(s)
		}
	}
	if Stage("x").Known() || Stage("x").Words() != "x" {
		t.Error("x")
	}
}

// matches tells whether all words stand in the folded text.
func matches(folded string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(folded, w) {
			return false
		}
	}
	return true
}
