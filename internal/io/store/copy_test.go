package store_test

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
	"seatboard/internal/kit/progress"
)

// snapshot writes a copy that must succeed.
func snapshot(t testing.TB, s *store.Store, target string) string {
	t.Helper()
	sum, err := s.Snapshot(ctx, target, nil)
	if err != nil {
		t.Fatal(err)
	}
	return sum
}

func TestSnapshot(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	out := t.TempDir()
	target := filepath.Join(out, "copy 1?.db")
	sum := snapshot(t, s, target)
	b, err := os.ReadFile(target)
	if err != nil {
		t.Fatal(err)
	}
	if got := sha256.Sum256(b); hex.EncodeToString(got[:]) != sum {
		t.Error("the SHA-256 is not the file's")
	}
	if info, err := os.Stat(target); err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("others may read the copy: %v %v", info.Mode(), err)
	}
	var taken *store.CopyError
	if _, err := s.Snapshot(ctx, target, nil); !errors.As(err, &taken) {
		t.Errorf("a target that exists: %v", err)
	}
	if _, err := s.Snapshot(ctx, filepath.Join(out, "no", "such", "folder.db"), nil); err == nil {
		t.Error("a folder that does not exist was taken")
	}
	if after, err := os.ReadFile(target); err != nil || string(after) != string(b) {
		t.Error("a refused copy changed the one that was there")
	}
	if names := inside(t, out); len(names) != 1 {
		t.Errorf("left behind: %v", names)
	}
	restored := filepath.Join(t.TempDir(), "shop")
	if err := store.Restore(ctx, target, sum, restored, nil); err != nil {
		t.Fatal(err)
	}
	r := open(t, restored, store.Options{})
	same(t, r, c, job.Survey{})
	shut(t, r)
	var folder *store.FolderError
	if err := store.Restore(ctx, target, sum, restored, nil); !errors.As(err, &folder) {
		t.Errorf("restored over records: %v", err)
	}
	noLeftovers(t, restored)
}

// TestSnapshotWhileSaving copies while two records that belong together are
// being saved: each copy is whole, and never between the two.
func TestSnapshotWhileSaving(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	if err := storetest.Fill(ctx, s, 300, 5); err != nil {
		t.Fatal(err)
	}
	c := add(t, s, clock(1))
	stop := make(chan struct{})
	var wg sync.WaitGroup
	saves := 0
	wg.Go(func() {
		for n := 1; ; n++ {
			select {
			case <-stop:
				return
			default:
			}
			err := s.Update(ctx, "A", func(tx *store.Tx) (err error) {
				v, err := tx.Survey(c.ID)
				if err != nil {
					return err
				}
				p := v["train"]
				p.Values = map[string][]string{"n": {fmt.Sprint(n)}}
				if _, err := tx.SavePart(c.ID, "train", p); err != nil {
					return err
				}
				c.Title = fmt.Sprint(n)
				c, err = tx.SaveClock(c)
				return err
			})
			if err != nil {
				t.Error(err)
				return
			}
			saves = n
		}
	})
	out := t.TempDir()
	const copies = 12
	for i := range copies {
		snapshot(t, s, filepath.Join(out, fmt.Sprintf("%d.db", i)))
	}
	close(stop)
	wg.Wait()
	if saves < copies {
		t.Errorf("%d saves during %d copies: nothing was tried", saves, copies)
	}
	for i := range copies {
		dir := filepath.Join(t.TempDir(), "r")
		if err := store.Restore(ctx, filepath.Join(out, fmt.Sprintf("%d.db", i)), "", dir, nil); err != nil {
			t.Fatal(err)
		}
		r := open(t, dir, store.Options{})
		got, v, h := load(t, r, c.ID)
		if n := v["train"].Value("n"); i > 0 && n != got.Title || len(h) != got.Version+v["train"].Version {
			t.Errorf("copy %d: title %q, part %q, version %d, %d changes", i, got.Title, n, got.Version, len(h))
		}
		shut(t, r)
	}
	t.Logf("%d copies during %d saves", copies, saves)
}

