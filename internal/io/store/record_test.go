package store_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
	"seatboard/internal/kit/meas"
)

// text is any text that can be kept: whatever a person or a paste brings.
var text = rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
	"", " ", "'", `"`, `\`, "%", "_", "\r\n", "\t", "−0,5 mm ± ½″", "\u202e⌀", "🕰️", "é\u0301", "</script>", "'); DROP TABLE clock;--", "\ufeff", "\u2028", "null", "1e400", "007",
})).Filter(func(s string) bool { return !strings.ContainsRune(s, 0) })

// anyClock draws a clock with any text in every field.
func anyClock(t *rapid.T, n int) job.Clock {
	d := func(name string) string { return text.Draw(t, name) }
	c := clock(n)
	c.Title, c.Promise = d("title"), d("promise")
	c.Stage = rapid.SampledFrom(job.Stages()).Draw(t, "stage")
	c.Invented = rapid.Bool().Draw(t, "invented")
	c.Owner = job.Owner{Name: d("name"), Contact: d("contact"), Note: d("note")}
	o := &c.Object
	for _, p := range []*string{&o.Type, &o.Materials, &o.Measurements, &o.Inscriptions, &o.Made.Text, &o.Made.From, &o.Made.To, &o.Made.Certainty,
		&o.Maker.AsRead, &o.Maker.Attributed, &o.Maker.Role, &o.Subject, &o.Title, &o.Features, &o.Description, &o.Inventory, &o.Writings, &o.Place, &o.Related, &o.Documented} {
		*p = d("object")
	}
	for range rapid.IntRange(0, 3).Draw(t, "holders") {
		c.Holders = append(c.Holders, job.Holder{Name: d("holder"), From: d("from"), To: d("to"), How: d("how")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "pieces") {
		c.Pieces = append(c.Pieces, job.Piece{What: d("what"), Count: d("count"), Note: d("piece"), Received: rapid.Bool().Draw(t, "received")})
	}
	return c
}

// TestAnyTextIsKeptAsTyped saves and loads clocks of any text, by the same
// store and after it was opened anew.
func TestAnyTextIsKeptAsTyped(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	n := 0
	saved := map[int64]job.Clock{}
	parts := map[int64]job.Survey{}
	rapid.Check(t, func(rt *rapid.T) {
		n++
		c := anyClock(rt, n)
		values := rapid.MapOfN(text, rapid.SliceOfN(text, 0, 3), 0, 4).Draw(rt, "values")
		var p job.Part
		err := s.Update(ctx, text.Draw(rt, "by"), func(tx *store.Tx) (err error) {
			if c, err = tx.AddClock(c); err != nil {
				return err
			}
			p, err = tx.SavePart(c.ID, "drive/strike", job.Part{Values: values})
			c.Touched = tx.Now()
			return err
		})
		if err != nil {
			rt.Fatal(err)
		}
		saved[c.ID], parts[c.ID] = c, job.Survey{"drive/strike": p}
		same(rt, s, c, parts[c.ID])
	})
	shut(t, s)
	s = open(t, dir, store.Options{})
	for id, c := range saved {
		same(t, s, c, parts[id])
	}
	whole(t, s)
}

type failer interface {
	Helper()
	Fatalf(string, ...any)
}

// same fails unless a clock's file is as it was given to the store.
func same(t failer, s *store.Store, want job.Clock, survey job.Survey) {
	t.Helper()
	err := s.View(ctx, func(tx *store.Tx) error {
		c, err := tx.Clock(want.ID)
		if err != nil {
			return err
		}
		if d := cmp.Diff(want, c); d != "" {
			t.Fatalf("the clock changed (-typed +kept):\n%s", d)
		}
		v, err := tx.Survey(want.ID)
		if d := cmp.Diff(survey, v, cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("the survey changed (-typed +kept):\n%s", d)
		}
		return err
	})
	if err != nil {
		t.Fatalf("%v", err)
	}
}

// TestHistoryOfEachKindOfChange makes one change after the other and looks at
// what the history says of it.
func TestHistoryOfEachKindOfChange(t *testing.T) {
	w := &wall{time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)}
	s := open(t, t.TempDir(), store.Options{Now: w.Now})
	c := clock(14)
	c.Pieces = []job.Piece{{What: "weights"}, {What: "crank key"}}
	c = add(t, s, c)
	seen := 1
	expect := func(what string, want ...string) {
		t.Helper()
		_, _, h := load(t, s, c.ID)
		fresh := h[:len(h)-seen]
		seen = len(h)
		var got []string
		for _, x := range slices.Backward(fresh) {
			if x.Who != "A. Restorer" || !x.When.Equal(w.now) {
				t.Errorf("%s: by %q at %v", what, x.Who, x.When)
			}
			got = append(got, fmt.Sprintf("%s %s: %q -> %q", x.Record, x.Field, x.Before, x.After))
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
		w.now = w.now.Add(time.Minute)
	}
	_, _, h := load(t, s, c.ID)
	if len(h) != 1 || h[0].Record != "clock" || h[0].Field != job.CreatedField || h[0].After != "2026-014" {
		t.Fatalf("taken in: %+v", h)
	}
	save := func(change func(*job.Clock)) {
		t.Helper()
		c, _, _ = load(t, s, c.ID)
		change(&c)
		update(t, s, func(tx *store.Tx) (err error) { c, err = tx.SaveClock(c); return err })
	}
	part := func(key string, change func(*job.Part)) {
		t.Helper()
		_, v, _ := load(t, s, c.ID)
		p := v[key]
		change(&p)
		update(t, s, func(tx *store.Tx) error { _, err := tx.SavePart(c.ID, key, p); return err })
	}

	save(func(c *job.Clock) { c.Title = "Regulator" })
	expect("title", `clock title: "Longcase clock 14" -> "Regulator"`)
	save(func(*job.Clock) {})
	expect("nothing")
	save(func(c *job.Clock) {
		c.Number, c.Stage, c.Promise, c.Invented = "2026-15", job.Work, "2026-12-24", false
	})
	expect("head", `clock number: "2026-014" -> "2026-15"`, `clock stage: "taking-in" -> "work"`, `clock promise: "" -> "2026-12-24"`, `clock invented: "yes" -> "no"`)
	save(func(c *job.Clock) { c.Owner.Contact = "1 Quay Lane\nAldbury" })
	expect("owner", `owner contact: "" -> "1 Quay Lane\nAldbury"`)
	save(func(c *job.Clock) { c.Object.Maker.AsRead = "J□hn" })
	expect("object", `clock object.maker.as_read: "" -> "J□hn"`)
	save(func(c *job.Clock) { c.Holders = []job.Holder{{Name: "Ada"}, {Name: "Bram"}} })
	expect("holders", `holder 1.name: "" -> "Ada"`, `holder 2.name: "" -> "Bram"`)
	save(func(c *job.Clock) { slices.Reverse(c.Holders) })
	expect("order", `holder order: "1 2" -> "2 1"`)
	save(func(c *job.Clock) { c.Holders = c.Holders[:1] }) // Bram is first now
	expect("holder removed", `holder 1.removed: "no" -> "yes"`)
	save(func(c *job.Clock) { c.Pieces[0].Received, c.Pieces[1].Count = true, "2" })
	expect("pieces", `piece 1.received: "no" -> "yes"`, `piece 2.count: "" -> "2"`)
	part("train", func(p *job.Part) { p.Values = map[string][]string{"going": {"96/8 60/8 56/7 30"}, "note": {""}} })
	expect("part", `survey/train going: "" -> "96/8 60/8 56/7 30"`)
	part("train", func(p *job.Part) { p.Values = map[string][]string{"going": {"half a train", "x"}} })
	expect("part again", `survey/train going: "96/8 60/8 56/7 30" -> "[\"half a train\",\"x\"]"`)
	part("train", func(p *job.Part) { p.Removed = w.now })
	expect("part removed", `survey/train removed: "no" -> "yes"`)
	save(func(c *job.Clock) { c.Removed = w.now })
	expect("removed", `clock removed: "no" -> "yes"`)
	save(func(c *job.Clock) { c.Removed = time.Time{} })
	expect("put back", `clock removed: "yes" -> "no"`)

	c, v, all := load(t, s, c.ID)
	if len(c.Holders) != 2 || len(c.StandingHolders()) != 1 {
		t.Errorf("a row that was removed must stay: %+v", c.Holders)
	}
	other := open(t, t.TempDir(), store.Options{Now: w.Now})
	oldest := slices.Clone(all)
	slices.Reverse(oldest)
	update(t, other, func(tx *store.Tx) (err error) {
		c, err = tx.ImportClock(job.File{Clock: c, Survey: v, History: oldest})
		return err
	})
	_, _, imported := load(t, other, c.ID)
	if x := imported[0]; x.Field != job.ImportedField || x.After != c.Number {
		t.Errorf("brought in: %+v", x)
	}
	if d := cmp.Diff(all, imported[1:], cmpopts.IgnoreFields(job.Change{}, "ID")); d != "" {
		t.Errorf("the history was brought in changed:\n%s", d)
	}
	same(t, other, c, withVersion(v, 1))
}

// withVersion is a survey whose parts were saved n times.
func withVersion(v job.Survey, n int) job.Survey {
	out := job.Survey{}
	for key, p := range v {
		p.Version = n
		out[key] = p
	}
	return out
}

func TestConflictsShowBothValues(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	mine, yours := c, c
	mine.Title, yours.Title = "mine", "yours"
	update(t, s, func(tx *store.Tx) error { _, err := tx.SaveClock(mine); return err })
	err := s.Update(ctx, "B", func(tx *store.Tx) error { _, err := tx.SaveClock(yours); return err })
	var conflict *store.ConflictError
	if !errors.As(err, &conflict) || conflict.Stored.Title != "mine" || conflict.Yours.Title != "yours" || conflict.Stored.Version != 2 {
		t.Fatalf("%#v", err)
	}
	if d := conflict.Differences(); len(d) != 1 || d[0].Before != "mine" || d[0].After != "yours" {
		t.Errorf("%+v", d)
	}
	put := func(version int, value string) error {
		return s.Update(ctx, "B", func(tx *store.Tx) error {
			_, err := tx.SavePart(c.ID, "train", job.Part{Version: version, Values: map[string][]string{"going": {value}}})
			return err
		})
	}
	if err := put(0, "60"); err != nil {
		t.Fatal(err)
	}
	var part *store.PartConflictError
	if err := put(0, "64"); !errors.As(err, &part) || part.Stored.Value("going") != "60" || part.Yours.Value("going") != "64" {
		t.Errorf("%#v", err)
	}
	got, v, h := load(t, s, c.ID)
	if got.Title != "mine" || v["train"].Value("going") != "60" || len(h) != 3 {
		t.Errorf("a refused save left something: %q %v %d changes", got.Title, v, len(h))
	}
}

// TestManyAtOnce lets many save the same clock and try again after a
// conflict: nobody's word is lost.
func TestManyAtOnce(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	const people, words = 8, 6
	var wg sync.WaitGroup
	for who := range people {
		wg.Go(func() {
			for word := range words {
				for {
					var seen job.Clock
					err := s.View(ctx, func(tx *store.Tx) (err error) { seen, err = tx.Clock(c.ID); return err })
					if err == nil {
						seen.Owner.Note += fmt.Sprintf("[%d.%d]", who, word)
						err = s.Update(ctx, fmt.Sprint(who), func(tx *store.Tx) error { _, err := tx.SaveClock(seen); return err })
					}
					var conflict *store.ConflictError
					if errors.As(err, &conflict) {
						continue
					}
					if err != nil {
						t.Error(err)
					}
					break
				}
			}
		})
	}
	wg.Wait()
	got, _, h := load(t, s, c.ID)
	for who := range people {
		for word := range words {
			if n := strings.Count(got.Owner.Note, fmt.Sprintf("[%d.%d]", who, word)); n != 1 {
				t.Errorf("[%d.%d] stands there %d times", who, word, n)
			}
		}
	}
	if got.Version != 1+people*words || len(h) != 1+people*words {
		t.Errorf("version %d, %d changes", got.Version, len(h))
	}
}

// TestOrderWhenTheWallClockJumps sets the clock on the wall back by a year,
// forward, and twice to the same instant: lists and histories stay in the
// order in which things were done.
func TestOrderWhenTheWallClockJumps(t *testing.T) {
	start := time.Date(2026, 10, 25, 2, 30, 0, 0, time.FixedZone("CEST", 2*3600))
	w := &wall{start}
	s := open(t, t.TempDir(), store.Options{Now: w.Now})
	var c job.Clock
	for n, now := range []time.Time{start, start.AddDate(-1, 0, 0), start.AddDate(1, 0, 0), start, start, start.Add(-time.Hour)} {
		w.now = now
		c = add(t, s, clock(n+1))
		if c.Created.Location() != time.UTC || !c.Created.Equal(now) {
			t.Errorf("created %v at %v", c.Created, now)
		}
	}
	numbers := func() (out []string) {
		view(t, s, func(tx *store.Tx) error {
			rows, _, _, err := tx.List(nil, "", 100)
			for _, r := range rows {
				out = append(out, r.Number)
			}
			return err
		})
		return out
	}
	if got := strings.Join(numbers(), " "); got != "2026-006 2026-005 2026-004 2026-003 2026-002 2026-001" {
		t.Error(got)
	}
	w.now = start.AddDate(-3, 0, 0)
	view(t, s, func(tx *store.Tx) (err error) { c, err = tx.ClockByUID(clock(2).UID); return err })
	c.Title = "touched"
	update(t, s, func(tx *store.Tx) error { _, err := tx.SaveClock(c); return err })
	if got := numbers()[0]; got != "2026-002" {
		t.Errorf("%s was touched last", got)
	}
	if _, _, h := load(t, s, c.ID); h[0].After != "touched" || h[1].Field != job.CreatedField || h[0].When.After(h[1].When) {
		t.Errorf("%+v", h)
	}
}

func TestListPages(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	if err := storetest.Fill(ctx, s, 230, 3); err != nil {
		t.Fatal(err)
	}
	files := map[string]string{} // the search text by identifier
	for _, f := range storetest.Invented(230, 3) {
		files[f.Clock.UID] = job.SearchText(f.Clock, f.Survey)
	}
	removed := add(t, s, clock(9_000_000))
	removed.Title, removed.Removed = "brass oak", time.Now()
	update(t, s, func(tx *store.Tx) error { _, err := tx.SaveClock(removed); return err })
	for _, query := range []string{"", "brass", "oak møg", "OAK Mog", "2000-00", "zzzz", "100%", "_", `\`, "e", "56/7 30", "1,45"} {
		words := job.Words(query)
		var want []string
		for uid, text := range files {
			if matches(text, words) {
				want = append(want, uid)
			}
		}
		for _, limit := range []int{1, 7, 50, 500} {
			var got []string
			last := time.Time{}
			after := ""
			view(t, s, func(tx *store.Tx) error {
				for {
					rows, next, total, err := tx.List(words, after, limit)
					if err != nil || len(rows) > limit || total != len(want) {
						t.Fatalf("%q by %d: %d rows of %d, want %d (%v)", query, limit, len(rows), total, len(want), err)
					}
					for _, r := range rows {
						got = append(got, r.UID)
						if !last.IsZero() && r.Touched.After(last) {
							t.Errorf("%q by %d: %s stands too late", query, limit, r.Number)
						}
						last = r.Touched
					}
					if next == "" {
						return nil
					}
					after = next
				}
			})
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("%q by %d: %d found, want %d, each once", query, limit, len(got), len(want))
			}
		}
	}
	view(t, s, func(tx *store.Tx) error {
		rows, next, total, err := tx.List(job.Words("brass"), "1", 50)
		if len(rows) > 1 || next != "" || total < 100 {
			t.Errorf("after the end: %d rows, next %q, %d in all", len(rows), next, total)
		}
		return err
	})
}

func TestPromisedAndNumbers(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	for n, promise := range []string{"", "next spring", "24.12.2026", "2026-03-01", "2027-01-01", "  ", "2026-02-01"} {
		c := clock(n + 1)
		c.Promise = promise
		if n == 6 {
			c.Stage = job.GoneHome
		}
		add(t, s, c)
	}
	x := clock(50)
	x.Number, x.Promise = "2025-9 ", "2026-01-01"
	x = add(t, s, x)
	x.Removed = time.Now()
	update(t, s, func(tx *store.Tx) error { _, err := tx.SaveClock(x); return err })
	view(t, s, func(tx *store.Tx) error {
		rows, err := tx.Promised(10)
		var got []string
		for _, r := range rows {
			got = append(got, r.Promise)
		}
		if d := cmp.Diff([]string{"2026-03-01", "24.12.2026", "2027-01-01", "next spring"}, got); d != "" {
			t.Error(d)
		}
		if n, err := tx.Numbers("2025"); err != nil || len(n) != 1 || n[0] != "2025-9 " {
			t.Errorf("%q %v: the number of a removed clock is not free", n, err)
		}
		if n, err := tx.Numbers("2026"); err != nil || len(n) != 7 {
			t.Errorf("%q %v", n, err)
		}
		return err
	})
}

func TestRefused(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	second := add(t, s, clock(2))
	taken, again, bad := clock(3), clock(1), clock(4)
	taken.Number = " 2026-001  "
	again.Number = "other"
	bad.Stage = "lost"
	second.Number = "2026-001"
	var number *store.NumberTakenError
	var faults meas.Faults
	for name, try := range map[string]struct {
		do   func(*store.Tx) error
		want func(error) bool
	}{
		"number taken":       {func(tx *store.Tx) error { _, err := tx.AddClock(taken); return err }, func(err error) bool { return errors.As(err, &number) }},
		"number taken later": {func(tx *store.Tx) error { _, err := tx.SaveClock(second); return err }, func(err error) bool { return errors.As(err, &number) }},
		"number, imported":   {func(tx *store.Tx) error { _, err := tx.ImportClock(job.File{Clock: taken}); return err }, func(err error) bool { return errors.As(err, &number) }},
		"here already":       {func(tx *store.Tx) error { _, err := tx.ImportClock(job.File{Clock: again}); return err }, func(err error) bool { return errors.Is(err, store.ErrUIDTaken) }},
		"faults":             {func(tx *store.Tx) error { _, err := tx.AddClock(bad); return err }, func(err error) bool { return errors.As(err, &faults) && len(faults) == 1 }},
		"no clock":           {func(tx *store.Tx) error { _, err := tx.Clock(99); return err }, func(err error) bool { return errors.Is(err, store.ErrNotFound) }},
		"no clock to save":   {func(tx *store.Tx) error { _, err := tx.SaveClock(job.Clock{ID: 99}); return err }, func(err error) bool { return errors.Is(err, store.ErrNotFound) }},
		"part of no clock":   {func(tx *store.Tx) error { _, err := tx.SavePart(99, "train", job.Part{}); return err }, func(err error) bool { return errors.Is(err, store.ErrNotFound) }},
		"bad part":           {func(tx *store.Tx) error { _, err := tx.SavePart(c.ID, "../x", job.Part{}); return err }, func(err error) bool { return errors.As(err, &faults) }},
		"row not numbered": {func(tx *store.Tx) error {
			x := clock(5)
			x.Pieces = []job.Piece{{N: 1, What: "key"}, {N: 1, What: "weight"}, {What: "bob"}}
			_, err := tx.ImportClock(job.File{Clock: x})
			return err
		}, func(err error) bool { return errors.As(err, &faults) && len(faults) == 2 }},
		"after some": {func(tx *store.Tx) error {
			if _, err := tx.AddClock(clock(77)); err != nil {
				return err
			}
			return errors.New("stop")
		}, func(err error) bool { return err.Error() == "stop" }},
	} {
		if err := s.Update(ctx, "B", try.do); err == nil || !try.want(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	view(t, s, func(tx *store.Tx) error {
		_, _, total, err := tx.List(nil, "", 10)
		if total != 2 {
			t.Errorf("%d clocks stand: what was refused left something", total)
		}
		return err
	})
	if err := s.View(ctx, func(tx *store.Tx) error { _, err := tx.AddClock(clock(8)); return err }); err == nil {
		t.Error("a look has written")
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
