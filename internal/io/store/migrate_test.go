package store_test

import (
	"compress/gzip"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

var keep = flag.Bool("keep", false, "keep a database of the newest version in testdata, where there is none yet")

// released are the versions of the schema that shops may have; testdata has a
// database of each, and none is ever made anew.
var released = []int{1, 2}

// oldClocks is how many invented clocks the databases in testdata have.
const oldClocks = 4

// TestReleasedVersions opens a database of every version that was released.
func TestReleasedVersions(t *testing.T) {
	for _, version := range released {
		kept := filepath.Join("testdata", fmt.Sprintf("version-%d.db.gz", version))
		if _, err := os.Stat(kept); err != nil && *keep {
			keepVersion(t, kept)
		}
		dir := t.TempDir()
		unpack(t, kept, filepath.Join(dir, store.DBName))
		if err := store.Verify(ctx, filepath.Join(dir, store.DBName), ""); err != nil {
			t.Errorf("version %d: a released migration was changed: %v", version, err)
		}
		s := open(t, dir, store.Options{})
		whole(t, s)
		wholeListenings(t, s, version)
		for i, f := range storetest.Invented(oldClocks, 1) {
			var c job.Clock
			view(t, s, func(tx *store.Tx) (err error) { c, err = tx.ClockByUID(f.Clock.UID); return err })
			got, v, h := load(t, s, c.ID)
			if got.Title != f.Clock.Title || got.Object != f.Clock.Object || got.Owner != f.Clock.Owner || got.Promise != f.Clock.Promise ||
				len(got.Pieces) != len(f.Clock.Pieces) || len(got.Holders) != len(f.Clock.Holders) {
				t.Errorf("version %d, clock %d is not as it was: %+v", version, i, got)
			}
			for key, p := range f.Survey {
				for name := range p.Values {
					if v[key].Value(name) != p.Value(name) {
						t.Errorf("version %d, clock %d: %s %s is %q", version, i, key, name, v[key].Value(name))
					}
				}
			}
			if len(h) < 5 {
				t.Errorf("version %d, clock %d: %d changes", version, i, len(h))
			}
			got.Title += " still"
			update(t, s, func(tx *store.Tx) error { _, err := tx.SaveClock(got); return err })
		}
	}
}

// keepVersion writes the database that testdata keeps of a version.
func keepVersion(t *testing.T, kept string) {
	t.Helper()
	w := &wall{time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	s := open(t, t.TempDir(), store.Options{Now: w.Now})
	if err := storetest.Fill(ctx, s, oldClocks, 1); err != nil {
		t.Fatal(err)
	}
	if err := storetest.FillListenings(ctx, s, oldClocks, 1); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "copy.db")
	snapshot(t, s, file)
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll("testdata", 0o755); err != nil {
		t.Fatal(err)
	}
	out, err := os.OpenFile(kept, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	z := gzip.NewWriter(out)
	_, err = z.Write(b)
	if err := errors.Join(err, z.Close(), out.Close()); err != nil {
		t.Fatal(err)
	}
}

func unpack(t *testing.T, from, to string) {
	t.Helper()
	f, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

// with is our migrations and further ones, as a later program would have.
func with(t *testing.T, more map[string]string) fs.FS {
	t.Helper()
	all := fstest.MapFS{}
	ours := os.DirFS("migrations/sqlite")
	names, err := fs.Glob(ours, "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(ours, name)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = &fstest.MapFile{Data: b}
	}
	for name, text := range more {
		all[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return all
}

// TestMigration copies the records before it changes their tables. A
// migration that fails leaves them as they were, as often as it is tried.
func TestMigration(t *testing.T) {
	dir := t.TempDir()
	w := &wall{time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)} // stands still: names must not collide
	o := store.Options{Now: w.Now}
	s := open(t, dir, o)
	c := add(t, s, clock(1))
	shut(t, s)
	if names := inside(t, dir); strings.Contains(strings.Join(names, " "), store.CopiesDir) {
		t.Error("there was nothing to copy before the first migration")
	}
	copies := filepath.Join(dir, store.CopiesDir)
	bad := with(t, map[string]string{"09998_bad.sql": "-- +goose Up\nALTER TABLE clock ADD COLUMN price TEXT;\nDROP TABLE change;\nALTER TABLE no_such ADD COLUMN x TEXT;\n"})
	for range 2 {
		if s, err := store.OpenWith(ctx, dir, o, bad); err == nil {
			shut(t, s)
			t.Fatal("a migration that fails was taken for done")
		}
	}
	if n := len(inside(t, copies)); n != 2 {
		t.Errorf("%d copies after two tries", n)
	}
	s = open(t, dir, o)
	same(t, s, c, job.Survey{})
	if _, _, h := load(t, s, c.ID); len(h) != 1 {
		t.Errorf("%d changes after a migration that failed", len(h))
	}
	shut(t, s)

	good := with(t, map[string]string{"09998_price.sql": "-- +goose Up\nALTER TABLE clock ADD COLUMN price TEXT NOT NULL DEFAULT '';\n"})
	s, err := store.OpenWith(ctx, dir, o, good)
	if err != nil {
		t.Fatal(err)
	}
	same(t, s, c, job.Survey{})
	shut(t, s)
	noLeftovers(t, copies)
	for _, name := range inside(t, copies) {
		back := filepath.Join(t.TempDir(), "back")
		if err := store.Restore(ctx, filepath.Join(copies, name), "", back, nil); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		r := open(t, back, o)
		same(t, r, c, job.Survey{})
		shut(t, r)
	}
	var newer *store.FolderError
	for _, o := range []store.Options{o, {ReadOnly: true}} {
		if _, err := store.Open(ctx, dir, o); !errors.As(err, &newer) {
			t.Errorf("%+v: records of a newer program: %v", o.ReadOnly, err)
		}
	}
}

// TestForeignDatabase leaves a workshop.db of another program alone.
func TestForeignDatabase(t *testing.T) {
	dir := t.TempDir()
	db, err := store.Connect(filepath.Join(dir, store.DBName), store.Live)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`CREATE TABLE recipe (name TEXT)`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	var folder *store.FolderError
	if _, err := store.Open(ctx, dir, store.Options{}); !errors.As(err, &folder) {
		t.Errorf("another's database was opened: %v", err)
	}
}

// TestCancelled gives up when it is told to, and keeps nothing of it.
func TestCancelled(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	done, cancel := context.WithCancel(ctx)
	err := s.Update(done, "A", func(tx *store.Tx) error {
		_, err := tx.AddClock(clock(1))
		cancel()
		return err
	})
	if err == nil {
		t.Error("a cancelled change was confirmed")
	}
	out := t.TempDir()
	if _, err := s.Snapshot(done, filepath.Join(out, "copy.db"), nil); err == nil || len(inside(t, out)) != 0 {
		t.Errorf("a cancelled copy: %v %v", err, inside(t, out))
	}
	view(t, s, func(tx *store.Tx) error {
		_, _, total, err := tx.List(nil, "", 1)
		if total != 0 {
			t.Error("something was kept")
		}
		return err
	})
	add(t, s, clock(1))
}
