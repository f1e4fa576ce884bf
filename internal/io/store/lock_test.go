package store_test

import (
	"bufio"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatboard/internal/io/store"
)

func TestSecondOwnerIsRefused(t *testing.T) {
	dir := t.TempDir()
	c := child("hold", dir, "")
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "ready\n" {
		t.Fatalf("%q %v", line, err)
	}
	for _, o := range []store.Options{{}, {ReadOnly: true}} {
		_, err = store.Open(ctx, dir, o)
		var inUse *store.InUseError
		if !errors.As(err, &inUse) || inUse.PID != c.Process.Pid || inUse.Dir != dir {
			t.Errorf("%+v: %v, want that process %d has %s", o, err, c.Process.Pid, dir)
		}
	}
	if err := in.Close(); err != nil {
		t.Fatal(err)
	}
	if err := c.Wait(); err != nil {
		t.Fatal(err)
	}
	s := open(t, dir, store.Options{})
	if s.Health().Unclean {
		t.Error("it was closed in order")
	}
	var inUse *store.InUseError
	if _, err := store.Open(ctx, dir, store.Options{}); !errors.As(err, &inUse) || inUse.PID != os.Getpid() {
		t.Errorf("twice in one process: %v", err)
	}
	add(t, s, clock(1)) // the refused ones have taken nothing from the owner
}

func TestStaleLockIsTaken(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{store.LockName: "999999\n", store.OpenMark: ""} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s := open(t, dir, store.Options{})
	if !s.Health().Unclean {
		t.Error("the mark of an unclean end was not seen")
	}
	shut(t, s)
}

// childRaw opens the live database past the lock, as another program might,
// says how many clocks it sees, writes and closes.
func childRaw(dir, _ string) error {
	db, err := store.Connect(filepath.Join(dir, store.DBName), store.Live)
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	var n int
	if err := db.QueryRow(`SELECT count(*) FROM clock`).Scan(&n); err != nil {
		return err
	}
	if _, err := db.Exec(`UPDATE counter SET value = value + 1`); err != nil {
		return err
	}
	fmt.Println("clocks", n)
	return db.Close()
}

// TestAnotherProgramPastTheLock lets another process open, write and close
// the live database, lock or no lock, after this one has opened and closed
// the file: what is confirmed before and after is there.
func TestAnotherProgramPastTheLock(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	add(t, s, clock(1))
	add(t, s, clock(2))
	openAndClose(t, filepath.Join(dir, store.DBName))
	raw(t, dir, 2)
	for n := 3; n <= 102; n++ {
		add(t, s, clock(n))
	}
	raw(t, dir, 102)
	whole(t, s)
}

// openAndClose does what drops every POSIX lock a process has on a file.
func openAndClose(t *testing.T, path string) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

func raw(t *testing.T, dir string, want int) {
	t.Helper()
	out, err := child("raw", dir, "").Output()
	if got := strings.TrimSpace(string(out)); err != nil || got != fmt.Sprint("clocks ", want) {
		t.Errorf("another process: %q %v, want %d clocks", got, err, want)
	}
}

// TestConnections reads back what every connection must be set to.
func TestConnections(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	add(t, s, clock(1))
	db, err := store.Connect(filepath.Join(dir, store.DBName), store.Live)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for pragma, want := range map[string]string{
		"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "trusted_schema": "0", "cell_size_check": "1",
		"mmap_size": "0", "busy_timeout": "5000", "journal_size_limit": "67108864", "fullfsync": "1", "checkpoint_fullfsync": "1",
	} {
		var got sql.NullString
		if err := db.QueryRow(`PRAGMA ` + pragma).Scan(&got); (err != nil && pragma != "mmap_size") || (got.Valid && got.String != want) {
			t.Errorf("%s is %q, want %q (%v)", pragma, got.String, want, err)
		}
	}
	if _, err := db.Exec(`SELECT "no such column"`); err == nil {
		t.Error("a name in double quotes was taken for a text")
	}
	if _, err := db.Exec(`PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = ''`); err == nil {
		t.Error("the schema can be written to")
	}
	if _, err := db.Exec(`INSERT INTO holder VALUES (99, 1, 0, '', '', '', '', '')`); err == nil {
		t.Error("a row that belongs to no clock was taken")
	}
}
