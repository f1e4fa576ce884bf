// Package check has the helpers of the tests: printed figures ([Printed],
// [All]), golden files ([Golden]) and shared data that may be absent
// ([Shared]). Only tests import it.
package check

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/kit/cite"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Printed fails the test unless got rounds to the figure as printed.
func Printed(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	want, half, err := cite.PrintedNumber(printed)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got-want) > half*(1+1e-9) {
		t.Errorf("%s: got %v, printed %s", what, got, printed)
	}
}

// Near fails the test unless got is within tol of want.
func Near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tol)
	}
}

// All fails the test for each check that does not hold.
func All(t *testing.T, checks []cite.Check) {
	t.Helper()
	if len(checks) == 0 {
		t.Fatal("there are no checks")
	}
	for _, c := range checks {
		if !c.Holds() {
			t.Errorf("%s (%s): printed %s, ours %v, misprint %v", c.What, c.Ref, c.Printed, c.Got, c.Misprint)
		}
		if c.Ref.Source != "" {
			if _, ok := cite.Find(c.Ref.Source); !ok {
				t.Errorf("%s: the source %q is not in the bibliography", c.What, c.Ref.Source)
			}
		}
	}
}

// Golden compares got with testdata/name; with -update it writes it.
func Golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run the test with -update to write it)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", path, diff)
	}
}

// Shared is the path of a file in the folder of shared data beside the
// project, and skips the test, saying so, where it is absent.
func Shared(t *testing.T, parts ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = up
	}
	path := filepath.Join(append([]string{dir, "..", "shared"}, parts...)...)
	if _, err := os.Stat(path); err != nil {
		t.Skipf("shared data %v is not on this machine", filepath.Join(parts...))
	}
	return path
}
