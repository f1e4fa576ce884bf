package store_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
)

// childEnv says what the test binary does when it is run as another process;
// its folder and its round stand behind it, separated by line feeds.
const childEnv = "SEATBOARD_STORE_CHILD"

// children is what another process can be asked to do.
var children = map[string]func(dir, round string) error{
	"save": childSave,
	"hold": childHold,
	"raw":  childRaw,
	"full": childFull,
	"take": childTake,

	"backup":  childBackup,
	"restore": childRestore,
}

func TestMain(m *testing.M) {
	what := os.Getenv(childEnv)
	if what == "" {
		os.Exit(m.Run())
	}
	part := strings.SplitN(what, "\n", 3)
	if err := children[part[0]](part[2], part[1]); err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// child prepares the test binary as another process.
func child(what, dir, round string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), childEnv+"="+what+"\n"+round+"\n"+dir)
	c.Stderr = os.Stderr
	return c
}

// childHold holds the folder until its input ends.
func childHold(dir, _ string) error {
	s, err := store.Open(context.Background(), dir, store.Options{})
	if err != nil {
		return err
	}
	fmt.Println("ready")
	_, _ = bufio.NewReader(os.Stdin).ReadString('\n')
	return s.Close()
}

// ctx is the context of tests that do not cancel.
var ctx = context.Background()

// open opens a store that the test closes.
func open(t testing.TB, dir string, o store.Options) *store.Store {
	t.Helper()
	s, err := store.Open(ctx, dir, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // most tests have closed it by then
	return s
}

// shut closes a store in order.
func shut(t testing.TB, s *store.Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// update makes a change that must be taken.
func update(t testing.TB, s *store.Store, f func(*store.Tx) error) {
	t.Helper()
	if err := s.Update(ctx, "A. Restorer", f); err != nil {
		t.Fatal(err)
	}
}

// view looks at records that must be there.
func view(t testing.TB, s *store.Store, f func(*store.Tx) error) {
	t.Helper()
	if err := s.View(ctx, f); err != nil {
		t.Fatal(err)
	}
}

// clock is an invented clock with the number n.
func clock(n int) job.Clock {
	return job.Clock{UID: fmt.Sprintf("%016x", n), Number: fmt.Sprintf("2026-%03d", n), Title: fmt.Sprintf("Longcase clock %d", n), Stage: job.TakingIn, Invented: true}
}

// add takes a clock into the book.
func add(t testing.TB, s *store.Store, c job.Clock) job.Clock {
	t.Helper()
	update(t, s, func(tx *store.Tx) (err error) { c, err = tx.AddClock(c); return err })
	return c
}

// load reads a clock.
func load(t testing.TB, s *store.Store, id int64) (c job.Clock, v job.Survey, h []job.Change) {
	t.Helper()
	view(t, s, func(tx *store.Tx) (err error) {
		if c, err = tx.Clock(id); err != nil {
			return err
		}
		if v, err = tx.Survey(id); err != nil {
			return err
		}
		h, err = tx.Changes(id)
		return err
	})
	return c, v, h
}

// whole checks the live records.
func whole(t testing.TB, s *store.Store) {
	t.Helper()
	if p, err := s.Check(ctx); err != nil || len(p) > 0 {
		t.Fatalf("check: %v %v", p, err)
	}
}

// inside lists a folder.
func inside(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// noLeftovers fails if an unfinished copy lies in a folder.
func noLeftovers(t testing.TB, dir string) {
	t.Helper()
	for _, name := range inside(t, dir) {
		if strings.HasPrefix(name, store.Temp) {
			t.Errorf("%s was left in %s", name, filepath.Base(dir))
		}
	}
}

// wall is a clock on the wall that a test sets.
type wall struct{ now time.Time }

func (w *wall) Now() time.Time { return w.now }
