package form

import (
	"errors"
	"strings"
	"testing"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

type shape string

type query struct {
	length meas.Reading[unit.Length]
	shape  shape
	falls  int
	rows   [][]string
}

func declared(q *query) Form {
	return Form{Name: "test", Groups: []Group{{Fields: []Field{
		Quantity("length", "Length of the rod", "mm", &q.length),
		Choice("shape", "Shape of the bob", &q.shape, Option{"lens", "Lens"}, Option{"disc", "Disc"}),
		Whole("falls", "Falls of line", &q.falls, 1, 8),
		Table("going", "Going train", 4, []Column{{Name: "wheel"}, {Name: "pinion"}}, func(rows [][]string) meas.Faults {
			q.rows = rows
			if rows[0][0] == "sixty" {
				return meas.Faults{{Field: CellName("going", 1, "wheel"), Text: "“sixty” is not a count"}}
			}
			return nil
		}),
	}}}}
}

func TestFill(t *testing.T) {
	var q query
	faults := declared(&q).Fill(map[string][]string{
		"length": {" 994,5 "}, "shape": {"Lens"}, "falls": {"2"},
		"going.1.wheel": {"96"}, "going.2.pinion": {"8"}, "other": {"ignored"},
	})
	if len(faults) != 0 {
		t.Fatal(faults)
	}
	if q.length.Value.MM() != 994.5 || q.length.Entered != "994,5" || q.shape != "lens" || q.falls != 2 {
		t.Errorf("got %+v", q)
	}
	if len(q.rows) != 2 || q.rows[0][0] != "96" || q.rows[1][1] != "8" {
		t.Errorf("grid %v", q.rows)
	}
}

func TestFillNamesEveryMistake(t *testing.T) {
	var q query
	faults := declared(&q).Fill(map[string][]string{
		"length": {"39.14 kg"}, "shape": {"banana"}, "falls": {"9"}, "going.1.wheel": {"sixty"},
	})
	want := []struct{ field, part string }{
		{"length", "kg"}, {"shape", "lens, disc"}, {"falls", "1 to 8"}, {"going.1.wheel", "sixty"},
	}
	if len(faults) != len(want) {
		t.Fatalf("got %d faults: %v", len(faults), faults)
	}
	for i, w := range want {
		if faults[i].Field != w.field || !strings.Contains(faults[i].Text, w.part) {
			t.Errorf("fault %d: %+v, want %v", i, faults[i], w)
		}
	}
	if q.length.Set {
		t.Error("a mistaken length was kept as a value")
	}
}

func TestParsedSpreadsFaults(t *testing.T) {
	f := Form{Groups: []Group{{Fields: []Field{Parsed("a", "A", twoFaults{})}}}}
	faults := f.Fill(map[string][]string{"a": {"x"}})
	if len(faults) != 2 || faults[1] != (meas.Fault{Field: "a", Text: "A: two"}) {
		t.Errorf("got %v", faults)
	}
}

type twoFaults struct{}

func (twoFaults) UnmarshalText([]byte) error {
	return errors.Join(meas.Faults{{Text: "one"}, {Text: "two"}})
}

func TestKnownKeepsWhatWasTyped(t *testing.T) {
	var q query
	got := declared(&q).Known(map[string][]string{"length": {"half a foot"}, "token": {"x"}, "going.3.wheel": {"7e"}, "falls": {" "}})
	if len(got) != 2 || got["length"][0] != "half a foot" || got["going.3.wheel"][0] != "7e" {
		t.Errorf("got %v", got)
	}
}
