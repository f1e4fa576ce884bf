package shop

import (
	"bytes"
	"encoding/json"
	"image/color"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/book/stores"
)

// TestEveryLogComesBack: every clock of the demonstration goes out, comes into
// an empty shop and goes out again as it was, to the byte.
func TestEveryLogComesBack(t *testing.T) {
	from := open(t)
	if err := from.FillDemo(t.Context(), asTyped, unworked); err != nil {
		t.Fatal(err)
	}
	list, err := from.Find(t.Context(), "", "")
	if err != nil || len(list.Clocks) != 4 {
		t.Fatal(err, list)
	}
	seen := map[string]bool{}
	for _, c := range list.Clocks {
		file := exported(t, from, c.ID)
		f, err := job.Decode(strings.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range f.Logs {
			seen[l.Book] = true
		}
		seen["photographs"] = seen["photographs"] || len(f.Photos) > 0
		running := bytes.Contains([]byte(file), []byte(`"kind": "began"`))
		to := open(t)
		got, err := to.Import(t.Context(), "tester", strings.NewReader(file))
		if err != nil {
			t.Fatalf("%s: %+v", c.Number, AsProblem(err))
		}
		after := exported(t, to, got.Clock.ID)
		if len(got.Ended) > 0 {
			if !running {
				t.Errorf("%s: %v", c.Number, got.Ended)
			}
			after = withoutAdded(t, f, after)
		}
		if diff := cmp.Diff(brought(t, file, 0), brought(t, after, 1)); diff != "" {
			t.Errorf("%s comes back as another\n%s", c.Number, diff)
		}
		if p, err := to.Check(t.Context()); err != nil || len(p.Problems) > 0 || p.Elsewhere == 0 && len(f.Photos) > 0 {
			t.Errorf("%s: %+v %v", c.Number, p, err)
		}
		if _, err := to.Backup(t.Context(), t.TempDir()+"/copy.zip", false, nil); err != nil {
			t.Error(err)
		}
	}
	for _, book := range append(clockBooks(), takenBook, "photographs") {
		if !seen[book] && book != bathBook { // that has a test of its own
			t.Errorf("no clock of the demonstration has %s", book)
		}
	}
}

// withoutAdded is a file without the entries that follow those of another.
func withoutAdded(t *testing.T, was job.File, file string) string {
	t.Helper()
	f, err := job.Decode(strings.NewReader(file))
	if err != nil || len(f.Logs) != len(was.Logs) {
		t.Fatal(err, len(f.Logs))
	}
	for i := range f.Logs {
		f.Logs[i].Entries = f.Logs[i].Entries[:len(was.Logs[i].Entries)]
	}
	var b bytes.Buffer
	if err := job.Encode(&b, f); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestNothingRunsTwice: a bath and work under way stand in the new shop with
// all they had, and neither rings nor runs there; in the old one they go on.
func TestNothingRunsTwice(t *testing.T) {
	from, c := bathShop(t, t.TempDir(), morning())
	id := begunBath(t, from, c)
	if _, err := from.StartWork(t.Context(), "Ada", c.ID, "", "bushing", false); err != nil {
		t.Fatal(err)
	}
	file := exported(t, from, c.ID)
	f, err := job.Decode(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	to := open(t)
	got, err := to.Import(t.Context(), "Ben", strings.NewReader(file))
	if err != nil || len(got.Ended) != 2 {
		t.Fatal(AsProblem(err), got.Ended)
	}
	if b, err := to.RunningBaths(t.Context()); err != nil || len(b) > 0 {
		t.Errorf("%v %v", b, err)
	}
	if w := opens(t, to); len(w) > 0 {
		t.Errorf("%+v", w)
	}
	if b, err := to.Bath(t.Context(), id); err != nil || b.Abandoned != bathElsewhere || b.Jar != "blue jar" {
		t.Errorf("%+v %v", b, err)
	}
	if s := stateOf(t, to, got.Clock, "1"); s != parts.Off {
		t.Errorf("the part is %s", s)
	}
	if h := hours(t, to, got.Clock.ID); h.Sums.Total != 0 {
		t.Errorf("%+v", h.Sums)
	}
	after := exported(t, to, got.Clock.ID)
	if diff := cmp.Diff(brought(t, file, 0), brought(t, withoutAdded(t, f, after), 1)); diff != "" {
		t.Error(diff)
	}
	again, err := open(t).Import(t.Context(), "Cy", strings.NewReader(after))
	if err != nil || len(again.Ended) > 0 {
		t.Errorf("%v %v", again.Ended, err)
	}
	if b, err := from.RunningBaths(t.Context()); err != nil || len(b) != 1 || len(opens(t, from)) != 1 {
		t.Errorf("what was begun does not go on: %v %v", b, err)
	}
	if err := to.UndoWork(t.Context(), "Ben", got.Clock.ID, 1, 2); err != nil || len(opens(t, to)) != 1 {
		t.Errorf("it cannot be made to go on here: %v", err)
	}
}

// TestLogsThatCannotBe are refused with a sentence, and nothing is written.
func TestLogsThatCannotBe(t *testing.T) {
	from, c := bathShop(t, t.TempDir(), morning())
	begunBath(t, from, c)
	if _, err := from.StartWork(t.Context(), "Ada", c.ID, "", "bushing", false); err != nil {
		t.Fatal(err)
	}
	file := exported(t, from, c.ID)
	to := open(t)
	for name, x := range map[string]struct{ old, new, field string }{
		"no such kind":     {`"kind": "began"`, `"kind": "bebothered"`, "entries[0].kind"},
		"of another clock": {`"name": "` + c.UID, `"name": "00000000000000ff`, "name"},
		"no list":          {`"entries": [`, `"entries": {}, "more": [`, "entries"},
		"not an entry":     {`"kind": "began"`, `"kind": 7`, "entries[0]"},
	} {
		if !strings.Contains(file, x.old) {
			t.Fatalf("%s: nothing is changed", name)
		}
		_, err := to.Import(t.Context(), "tester", strings.NewReader(strings.Replace(file, x.old, x.new, 1)))
		if p := AsProblem(err); p.Code != BadInput || len(p.Fields) == 0 || !strings.HasPrefix(p.Fields[0].Field, "logs[") || !strings.HasSuffix(p.Fields[0].Field, "]."+x.field) {
			t.Errorf("%s: %+v", name, p)
		}
	}
	for book, entry := range map[string]string{
		proposalBook: `{"kind":"fixed"}`, partsBook: `{"kind":"recorded"}`, conditionBook: `{"kind":"noted"}`, interventionsBook: `{"kind":"recorded"}`, bathBook: `{"kind":"begun"}`,
		workBook: `{"kind":"began"}`, takenBook: `{"kind":"used"}`,
	} {
		bad := `{"seatboard":"clock","version":3,"clock":{"uid":"0123456789abcdef","number":"1","stage":"work"},"logs":[{"book":"` + book + `","name":"0123456789abcdef","entries":[` + entry + `,null,7]}]}`
		for _, text := range []string{bad, strings.Replace(bad, ",null,7", "", 1)} {
			if _, err := to.Import(t.Context(), "tester", strings.NewReader(text)); AsProblem(err).Code != BadInput || len(AsProblem(err).Fields) == 0 {
				t.Errorf("%s: %+v", book, AsProblem(err))
			}
		}
	}
	if l, err := to.Find(t.Context(), "", ""); err != nil || l.Total != 0 {
		t.Errorf("something came in: %+v %v", l, err)
	}
}

// TestUnknownBooksStandInTheHistory: a log of a newer program is not lost.
func TestUnknownBooksStandInTheHistory(t *testing.T) {
	to := open(t)
	file := `{"seatboard":"clock","version":3,"clock":{"uid":"0123456789abcdef","number":"1","stage":"work"},"logs":[{"book":"dreams","name":"x","entries":[{"of":"sheep"}]}]}`
	got, err := to.Import(t.Context(), "tester", strings.NewReader(file))
	if err != nil || len(got.Unread) != 1 || got.Unread[0] != "logs[0]" {
		t.Fatal(err, got)
	}
	if h, err := to.History(t.Context(), got.Clock.ID); err != nil || !strings.Contains(h[0].After, "sheep") {
		t.Errorf("%+v %v", h, err)
	}
}

// TestMaterialsDoNotTouchTheShelf: what was used in another shop is told with
// the clock, and nothing is taken from the shelf of this one.
func TestMaterialsDoNotTouchTheShelf(t *testing.T) {
	from := open(t)
	c := add(t, from, job.Clock{Number: "2026-001"})
	for _, e := range []stores.Event{
		{Kind: stores.Named, Is: &stores.Material{Name: "gut line", Unit: "m"}}, {Kind: stores.CameIn, Material: 1, Amount: 6000},
		{Kind: stores.Used, Material: 1, Amount: 2600, Job: c.Number, Source: "batch 7"}, {Kind: stores.Used, Material: 1, Amount: 1000, Job: c.Number},
		{Kind: stores.Used, Material: 1, Amount: 100, Job: "shop"},
	} {
		if _, err := from.ChangeStores(t.Context(), "Ada", 9, e); err != nil {
			t.Fatal(err)
		}
	}
	undo := stores.Event{Kind: stores.Undone}
	undo.Undoes = 4
	if _, err := from.ChangeStores(t.Context(), "Ada", 9, undo); err != nil {
		t.Fatal(err)
	}
	to := open(t)
	got, err := to.Import(t.Context(), "Ben", strings.NewReader(exported(t, from, c.ID)))
	if err != nil {
		t.Fatal(AsProblem(err))
	}
	used, err := to.UsedElsewhere(t.Context(), got.Clock.UID)
	if err != nil || len(used) != 1 || used[0].Amount != 2600 || used[0].Stock.Name != "gut line" {
		t.Errorf("%+v %v", used, err)
	}
	if st, err := to.Stores(t.Context()); err != nil || len(st.Shelf.Log()) > 0 {
		t.Errorf("%+v %v", st, err)
	}
}

// TestPhotographComesAfterItsRecord: only the record comes with the file; the
// photograph itself, sent by itself, is put to it.
func TestPhotographComesAfterItsRecord(t *testing.T) {
	from, to := open(t), open(t)
	c := add(t, from, job.Clock{Number: "2026-001"})
	whole := shot(t, color.Gray{Y: 90})
	p, err := from.TakePhoto(t.Context(), "Ada", "dial.jpg", bytes.NewReader(whole), PhotoAsk{Clock: c.ID, Area: "dial", Stage: picture.Before})
	if err != nil {
		t.Fatal(err)
	}
	got, err := to.Import(t.Context(), "Ben", strings.NewReader(exported(t, from, c.ID)))
	if err != nil {
		t.Fatal(AsProblem(err))
	}
	there, err := to.Photo(t.Context(), p.UID)
	if err != nil || !there.Elsewhere() || there.Area != "dial" || there.By != "Ada" || there.ClockID != got.Clock.ID || !there.Received.Equal(p.Received) {
		t.Errorf("%+v %v", there, err)
	}
	if h, err := to.Holding(t.Context()); err != nil || h.Missing != 0 {
		t.Errorf("%+v %v", h, err)
	}
	again, err := to.TakePhoto(t.Context(), "Ben", "x.jpg", bytes.NewReader(whole), PhotoAsk{Clock: got.Clock.ID})
	if err != nil || !again.Again || again.UID != p.UID {
		t.Fatalf("%+v %v", again, err)
	}
	if there, err = to.Photo(t.Context(), p.UID); err != nil || there.Small != picture.Made {
		t.Errorf("%+v %v", there, err)
	}
	if c, err := to.Check(t.Context()); err != nil || c.Files != 1 || c.Elsewhere != 0 || len(c.Problems) > 0 {
		t.Errorf("%+v %v", c, err)
	}
	if !json.Valid([]byte(exported(t, to, got.Clock.ID))) || time.Since(there.Received) < 0 {
		t.Error("it does not go out again")
	}
}
