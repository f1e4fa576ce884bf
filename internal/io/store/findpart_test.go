package store_test

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

// benchParts is how many parts each clock of the measurement has.
const benchParts = 50

// findParts are the whole numbers found.
func findParts(t testing.TB, s *store.Store, query string, most int) (whole []string, more bool) {
	t.Helper()
	err := s.View(t.Context(), func(tx *store.Tx) error {
		found, m, err := tx.FindParts(job.Words(query), most)
		for _, p := range found {
			whole = append(whole, p.Whole())
		}
		more = m
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return whole, more
}

func indexed(t testing.TB, s *store.Store, clock int64, all ...parts.Part) {
	t.Helper()
	if err := s.Update(t.Context(), "tester", func(tx *store.Tx) error { return tx.IndexParts(clock, all) }); err != nil {
		t.Fatal(err)
	}
}

func part(n parts.Number, name, place string) parts.Part {
	return parts.Part{Number: n, Detail: parts.Detail{Name: name, Place: place}, Count: 1, State: parts.Off}
}

func TestFindParts(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	one, two := clock(1), clock(2)
	one.Number, one.Owner.Name, two.Number, two.Owner.Name = "2026-012", "Møller’s niece", "7.5", "the reading room"
	one.UID, two.UID = strings.Repeat("1", 16), strings.Repeat("2", 16)
	one, two = add(t, s, one), add(t, s, two)
	spring := part("2.1", "Click spring", "bag 4")
	spring.Mark = "two dots, façade"
	indexed(t, s, one.ID, part("1", "third wheel", "tray 1"), part("2", "click", "bag 4"), spring, part("20", "fly", "tray 3"))
	indexed(t, s, two.ID, part("1", "third wheel", "tray 3"))
	for query, want := range map[string]string{
		"third wheel":        "7.5.1 2026-012.1", // the one written of last first
		"hird whee":          "7.5.1 2026-012.1",
		"THIRD tray":         "7.5.1 2026-012.1",
		"tray 3":             "7.5.1 2026-012.20",
		"click spring":       "2026-012.2.1",
		"facade":             "2026-012.2.1",
		"bag 4":              "2026-012.2.1 2026-012.2",
		"third niece":        "2026-012.1", // a word of its clock's file
		"moller wheel third": "2026-012.1",
		"third 2026-012":     "2026-012.1",
		"third reading":      "7.5.1",
		"2026-012.2.1":       "2026-012.2.1",
		"012.2":              "2026-012.2 2026-012.2.1 2026-012.20",
		"2026-012. fly":      "2026-012.20",
		"7.5.1":              "7.5.1", // a clock's number may have dots
		"7.5.2":              "",
		"niece":              "", // a clock, and no part
		"third nobody":       "",
		"%":                  "",
		"":                   "",
	} {
		if got, _ := findParts(t, s, query, 10); strings.Join(got, " ") != want {
			t.Errorf("%q finds %v, want %s", query, got, want)
		}
	}
	if got, more := findParts(t, s, "third", 1); len(got) != 1 || !more {
		t.Errorf("one of two: %v %v", got, more)
	}
	moved := part("1", "third wheel", "box 9") // renamed, moved, undone: only what stands is found
	indexed(t, s, one.ID, moved, part("2", "click", "bag 4"))
	for query, want := range map[string]string{"tray 1": "", "box 9": "2026-012.1", "click spring": "", "third": "2026-012.1 7.5.1"} {
		if got, _ := findParts(t, s, query, 10); strings.Join(got, " ") != want {
			t.Errorf("afterwards %q finds %v, want %s", query, got, want)
		}
	}
	two.Removed = two.Touched
	if err := s.Update(t.Context(), "tester", func(tx *store.Tx) error { _, err := tx.SaveClock(two); return err }); err != nil {
		t.Fatal(err)
	}
	if got, _ := findParts(t, s, "third", 10); strings.Join(got, " ") != "2026-012.1" {
		t.Errorf("a part of a clock that was removed is found: %v", got)
	}
}

// What is found is what a look at every part finds, however the words are
// shared between a part and its clock.
func TestFindPartsIsWhole(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	const clocks = 12
	if err := storetest.Fill(t.Context(), s, clocks, 5); err != nil {
		t.Fatal(err)
	}
	if err := storetest.FillParts(t.Context(), s, clocks, 30, 5); err != nil {
		t.Fatal(err)
	}
	files := storetest.Invented(clocks, 5)
	rapid.Check(t, func(rt *rapid.T) {
		var words []string
		for range rapid.IntRange(1, 3).Draw(rt, "words") {
			w := rapid.SampledFrom([]string{"third", "wheel", "spring", "tray", "bag", "1", "12", "3", "brass", "2000-00", "worn", "oak", "e", "click", "longcase"}).Draw(rt, "word")
			words = append(words, w)
		}
		query := strings.Join(words, " ")
		var want []string
		for i, f := range files {
			file := job.SearchText(f.Clock, f.Survey)
			for _, p := range storetest.InventedParts(30, 5+uint64(i+1)) {
				line := job.Fold(strings.Join([]string{p.Name, p.Place, p.Repair, p.Note}, " "))
				own, all := false, true
				for _, w := range job.Words(query) {
					own = own || strings.Contains(line, w)
					all = all && (strings.Contains(line, w) || strings.Contains(file, w))
				}
				if own && all {
					want = append(want, p.Number.Of(f.Clock.Number))
				}
			}
		}
		got, more := findParts(t, s, query, 1000)
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) || more {
			rt.Fatalf("%q: %d found, %d stand there\n%v\n%v", query, len(got), len(want), got, want)
		}
	})
}

// Clocks whose ledger a program wrote that kept no parts to be found are
// listed until they are read.
func TestLedgersOfBeforeAreToBeRead(t *testing.T) {
	before := fstest.MapFS{}
	ours := os.DirFS("migrations/sqlite")
	names, err := fs.Glob(ours, "0000[1-8]_*.sql")
	if err != nil || len(names) != 8 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(ours, name)
		if err != nil {
			t.Fatal(err)
		}
		before[name] = &fstest.MapFile{Data: b}
	}
	dir := t.TempDir()
	s, err := store.OpenWith(ctx, dir, store.Options{}, before)
	if err != nil {
		t.Fatal(err)
	}
	c, bare := add(t, s, clock(1)), add(t, s, clock(2))
	update(t, s, func(tx *store.Tx) error {
		_, err := store.Append(tx, store.Log{Book: "parts", Name: c.UID, ClockID: c.ID}, parts.Event{Entry: ledger.Entry{N: 1, Who: "A"}, Kind: parts.Recorded, Part: "1", Count: 1, To: parts.Off})
		return err
	})
	shut(t, s)
	s = open(t, dir, store.Options{})
	unread := func() (out []int64) {
		view(t, s, func(tx *store.Tx) (err error) { out, err = tx.UnreadParts(10); return err })
		return out
	}
	if got := unread(); !slices.Equal(got, []int64{c.ID}) {
		t.Errorf("to be read: %v, want clock %d and not %d", got, c.ID, bare.ID)
	}
	indexed(t, s, c.ID, part("1", "third wheel", "tray 1"))
	if got := unread(); len(got) != 0 {
		t.Errorf("read, and still listed: %v", got)
	}
}