// TestDamagedCopies changes a copy in many ways. With its SHA-256 each is
// refused; without it, what SQLite's own check finds is refused.
func TestDamagedCopies(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	if err := storetest.Fill(ctx, s, 40, 7); err != nil {
		t.Fatal(err)
	}
	target := filepath.Join(t.TempDir(), "copy.db")
	sum := snapshot(t, s, target)
	whole, err := os.ReadFile(target)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	damaged := filepath.Join(t.TempDir(), "damaged.db")
	found := 0
	const tries = 150
	for i := range tries {
		b := append([]byte(nil), whole...)
		switch i % 3 {
		case 0:
			b[r.IntN(len(b))] ^= 1 << r.IntN(8)
		case 1:
			b = b[:r.IntN(len(b))]
		case 2:
			from, to := r.IntN(len(b)/4096)*4096, r.IntN(len(b)/4096)*4096
			copy(b[from:from+4096], whole[to:to+4096])
			if string(b) == string(whole) {
				continue
			}
		}
		if err := os.WriteFile(damaged, b, 0o600); err != nil {
			t.Fatal(err)
		}
		var refused *store.CopyError
		if err := store.Verify(ctx, damaged, sum); !errors.As(err, &refused) {
			t.Fatalf("try %d: %v", i, err)
		}
		if i == 0 || i%30 == 1 {
			dir := filepath.Join(t.TempDir(), "new")
			if err := store.Restore(ctx, damaged, sum, dir, nil); !errors.As(err, &refused) || refused.File != damaged {
				t.Errorf("try %d restored: %v", i, err)
			}
			for _, name := range inside(t, dir) {
				if name != store.LockName {
					t.Errorf("try %d left %s", i, name)
				}
			}
		}
		if err := store.Verify(ctx, damaged, ""); err != nil {
			found++
		}
	}
	if found < tries/2 {
		t.Errorf("without the SHA-256 only %d of %d were refused", found, tries)
	}
	t.Logf("refused: %d of %d with the SHA-256, %d without it", tries, tries, found)
	if err := store.Verify(ctx, target, sum); err != nil {
		t.Errorf("the copy itself: %v", err)
	}
}

// TestForeignCopies offers databases that are whole, but not as ours are.
func TestForeignCopies(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	add(t, s, clock(1))
	for name, statement := range map[string]string{
		"trigger":       `CREATE TRIGGER eat AFTER INSERT ON clock BEGIN DELETE FROM clock; END`,
		"view":          `CREATE VIEW v AS SELECT 1`,
		"view as table": `DROP TABLE counter; CREATE VIEW counter AS WITH RECURSIVE r(x) AS (SELECT 1 UNION ALL SELECT x+1 FROM r) SELECT 'touch' AS name, x AS value FROM r`,
		"extra table":   `CREATE TABLE more (x)`,
		"no table":      `DROP TABLE clock_search`,
		"column":        `ALTER TABLE piece ADD COLUMN price TEXT`,
		"newer":         `INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, 1)`,
		"not ours":      `PRAGMA application_id = 1`,
		"no reference":  `PRAGMA foreign_keys = OFF; INSERT INTO piece VALUES (99, 1, 0, '', '', '', 0, '')`,
	} {
		file := filepath.Join(t.TempDir(), "copy.db")
		snapshot(t, s, file)
		db, err := sql.Open("sqlite", file)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec(statement); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		var refused *store.CopyError
		if err := store.Verify(ctx, file, ""); !errors.As(err, &refused) || strings.HasSuffix(refused.Why, ".") {
			t.Errorf("%s: %v", name, err)
		} else {
			t.Logf("%s: %s", name, refused.Why)
		}
	}
	for name, text := range map[string]string{"empty": "", "text": "not a database at all, but a letter\n"} {
		file := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		var refused *store.CopyError
		if err := store.Verify(ctx, file, ""); !errors.As(err, &refused) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := store.Verify(ctx, filepath.Join(t.TempDir(), "none"), ""); err == nil {
		t.Error("a copy that is not there was accepted")
	}
}

// TestStepsAreCounted: whoever watches a copy or its return sees all of it.
func TestStepsAreCounted(t *testing.T) {
	dir := t.TempDir()
	s, err := store.Open(t.Context(), filepath.Join(dir, "shop"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var p progress.Counter
	if _, err := s.Snapshot(t.Context(), filepath.Join(dir, "copy.db"), &p); err != nil {
		t.Fatal(err)
	}
	if done, total := p.Sample(); done != total || total == 0 {
		t.Errorf("the copy counted %d of %d steps", done, total)
	}
	var r progress.Counter
	if err := store.Restore(t.Context(), filepath.Join(dir, "copy.db"), "", filepath.Join(dir, "again"), &r); err != nil {
		t.Fatal(err)
	}
	if done, total := r.Sample(); done != total || total == 0 {
		t.Errorf("the return counted %d of %d steps", done, total)
	}
}
