package shop

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/making"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/work"
	"seatboard/internal/craft/clean"
	"seatboard/internal/craft/train"
)

// asTyped and unworked stand for the forms and the desk, which the shop does
// not know.
func asTyped(_ string, v map[string][]string) map[string][]string { return v }

func unworked(_ context.Context, calculation string, v map[string][]string) making.Sheet {
	return making.Sheet{Calculation: calculation, Values: v}
}

// What was worked out goes out with the clock and comes in again; two people
// at one sheet see both.
func TestSheetsInTheBook(t *testing.T) {
	s := open(t)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	n, err := s.KeepSheet(ctx, "Ada", c.ID, making.Sheet{Calculation: "train", Title: "third wheel", Values: values("going", "96/8 60/8 56/7 30"), Answer: []byte(`{"beats":3600}`)})
	if err != nil || n != 1 {
		t.Fatal(n, err)
	}
	is := making.Sheet{Calculation: "train", Title: "third wheel", Values: values("going", "96/8 60/8 60/7 30"), Answer: []byte(`{"beats":3857}`)}
	if err := s.ChangeSheet(ctx, "Bo", c.ID, 1, 1, is, "miscounted"); err != nil {
		t.Fatal(err)
	}
	is.Values = values("going", "96/8 60/8 64/7 30")
	err = s.ChangeSheet(ctx, "Ada", c.ID, 1, 1, is, "")
	if p := AsProblem(err); p.Code != Conflict || len(p.Differ) != 1 || !strings.Contains(p.Message, "Bo") || p.Differ[0].Before != "96/8 60/8 60/7 30" {
		t.Fatalf("%+v", p)
	}
	_, err = s.KeepSheet(ctx, "Ada", c.ID, making.Sheet{})
	if p := AsProblem(err); p.Code != BadInput || len(p.Fields) != 2 {
		t.Errorf("%+v", p)
	}
	file := exported(t, s, c.ID)
	to := open(t)
	got, err := to.Import(ctx, "Bo", strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	m, err := to.Making(ctx, got.Clock.ID)
	x, ok := m.Book.Find(1)
	if err != nil || !ok || x.Version != 2 || x.Values["going"][0] != "96/8 60/8 60/7 30" || x.Program != program() {
		t.Errorf("%+v %v", x, err)
	}
}

// A part that was made stands in three books at once, with its drawings in the
// folder and in the backup; taken back it stands in none, and the logs say so.
func TestPartMadeBySheet(t *testing.T) {
	dir := t.TempDir()
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, dir, w)
	ctx := t.Context()
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	if _, err := s.KeepSheet(ctx, "Ada", c.ID, making.Sheet{Calculation: "tooth", Title: "third wheel", Gist: "60 teeth"}); err != nil {
		t.Fatal(err)
	}
	ask := MakeAsk{Read: 1, Count: 0, Detail: parts.Detail{Name: "third wheel", Made: []clean.Material{"cheese"}}, Deed: work.Intervention{Who: "Ada"}, Drawings: []Drawn{{"third-wheel.svg", []byte("<svg/>")}}}
	_, err := s.MakePart(ctx, "Ada", c.ID, 1, ask)
	fields := map[string]bool{}
	for _, f := range AsProblem(err).Fields {
		fields[f.Field] = true
	}
	if !fields["count"] || !fields["made"] || !fields["deed.when"] || !fields["deed.done"] {
		t.Fatalf("not all mistakes at once: %+v", AsProblem(err))
	}
	if m, _ := s.Making(ctx, c.ID); len(m.Book.Log()) != 1 {
		t.Fatal("something was half written")
	}
	ask.Count, ask.Detail.Made = 1, []clean.Material{clean.Brass}
	ask.Deed = work.Intervention{Who: "Ada", When: w.now, Found: "third wheel lost", Done: "new wheel cut, 60 teeth", Undo: work.Freely, KeptAt: "not found"}
	made, err := s.MakePart(ctx, "Ada", c.ID, 1, ask)
	if err != nil || made.Number != "1" || made.Intervention != 1 || len(made.Drawings) != 1 {
		t.Fatalf("%+v %v", made, err)
	}
	td, err := s.TakeDown(ctx, c.ID)
	p, ok := td.Ledger.Find("1")
	if err != nil || !ok || p.State != parts.Mended || !p.New {
		t.Errorf("%+v %v", p, err)
	}
	o, err := s.Originality(ctx, c.ID)
	if err != nil || len(o.Ledger.Standing()) != 1 || o.Ledger.Standing()[0].Part != "1" {
		t.Errorf("%+v %v", o.Ledger.Standing(), err)
	}
	f, err := s.KeptDrawing(made.Drawings[0].SHA256)
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	if err := s.NotePart(ctx, "Ada", c.ID, 1, "1"); err != nil {
		t.Fatal(err)
	}
	if td, _ = s.TakeDown(ctx, c.ID); !strings.Contains(part(t, td, "1").Note, "60 teeth (sheet 1: third wheel)") {
		t.Errorf("%+v", part(t, td, "1"))
	}
	drawingsAreSafe(t, s, c.ID, made)

	if err := s.TakeBackPart(ctx, "Bo", c.ID, 2); AsProblem(err).Code != BadInput {
		t.Errorf("a part that was noted on is taken back: %v", err)
	}
	if err := s.UndoParts(ctx, "Bo", c.ID, 2); err != nil {
		t.Fatal(err)
	}
	if err := s.TakeBackPart(ctx, "Bo", c.ID, 2); err != nil {
		t.Fatal(err)
	}
	m, _ := s.Making(ctx, c.ID)
	td, _ = s.TakeDown(ctx, c.ID)
	o, _ = s.Originality(ctx, c.ID)
	if x, _ := m.Book.Find(1); len(x.Parts) != 0 || len(td.Ledger.Parts()) != 0 || len(o.Ledger.Standing()) != 0 || len(o.Ledger.Log()) != 2 {
		t.Errorf("%+v %+v %+v", x, td.Ledger.Parts(), o.Ledger.Standing())
	}
	if _, err := s.MakePart(ctx, "Ada", c.ID, 1, MakeAsk{Read: 7}); AsProblem(err).Code != Conflict {
		t.Errorf("a part is made by a sheet that nobody read: %v", err)
	}
}