// BenchmarkFindParts looks for parts as one types, among 10,000 clocks with 50
// parts each. The goal is 10 ms.
//
//	go test ./internal/io/store -run '^$' -bench FindParts -benchtime 100x
func BenchmarkFindParts(b *testing.B) {
	s := open(b, b.TempDir(), store.Options{})
	if err := storetest.Fill(b.Context(), s, benchClocks, 1); err != nil {
		b.Fatal(err)
	}
	if err := storetest.FillParts(b.Context(), s, benchClocks, benchParts, 1); err != nil {
		b.Fatal(err)
	}
	findParts(b, s, "wheel", 8) // the lines are read once
	for name, query := range map[string]string{
		"name": "third wheel", "as-typed": "thi", "spring": "click spring", "place": "tray 17", "both": "click spring bag 12", "none": "zzzz", "apart": "third spring",
		"number": "2013-117.2", "of-clock": "third wheel 2013-117", "of-owner": "rosksund third", "note": "farnwick 4711", "one-letter": "e wheel",
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				findParts(b, s, query, 8)
			}
		})
	}
	b.Run("Index", func(b *testing.B) { // one part of fifty is written of
		all := storetest.InventedParts(benchParts, 2)
		i := 0
		for b.Loop() {
			i++
			all[3].Place = "tray " + strings.Repeat("i", i%7)
			indexed(b, s, 1, all...)
		}
	})
}