func part(t *testing.T, td TakeDown, n parts.Number) parts.Part {
	t.Helper()
	p, ok := td.Ledger.Find(n)
	if !ok {
		t.Fatalf("there is no part %s", n)
	}
	return p
}

// drawingsAreSafe wants the drawings of a part in a backup and in the shop made
// of it, and wants a look through the shop to miss one that is gone; with the
// clock's file the record goes and the drawing stays.
func drawingsAreSafe(t *testing.T, s *Shop, clock int64, made making.Part) {
	t.Helper()
	ctx := t.Context()
	sum := made.Drawings[0].SHA256
	file, dir := filepath.Join(t.TempDir(), "b.zip"), filepath.Join(t.TempDir(), "again")
	b, err := s.Backup(ctx, file, false, nil)
	if err != nil || len(b.Files) != 1 || b.Files[0].SHA256 != sum {
		t.Fatalf("%+v %v", b.Files, err)
	}
	if _, err := Restore(ctx, file, b.SHA256, dir, nil); err != nil {
		t.Fatal(err)
	}
	again, err := Open(ctx, dir, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if c, err := again.Check(ctx); err != nil || c.Files != 1 || len(c.Problems)+len(c.Orphans) > 0 {
		t.Errorf("%+v %v", c, err)
	}
	if err := os.Remove(filepath.Join(dir, "files", sum)); err != nil {
		t.Fatal(err)
	}
	if c, err := again.Check(ctx); err != nil || len(c.Problems) != 1 {
		t.Errorf("a drawing is gone and not missed: %+v %v", c, err)
	}
	to := open(t)
	if _, err := to.Import(ctx, "Bo", strings.NewReader(exported(t, s, clock))); err != nil {
		t.Fatal(err)
	}
	if c, err := to.Check(ctx); err != nil || len(c.Problems) > 0 || c.Elsewhere != 1 {
		t.Errorf("the drawing stayed where it was made: %+v %v", c, err)
	}
	if _, err := to.KeptDrawing(sum); AsProblem(err).Code != NotFound {
		t.Error(err)
	}
}

// Words that say that a piece is not there, and those that deny it or say
// something else.
func TestSaysMissing(t *testing.T) {
	for words, want := range map[string]bool{
		"left finial missing": true, "front moulding in three pieces, two more wanting": true, "key: missing": true, "Missing": true,
		"": false, "nothing is missing": false, "no teeth missing, two bent": false, "sound": false, "lacquer lost on the bob": false, "not wanting in anything": false,
		"complete; no part missing. The key is missing": true,
	} {
		if got := saysMissing(words); got != want {
			t.Errorf("%q: %v", words, got)
		}
	}
}

// What is missing of a train is found, chosen, drawn and cut, one step after the
// other; what was struck out answers nothing. A count that was inferred without
// a search is of a part that is there.
func TestWantedOfATrain(t *testing.T) {
	var q train.Query
	going := func(chain string) train.Query {
		q.Trains = []train.Train{{Name: train.Going, Chain: train.MustChain(chain)}}
		return q
	}
	sheet := func(calculation string, pairs ...string) making.Event {
		return making.Event{Kind: making.Kept, Is: &making.Sheet{Calculation: calculation, Title: calculation, Values: values(pairs...), Answer: []byte(`{}`)}}
	}
	var b making.Book
	add := func(e making.Event) {
		e.Who, e.When = "A", time.Unix(int64(len(b.Log())), 0).UTC()
		if _, faults := b.Add(e); len(faults) > 0 {
			t.Fatal(faults)
		}
	}
	want := func(chain string, step WantedStep, sheet int, first string) {
		t.Helper()
		w := wantedOfTrain(going(chain), b)
		switch {
		case step == "" && w != nil:
			t.Errorf("%s: %+v, want nothing", chain, w)
		case step != "" && (w == nil || w.Step != step || w.Sheet != sheet || w.Members[0].String() != first):
			t.Errorf("%s: %+v, want %s by sheet %d for %s", chain, w, step, sheet, first)
		}
	}
	const lost, found = "96/8 60/8 ?/7 30", "96/8 60/8 56?/7 30"
	want(lost, FindCounts, 0, "the wheel of arbor 3")
	want("96/8 60/8 56/7 ?", FindCounts, 0, "the escape wheel")
	want(found, "", 0, "")
	add(sheet("missing", "strike", "78/8 ?/7 48/6"))
	want(lost, FindCounts, 0, "the wheel of arbor 3") // that search was for another train
	add(sheet("missing", "going", lost))
	want(lost, ChooseCounts, 2, "the wheel of arbor 3")
	want(found, DrawPart, 2, "the wheel of arbor 3")
	add(sheet("tooth", "wheel", "56", "leaves", "7"))
	want(found, CutPart, 3, "the wheel of arbor 3")
	add(making.Event{Kind: making.Made, Sheet: 3, Part: &making.Part{Number: "2", Recorded: 1, Intervention: 1}})
	want(found, "", 0, "")
	add(making.Event{Entry: ledger.Entry{Undoes: 4}, Kind: making.Undone})
	add(making.Event{Kind: making.Struck, Sheet: 3})
	want(found, DrawPart, 2, "the wheel of arbor 3")
}

// A part that the ledger says is missing is wanted until another stands for it.
func TestWantedOfThePartsAndAreas(t *testing.T) {
	var l parts.Ledger
	add := func(d parts.Detail, to parts.State, why string) parts.Number {
		t.Helper()
		e, faults := l.Add(parts.Event{Entry: ledger.Entry{Who: "A", When: time.Unix(int64(len(l.Log())), 0).UTC(), Why: why}, Kind: parts.Recorded, To: to, Count: 1, Detail: &d})
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return e.Part
	}
	var r condition.Record
	if _, faults := r.Add(condition.Event{Entry: ledger.Entry{Who: "A", When: time.Unix(0, 0)}, Kind: condition.Noted, Observation: condition.Observation{Area: "hands", Day: "2026-11-25", Seen: "minute hand missing"}}); len(faults) > 0 {
		t.Fatal(faults)
	}
	add(parts.Detail{Name: "centre wheel", Place: "tray 1"}, parts.Off, "")
	if w := wantedOfParts(&l); w != nil {
		t.Errorf("%+v", w)
	}
	bell := add(parts.Detail{Name: "bell", Place: "missing"}, parts.Off, "")
	if w := wantedOfParts(&l); w == nil || w.Part != bell || w.Name != "bell" || w.Said != "missing" {
		t.Errorf("%+v", w)
	}
	if w := wantedOfAreas(r, &l); w == nil || w.Name != "hands" || w.Said != "minute hand missing" {
		t.Errorf("%+v", w)
	}
	add(parts.Detail{Name: "bell", Place: "tray 2", Replaces: bell}, parts.Mended, "bought")
	add(parts.Detail{Name: "minute hand", Place: "tray 2"}, parts.Mended, "made")
	if w := wantedOfParts(&l); w != nil {
		t.Errorf("%+v", w)
	}
	if w := wantedOfAreas(r, &l); w != nil {
		t.Errorf("%+v", w)
	}
}
